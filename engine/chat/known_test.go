package chat_test

import (
	"strings"
	"testing"

	"stepdown/engine/chat"
	"stepdown/engine/session"
)

// What is known already is taken out of the complaint; what only sounds like it
// stays in.
func TestKnownAtTheStart(t *testing.T) {
	for _, c := range []struct{ line, seen, words string }{
		{"fuse good, 26 at the board, no Y", "fuse-look: good; volts R-C at indoor: 26 V; volts Y-C at indoor: 0 V", ""},
		{"no cooling: fuse good; 26V at board; Y dead", "fuse-look: good; volts R-C at indoor: 26 V; volts Y-C at indoor: 0 V", "no cooling"},
		{"no heat. fuse is good. 26 volts at the board. no y. ", "fuse-look: good; volts R-C at indoor: 26 V; volts Y-C at indoor: 0 V", "no heat"},
		{"ac not cooling fuse good 26 at the board no Y", "fuse-look: good; volts R-C at indoor: 26 V; volts Y-C at indoor: 0 V", "ac not cooling"},
		{"no cool, board has 26, Y has 0", "volts R-C at indoor: 26 V; volts Y-C at indoor: 0 V", "no cool"},
		{"no cool, 26 on R and no Y at the board", "volts R-C at indoor: 26 V; volts Y-C at indoor: 0 V", "no cool"},
		{"no cool, between R and C at the board is 24,6", "volts R-C at indoor: 24.6 V", "no cool"},
		{"the outdoor unit hums, no Y", "outdoor-unit: humming", "no Y"},
		{"no heat and it is 30 outside", "", "no heat and it is 30 outside"},
		{"no heat, 25 indoors", "", "no heat, 25 indoors"},
		{"the ac in room c is dead", "", "the ac in room c is dead"},
		{"the thermostat is blank and there is no cooling", "", "the thermostat is blank and there is no cooling"},
		{"the fault light is on", "", "the fault light is on"},
		{"the thermostat is blank, no Y at the board", "display: blank; volts Y-C at indoor: 0 V", ""},
		{"ac not cooling, fuse good and 26.8v at the air handler", "fuse-look: good; volts R-C at indoor: 26.8 V", "ac not cooling"},
		{"not cooling but the blower is running", "indoor-fan: running", "not cooling"},
		{"24 volts at the thermostat, no heat", "volts R-C at thermostat: 24 V", "no heat"},
		{"no heat, Y to C at the furnace is 0.1", "volts Y-C at indoor: 0.1 V", "no heat"},
		{"thermostat is blank", "", "thermostat is blank"},
		{"the fan is running, it never stops", "", "the fan is running, it never stops"},
		{"thermostat at 72, house at 80", "", "thermostat at 72, house at 80"},
		{"no Y, no cooling", "", "no Y, no cooling"},
		{"the furnace is 20 years old, no heat", "", "the furnace is 20 years old, no heat"},
	} {
		s := asks(words, display)
		text := begun(s, chat.Options{}).OneShot(c.line)
		var seen []string
		said := ""
		for _, e := range s.events {
			switch e.Kind {
			case session.Volunteer:
				seen = append(seen, e.Seen.String())
			case session.Text:
				said = e.Reply
			}
		}
		if got := strings.Join(seen, "; "); got != c.seen || said != c.words {
			t.Errorf("%q: took %q and said %q, want %q and %q\n%s", c.line, got, said, c.seen, c.words, text)
		}
	}
}

// What sounds like a reading and cannot be taken for one is said, so that
// nobody thinks it counts; the weather is no reading.
func TestNotTakenIsSaid(t *testing.T) {
	for line, want := range map[string]string{
		"no cool, 26 on R, 0 on Y":             `"26 on R"|"0 on Y"`,
		"no cool, 300 at the board":            `"300 at the board"`,
		"no cool, 26 ohms at the board":        `"26 ohms at the board"`,
		"no heat, it is 30 outside":            "",
		"no cool, thermostat at 72, no Y":      "",
		"no cool, fuse good, 26 at the board ": "",
	} {
		text := begun(asks(words, display), chat.Options{}).OneShot(line)
		n := 0
		for _, w := range strings.FieldsFunc(want, func(r rune) bool { return r == '|' }) {
			n++
			if !strings.Contains(text, "not taken as a reading: "+w) {
				t.Errorf("%q: %s is not said to be left out:\n%s", line, w, text)
			}
		}
		if got := strings.Count(text, "not taken"); got != n {
			t.Errorf("%q: %d times not taken, want %d:\n%s", line, got, n, text)
		}
	}
}

// At any prompt a line may hold several readings and looks, and leave out what
// goes without saying; a line that is more than that is none.
func TestSeveralAtOnce(t *testing.T) {
	for _, c := range []struct {
		line, seen string
		q          session.Effect
	}{
		{"display lit, indoor fan running and the outdoor unit is stopped", "display: lit; indoor-fan: running; outdoor-unit: stopped", set},
		{"R to C at the board is 26.4, Y to C at the board is 0", "volts R-C at indoor: 26.4 V; volts Y-C at indoor: 0 V", lockout},
		{"R to C 26.4, Y to C 0, at the board", "volts R-C at indoor: 26.4 V; volts Y-C at indoor: 0 V", set},
		{"26 at the board, no Y", "volts R-C at indoor: 26 V; volts Y-C at indoor: 0 V", display},
		{"fuse good", "fuse-look: good", set},
		{"contactor pulled in", "contactor: pulled-in", display},
		{"the display is blank calling=no", "display: blank", set},
		{"W to C 0.1, G to C 26.4", "volts W-C at indoor: 0.1 V; volts G-C at indoor: 26.4 V", board},
		{"display lit, and what now", "", set},
		{"26, 27", "", display},
	} {
		s := asks(c.q, display)
		text := begun(s, chat.Options{}).OneShot(c.line)
		var seen []string
		for _, e := range s.events {
			if e.Kind == session.Volunteer {
				seen = append(seen, e.Seen.String())
			}
		}
		if got := strings.Join(seen, "; "); got != c.seen {
			t.Errorf("%q: took %q, want %q\n%s", c.line, got, c.seen, text)
		}
	}
}

// A call started with its complaint takes what is known out of it, in words and
// for a program.
func TestKnownWithTheComplaint(t *testing.T) {
	first := func() session.Event {
		return session.Event{Kind: session.Start, Open: &session.Opening{Complaint: "ac not cooling, fuse good, 26 at the board, no Y, 300 at the board"}}
	}
	given := first()
	in, out := asks(display), asks(display)
	text := chat.New(in, chat.Options{}).Begin(given)
	line := string(chat.NewWire(out, chat.Options{}).Begin(first()))
	for _, s := range []*script{in, out} {
		open := s.events[0].Open
		if len(open.Known) != 3 || open.Known[0].String() != "fuse-look: good" || open.Complaint != "ac not cooling, 300 at the board" {
			t.Errorf("opened with %v and %q", open.Known, open.Complaint)
		}
	}
	if len(given.Open.Known) != 0 {
		t.Error("the event that was given is changed")
	}
	if !strings.Contains(text, `not taken as a reading: "300 at the board"`) || !strings.Contains(line, "Not taken as a reading") {
		t.Errorf("what is left out is not said:\n%s\n%s", text, line)
	}
	s := asks(words, display)
	got := serve(t, s, chat.Options{}, `{"text":"not cooling, 26 at the board, no Y, 0 on G at the condenser is 5"}`)
	if len(s.events) < 4 || s.events[1].Kind != session.Volunteer || s.events[3].Reply != "not cooling, 0 on G at the condenser is 5" {
		t.Errorf("a program's words are taken as %v\n%s", s.events, got)
	}
}

// A batch of which some is known already still says what it is.
func TestRestOfABatchHasItsHeadline(t *testing.T) {
	ask := *board.Ask
	ask.Given, ask.Pairs = ask.Pairs[:1], ask.Pairs[1:]
	c := begun(asks(display, session.Effect{Ask: &ask}), chat.Options{})
	if text := c.OneShot("lit"); !strings.Contains(text, ask.Text) {
		t.Errorf("the rest of a batch comes without its headline:\n%s", text)
	}
}
