package chat_test

import (
	"errors"
	"io"
	"strings"
	"testing"

	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/session"
)

// spy records events, and fails from one on.
type spy struct {
	events []session.Event
	failAt int // 1 is the first; 0 never
	shown  *strings.Builder
	before []string // what was on the screen at each event
}

func (s *spy) Append(e session.Event) error {
	s.events = append(s.events, e)
	if s.shown != nil {
		s.before = append(s.before, s.shown.String())
	}
	if s.failAt > 0 && len(s.events) >= s.failAt {
		return errors.New("no space left on device")
	}
	return nil
}

// An event is on the record before what follows from it is shown; a line that
// was turned down is no event.
func TestRecordComesFirst(t *testing.T) {
	var out strings.Builder
	rec := &spy{shown: &out}
	c := chat.New(asks(display, board, lockout), chat.Options{Recorder: rec})
	in := chat.Lines(strings.NewReader("blue\nback\nlit\n0.1\n26.8\nunable\n"), nil)
	if exit, err := c.Loop(start(), in, &out); exit != 0 || err != nil {
		t.Fatal(exit, err)
	}
	var kinds []string
	for _, e := range rec.events {
		kinds = append(kinds, string(e.Kind))
	}
	if got := strings.Join(kinds, " "); got != "start answer values values unable" {
		t.Errorf("recorded: %s", got)
	}
	for i, next := range []string{"display show?", "Volts AC", "CAUTION", "CAUTION", "The call is over"} {
		if strings.Contains(rec.before[i], next) {
			t.Errorf("%q was shown before %s was on the record", next, kinds[i])
		}
	}
}

// A record that cannot be written is told at once, once, and the call goes on.
func TestRecordFails(t *testing.T) {
	rec := &spy{failAt: 2}
	c := begun(asks(display, board, lockout), chat.Options{Recorder: rec, Call: "k3"})
	text := c.OneShot("lit")
	told := strings.Index(text, "The record cannot be written: no space left on device. The call goes on")
	if told < 0 || told > strings.Index(text, "Volts AC") {
		t.Errorf("a failed record shows\n%s", text)
	}
	if text := c.OneShot("0.1 26.8"); strings.Contains(text, "cannot be written") || !strings.Contains(text, "CAUTION") {
		t.Errorf("the call goes on with\n%s", text)
	}
	if text := c.OneShot("quit"); !strings.Contains(strings.Join(strings.Fields(text), " "), "only what came before that can be resumed") || strings.Contains(text, "Kept.") {
		t.Errorf("left with\n%s", text)
	}
	if len(rec.events) != 2 {
		t.Errorf("the record was tried again: %d times", len(rec.events))
	}
}

func TestLoop(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"the end of input keeps the call", "lit\n", "Kept. Go on with: stepdown resume k3"},
		{"a last line without its end counts", "lit", "Volts AC"},
		{"carriage returns go", "lit\r\n0.1 26.8\r\n", "CAUTION"},
		{"a long line is one problem", "lit\n" + strings.Repeat("9", 200_000) + "\n0.1 26.8\n", "? that line is longer than 4096 characters"},
		{"and the next line counts", "lit\n" + strings.Repeat("9", 200_000) + "\n0.1 26.8\n", "CAUTION"},
	} {
		var out strings.Builder
		exit, err := chat.New(asks(display, board, lockout), chat.Options{Call: "k3"}).Loop(start(), chat.Lines(strings.NewReader(c.in), nil), &out)
		if exit != 0 || err != nil || !strings.Contains(out.String(), c.want) {
			t.Errorf("%s: exit %d, %v\n%s", c.name, exit, err, out.String())
		}
	}
}

// breaks reads lines with interruptions, and fails at the end.
type breaks struct {
	lines   []string
	history []string
}

func (b *breaks) ReadLine(string) (string, error) {
	if len(b.lines) == 0 {
		return "", io.ErrUnexpectedEOF
	}
	l := b.lines[0]
	b.lines = b.lines[1:]
	if l == "^C" {
		return "", chat.ErrInterrupted
	}
	return l, nil
}
func (b *breaks) AddHistory(l string) { b.history = append(b.history, l) }
func (b *breaks) Close() error        { return nil }

func TestLoopInterruptedAndBroken(t *testing.T) {
	var out strings.Builder
	in := &breaks{lines: []string{"^C", "lit", "", "locked"}}
	_, err := chat.New(asks(display, lockout, board), chat.Options{}).Loop(start(), in, &out)
	if !errors.Is(err, io.ErrUnexpectedEOF) || !strings.Contains(out.String(), "Type quit, or Ctrl-D, to leave; the call is kept.") {
		t.Errorf("%v\n%s", err, out.String())
	}
	if got := strings.Join(in.history, "|"); got != "lit" {
		t.Errorf("the history is %q", got)
	}
}

// Tab offers the answers and the commands, never a caution's word.
func TestComplete(t *testing.T) {
	for _, c := range []struct {
		q           session.Effect
		typed, want string
	}{
		{display, "l", "lit low-battery"}, {display, "wh", "why"}, {board, "y", "yc"}, {set, "d", "done"},
		{lockout, "l", ""}, {lockout, "lock", ""}, {words, "he", "help"},
	} {
		got := strings.Join(begun(asks(c.q), chat.Options{}).Complete(c.typed), " ")
		if got != c.want {
			t.Errorf("%q at %s completes to %q, want %q", c.typed, name(c.q), got, c.want)
		}
	}
}

// Commands whose subject nobody attached say so; attached ones are asked.
func TestHooks(t *testing.T) {
	bare := begun(asks(board), chat.Options{})
	for _, word := range []string{"suspects", "expect"} {
		if text := bare.OneShot(word); !strings.Contains(text, "No circuit model is attached") {
			t.Errorf("%s shows\n%s", word, text)
		}
	}
	if text := bare.OneShot("help"); strings.Contains(text, "suspects") || strings.Contains(text, "expect ") {
		t.Errorf("help offers what is not there:\n%s", text)
	}
	c := begun(asks(board), chat.Options{Hooks: chat.Hooks{
		Suspects: func() (session.Explanation, bool) {
			return session.Explanation{RuledOut: 1, Left: []session.Suspect{{Fault: house.OpenY, Probability: 0.8}, {Fault: house.FuseBlown, Probability: 0.004}}}, true
		},
		Expect: func() []string { return []string{"R to C: 24 to 28 V"} },
		Ladder: func() []string { return []string{"  R --[ fuse ]-- C"} },
	}})
	same(t, c.OneShot("suspects"), "  1 suspect ruled out, 2 left.\n    ████████████ 80 %      open-y\n    █            under 1 % fuse-blown\n                 20 %      a slip, or a fault that comes and goes\n")
	same(t, c.OneShot("expect"), "  R to C: 24 to 28 V\n")
	if text := c.OneShot("picture"); !strings.HasSuffix(text, "\n\n  R --[ fuse ]-- C\n") {
		t.Errorf("the ladder is not under the picture:\n%s", text)
	}
	if text := c.OneShot("help"); !strings.Contains(text, "suspects   what can still be wrong") {
		t.Errorf("help leaves out what is there:\n%s", text)
	}
}
