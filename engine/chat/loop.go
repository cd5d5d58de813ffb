package chat

import (
	"bufio"
	"errors"
	"io"
	"slices"
	"strings"

	"stepdown/engine/session"
)

// LineReader reads lines from a person or a pipe. ReadLine gives io.EOF at the
// end of input, ErrInterrupted where a person broke off an empty line and
// ErrLongLine for a line that was too long and is gone.
type LineReader interface {
	ReadLine(prompt string) (string, error)
	AddHistory(line string)
	Close() error
}

// Counter is a LineReader that can draw its prompt again while a line is open.
// It asks for the prompt every second until last is true.
type Counter interface {
	ReadCounting(prompt func() (text string, last bool)) (string, error)
}

// Completer is a LineReader that can complete what is typed.
type Completer interface {
	SetComplete(func(line string) []string)
}

// The errors of a LineReader that do not end a call.
var (
	ErrInterrupted = errors.New("interrupted")
	ErrLongLine    = errors.New("line too long")
)

// Loop begins a call with its first event and reads lines until it ends or is
// left; it gives the exit code. The end of input keeps the call. The error is
// the reader's or the writer's.
func (c *Chat) Loop(first session.Event, in LineReader, out io.Writer) (exit int, err error) {
	if completer, ok := in.(Completer); ok {
		completer.SetComplete(c.Complete)
	}
	text := c.Begin(first)
	for {
		if _, err := io.WriteString(out, text); err != nil {
			return c.exit, err
		}
		if c.ended {
			return c.exit, nil
		}
		line, err := c.readLine(in)
		switch {
		case errors.Is(err, io.EOF):
			text = joinLines(c.did(session.Event{Kind: session.Quit}))
			c.ended = true
		case errors.Is(err, ErrInterrupted):
			text = joinLines(append(c.say("Type quit, or Ctrl-D, to leave; the call is kept."), c.above()...))
		case errors.Is(err, ErrLongLine):
			text = c.OneShot(strings.Repeat("x", lineBytesMax+1))
		case err != nil:
			return c.exit, err
		default:
			if c.aside == nil {
				c.remember(in, line)
			}
			text = c.OneShot(line)
		}
	}
}

func (c *Chat) readLine(in LineReader) (string, error) {
	counter, ok := in.(Counter)
	if !ok || c.Style.Plain || c.aside != nil || c.waitLeft() <= 0 {
		return in.ReadLine(c.Prompt())
	}
	return counter.ReadCounting(func() (string, bool) { return c.Prompt(), c.waitLeft() <= 0 })
}

// remember adds a line to the history. A caution's word is to be typed each
// time, and never comes back by an arrow key.
func (c *Chat) remember(in LineReader, line string) {
	q := c.open()
	if strings.TrimSpace(line) != "" && (q.Caution == nil || !q.Caution.Passes(line)) {
		in.AddHistory(line)
	}
}

// Complete gives the words that a line may go on to be; never a caution's.
func (c *Chat) Complete(line string) []string {
	if c.aside != nil {
		return c.aside.Complete(line)
	}
	var words []string
	q := c.open()
	switch {
	case q.Ask != nil && q.Ask.Kind == session.AskMeasure && len(q.Ask.Pairs) > 1:
		words = nicks(append(slices.Clone(q.Ask.Pairs), q.Ask.Given...))
	case q.Ask != nil:
		words = ids(q.Ask.Answers)
	case q.Do != nil:
		words = []string{"done"}
	}
	for _, k := range commands {
		if c.offers(k.name) {
			words = append(words, string(k.name))
		}
	}
	words = append(words, string(cmdHelp))
	var out []string
	for _, w := range words {
		if strings.HasPrefix(w, line) {
			out = append(out, w)
		}
	}
	return out
}

// Lines reads plain lines: from a pipe, or from a person where prompts is set,
// to which each prompt is then written.
func Lines(in io.Reader, prompts io.Writer) LineReader {
	return &lines{in: bufio.NewReaderSize(in, lineBytesMax), prompts: prompts}
}

type lines struct {
	in      *bufio.Reader
	prompts io.Writer
}

// ReadLine reads up to a line feed, and drops it with a carriage return.
func (l *lines) ReadLine(prompt string) (string, error) {
	if l.prompts != nil {
		if _, err := io.WriteString(l.prompts, prompt); err != nil {
			return "", err
		}
	}
	line, err := readLine(l.in, lineBytesMax)
	if errors.Is(err, io.EOF) && l.prompts != nil {
		_, _ = io.WriteString(l.prompts, "\n")
	}
	return line, err
}

func (l *lines) AddHistory(string) {}
func (l *lines) Close() error      { return nil }

// readLine reads one line of at most so many bytes, without its end. A longer
// one is read to its end and dropped, with ErrLongLine. A last line without an
// end counts; io.EOF comes when nothing is left.
func readLine(r *bufio.Reader, most int) (string, error) {
	var b strings.Builder
	long, any := false, false
	for {
		part, err := r.ReadSlice('\n')
		any = any || len(part) > 0
		if b.Len()+len(part) > most+2 {
			long = true
		} else {
			b.Write(part)
		}
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err != nil && !(errors.Is(err, io.EOF) && any):
			return "", err
		case long:
			return "", ErrLongLine
		}
		return strings.TrimSuffix(strings.TrimSuffix(b.String(), "\n"), "\r"), nil
	}
}
