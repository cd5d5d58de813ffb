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
		{"fuse good, 26 at the board, no Y", "fuse-look: good; volts R-C at indoor: 26 V; volts Y-C at indoor: 0 V", "fuse good, 26 at the board, no Y"},
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

// A batch of which some is known already still says what it is.
func TestRestOfABatchHasItsHeadline(t *testing.T) {
	ask := *board.Ask
	ask.Given, ask.Pairs = ask.Pairs[:1], ask.Pairs[1:]
	c := begun(asks(display, session.Effect{Ask: &ask}), chat.Options{})
	if text := c.OneShot("lit"); !strings.Contains(text, ask.Text) {
		t.Errorf("the rest of a batch comes without its headline:\n%s", text)
	}
}
