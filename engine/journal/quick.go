package journal

import (
	"bytes"
	"math"
	"strconv"
	"time"

	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// quick reads the lines a journal is nearly all of, just as encode writes them:
// a head, an end, the trees, or an event of a kind, a time, an opening, a reply
// or readings.
// For any other line it gives up, and slow reads it; where it does not, it reads
// what slow would. An event is put into room, and prev, which most lines carry,
// is not copied.
func quick(line []byte, prev string, room *session.Event) (record, bool) {
	q := cursor{rest: line, ok: true}
	var r record
	q.skip(`{"seq":`)
	r.Seq = q.count()
	q.skip(`,"prev":"`)
	r.Prev = prev
	if carried := q.text(); string(carried) != prev {
		r.Prev = string(carried)
	}
	switch {
	case q.at(`,"event":"`):
		*room = session.Event{}
		q.event(room)
		r.Event = room
	case q.at(`,"head":{"format":`):
		r.Head = &Head{Format: q.count()}
		q.skip(`,"version":"`)
		r.Head.Version = string(q.text())
		q.skip(`,"started":"`)
		q.time(&r.Head.Started)
		q.skip(`}`)
	case q.at(`,"trees":"`):
		r.Trees = string(q.text())
		q.ok = q.ok && r.Trees != ""
	case q.at(`,"end":{"exit":`):
		r.End = &End{Exit: q.count()}
		if q.at(`,"finding":"`) {
			r.End.Finding = string(q.text())
		}
		q.skip(`}`)
	default:
		q.ok = false
	}
	q.skip(`}`)
	return r, q.ok && len(q.rest) == 0
}

// event is what follows the key of an event: its kind, a time, an opening, a
// reply or readings.
func (q *cursor) event(e *session.Event) {
	e.Kind = kindOf(q.text())
	if q.at(`,"at":"`) {
		q.time(&e.At)
	}
	if q.at(`,"open":{"audience":"`) {
		e.Open = q.opening()
	}
	if q.at(`,"reply":"`) {
		e.Reply = string(q.text())
	}
	if q.at(`,"read":{`) {
		e.Read = q.readings()
	}
	q.ok = q.ok && e.Kind != ""
}

func (q *cursor) opening() *session.Opening {
	var o session.Opening
	if o.Audience.UnmarshalText(q.text()) != nil {
		q.ok = false
	}
	for _, f := range []struct {
		key string
		to  *string
	}{{`,"equipment":"`, &o.Equipment}, {`,"meter":"`, &o.Meter}, {`,"complaint":"`, &o.Complaint}} {
		if q.at(f.key) {
			*f.to = string(q.text())
		}
	}
	q.skip(`}`)
	return &o
}

func (q *cursor) time(t *time.Time) {
	if t.UnmarshalText(q.text()) != nil {
		q.ok = false
	}
}

// kindOf is a kind's own string, so that known ones take no memory.
func kindOf(word []byte) session.EventKind {
	for _, k := range [...]session.EventKind{session.Start, session.Done, session.Answer, session.Values, session.Acknowledge, session.Unable,
		session.Back, session.Note, session.Text, session.Quit, session.Resume, session.Emergency} {
		if string(word) == string(k) {
			return k
		}
	}
	return session.EventKind(word)
}

// cursor goes through a line; once ok is false nothing it gives counts.
type cursor struct {
	rest []byte
	ok   bool
}

// at passes over a text where it stands next.
func (q *cursor) at(text string) bool {
	if len(q.rest) < len(text) || string(q.rest[:len(text)]) != text {
		return false
	}
	q.rest = q.rest[len(text):]
	return true
}

func (q *cursor) skip(text string) {
	if !q.at(text) {
		q.ok = false
	}
}

// text is a string's inside up to its closing quote: plain ASCII only.
func (q *cursor) text() []byte {
	for i, c := range q.rest {
		switch {
		case c == '"':
			out := q.rest[:i]
			q.rest = q.rest[i+1:]
			return out
		case c < ' ' || c > '~' || c == '\\':
			q.ok = false
			return nil
		}
	}
	q.ok = false
	return nil
}

// digits is a run of digits without a needless nought before it.
func (q *cursor) digits() []byte {
	n := 0
	for n < len(q.rest) && q.rest[n] >= '0' && q.rest[n] <= '9' {
		n++
	}
	out := q.rest[:n]
	q.rest = q.rest[n:]
	if n == 0 || n > 1 && out[0] == '0' {
		q.ok = false
	}
	return out
}

func (q *cursor) count() int {
	d := q.digits()
	n, err := strconv.Atoi(string(d))
	if err != nil || n > math.MaxInt32 {
		q.ok = false
	}
	return n
}

// readings is an object of readings by name, its opening brace passed.
func (q *cursor) readings() map[string]quantity.Reading {
	out := map[string]quantity.Reading{}
	for q.ok {
		q.skip(`"`)
		name := string(q.text())
		q.skip(`:`)
		out[name] = q.reading()
		if !q.at(`,`) {
			break
		}
	}
	q.skip(`}`)
	return out
}

func (q *cursor) reading() quantity.Reading {
	switch {
	case q.at(`null`):
		return quantity.Reading{Missing: true}
	case q.at(`"OL"`):
		return quantity.Reading{OL: true}
	}
	start := q.rest
	q.at(`-`)
	q.digits()
	if q.at(`.`) {
		n := len(q.rest) - len(bytes.TrimLeft(q.rest, "0123456789"))
		if n == 0 {
			q.ok = false
		}
		q.rest = q.rest[n:]
	}
	v, err := strconv.ParseFloat(string(start[:len(start)-len(q.rest)]), 64)
	if err != nil {
		q.ok = false
	}
	return quantity.Reading{Value: v + 0} // -0 becomes 0
}
