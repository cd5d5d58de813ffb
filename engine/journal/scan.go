package journal

import (
	"bytes"
	"errors"
	"fmt"
	"unicode/utf8"

	"stepdown/engine/session"
	"stepdown/engine/source"
)

// The codes of what can be wrong with a journal.
const (
	CodeTooBig  = "journal-too-big"
	CodeNoHead  = "journal-no-head"
	CodeFormat  = "journal-format"
	CodeBadLine = "journal-bad-line"
	CodeChanged = "journal-changed"
)

// ErrNothing is what a file gives that holds no whole line: the call was
// broken off before its first event was on disk.
var ErrNothing = errors.New("nothing was kept of this call")

// scanner goes through a journal line by line. After it, size bytes are whole
// lines and the next line has number seq and carries prev.
type scanner struct {
	name string
	call Call
	size int
	seq  int
	prev string
	last []byte // the line that prev covers
}

// scan reads a whole journal. A tail that is no line becomes the call's Torn;
// anything else that is wrong is one source.Problem with its place.
func scan(name string, data []byte) (*scanner, error) {
	s := &scanner{name: name}
	if len(data) > bytesMax {
		return nil, s.problem(0, CodeTooBig, fmt.Sprintf("%d bytes is too long for a journal; at most %d are read", len(data), bytesMax), nil)
	}
	var room session.Event
	s.call.Events = make([]session.Event, 0, bytes.Count(data, []byte("\n")))
	for s.size < len(data) {
		rest := data[s.size:]
		end := bytes.IndexByte(rest, '\n')
		if end < 0 {
			break
		}
		r, err := parse(rest[:end], s.prev, &room)
		if err != nil && !anyRecord(rest[end+1:]) {
			break
		}
		if err != nil {
			return nil, s.problem(s.seq+1, CodeBadLine, err.Error(), rest[:end])
		}
		if err := s.take(r, rest[:end]); err != nil {
			return nil, err
		}
		s.size += end + 1
	}
	if s.seq == 0 {
		return nil, fmt.Errorf("%s: %w", source.Clean(name), ErrNothing)
	}
	if s.size < len(data) {
		s.call.Torn = bytes.Clone(data[s.size:])
	}
	return s, nil
}

// anyRecord tells whether one of the lines is a record, so that what stands
// before it is damage and not a tail.
func anyRecord(data []byte) bool {
	var room session.Event
	for line := range bytes.Lines(data) {
		if _, err := parse(bytes.TrimSuffix(line, []byte("\n")), "", &room); err == nil {
			return true
		}
	}
	return false
}

// take checks that r is the next line and adds it to the call.
func (s *scanner) take(r record, line []byte) error {
	switch {
	case r.Seq != s.seq:
		return s.problem(s.seq+1, CodeChanged, fmt.Sprintf("line number %d stands where %d belongs: lines were taken out or put in", r.Seq, s.seq), line)
	case r.Prev != s.prev:
		return s.problem(s.seq, CodeChanged, "this line was changed after it was written: the next line carries another checksum", s.last)
	case (r.Head != nil) != (s.seq == 0):
		return s.problem(s.seq+1, CodeNoHead, "a journal has one head, on its first line", line)
	case r.Head != nil && (r.Head.Format < 1 || r.Head.Format > Format):
		return s.problem(1, CodeFormat, fmt.Sprintf("journal format %d is not known here; up to %d is", r.Head.Format, Format), line)
	case r.Closed != nil && s.call.End == nil:
		return s.problem(s.seq+1, CodeChanged, "a call is closed after its end", line)
	case s.call.End != nil && r.Closed == nil:
		return s.problem(s.seq+1, CodeChanged, "the call had ended on the line before", line)
	}
	switch {
	case r.Head != nil:
		s.call.Head = *r.Head
	case r.Trees != "":
		s.call.Trees = r.Trees
	case r.End != nil:
		s.call.End = r.End
	case r.Closed != nil:
		s.call.Closed = r.Closed
	default:
		s.call.Events = append(s.call.Events, *r.Event)
	}
	s.seq, s.prev, s.last = s.seq+1, checksum(line), line
	return nil
}

var hints = map[string]string{
	CodeTooBig:  "this file is no call; move it away",
	CodeNoHead:  "move the file away and start a new call",
	CodeFormat:  "open the call with the version of stepdown that wrote it, or a later one",
	CodeBadLine: "nothing after this line can be trusted; put back an unchanged copy, or start a new call",
	CodeChanged: "put back an unchanged copy, or start a new call",
}

func (s *scanner) problem(line int, code, message string, text []byte) error {
	p := source.Problem{Pos: source.Pos{File: s.name}, Code: code, Message: message, Hint: hints[code]}
	if line > 0 {
		p.Pos.Line, p.Pos.Col = line, 1
		p.Line, p.Width = string(text), max(1, utf8.RuneCount(text))
	}
	return source.Problems{p}
}
