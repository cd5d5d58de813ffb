package chat_test

import (
	"maps"
	"strings"
	"testing"

	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// A reading that its tree keeps for heat pumps goes by its short name on screen,
// and is taken by either, one at a time or as a batch.
func TestShortNames(t *testing.T) {
	ask := *board.Ask
	ask.Pairs = []session.Pair{{Name: "yc-rest-pump", Red: house.Y, Black: house.C}, {Name: "rc-rest-pump", Red: house.R, Black: house.C}}
	want := map[string]quantity.Reading{"yc-rest-pump": quantity.Of(0.1), "rc-rest-pump": quantity.Of(26.8)}
	for _, lines := range [][]string{{"0.1", "26.8"}, {"yc-rest 0.1 rc-rest 26.8"}, {"rc-rest-pump 26.8, yc-rest-pump 0.1"}, {"rc-rest 26.8", "0.1"}, {"0.1 26.8"}} {
		s := asks(session.Effect{Ask: &ask}, display)
		c := begun(s, chat.Options{Style: chat.Style{Prompts: true}})
		shown := c.Prompt()
		for _, l := range lines {
			shown += c.OneShot(l) + c.OneShot("picture") + strings.Join(c.Complete(""), " ") + c.OneShot("help")
		}
		if strings.Contains(shown, "-pump") || !strings.Contains(shown, "yc-rest > ") {
			t.Errorf("%q shows\n%s", lines, shown)
		}
		if !maps.Equal(s.batch.Read, want) {
			t.Errorf("%q is taken as %v", lines, s.batch.Read)
		}
	}
}

// That nothing more is ruled out is said once in a run, and again after
// something was.
func TestNothingMoreIsSaidOnce(t *testing.T) {
	left := func(n int) session.Effect {
		return session.Effect{Suspects: &session.Explanation{RuledOut: 9 - n, Left: make([]session.Suspect, n)}}
	}
	s := asks(display, left(6), display, left(6), display, left(6), display, left(5), display, left(5), display, left(5), display)
	c := begun(s, chat.Options{})
	var counts []int
	for range 6 {
		counts = append(counts, strings.Count(c.OneShot("lit"), "Nothing more is ruled out"))
	}
	for i, want := range []int{0, 1, 0, 0, 1, 0} {
		if counts[i] != want {
			t.Errorf("after look %d it is said %d times, want %d", i+1, counts[i], want)
		}
	}
}

// What was looked at twice says under Seen how the one differs from the other;
// what was not decided has no odds, and says nothing for the thermostat.
func TestSeenTwice(t *testing.T) {
	f := *openY.Finding
	f.Probability = 0.96
	on := house.DefaultSetup()
	off := on
	off.Thermostat = house.Removed
	warm, _ := house.Air.ParseAnswer("warm")
	f.Evidence = []session.Seen{{Probe: house.LookAt(house.Air), Setup: on, Answer: warm}, {Probe: house.LookAt(house.Air), Setup: off, Answer: warm}, f.Evidence[0]}
	text := begun(asks(display, session.Effect{Finding: &f}), chat.Options{}).OneShot("lit")
	for _, want := range []string{"air: warmer than the room (nothing called)\n", "air: warmer than the room (thermostat off its base)\n", "0.1 V\n", "(96 % likely)",
		"The thermostat is not the failed part"} {
		if !strings.Contains(text, want) {
			t.Errorf("want %q in\n%s", want, text)
		}
	}
	f.ID = house.Undecided
	text = begun(asks(display, session.Effect{Finding: &f}), chat.Options{}).OneShot("lit")
	if strings.Contains(text, "likely)") || !strings.Contains(text, "not shown to have failed") {
		t.Errorf("a call left open says\n%s", text)
	}
}

// The letters of a base are taken in whatever order they are typed; a list of
// sets is not read out in a line, where no one could tell one set from the next.
func TestLettersInAnyOrder(t *testing.T) {
	ask := session.Effect{Ask: &session.Ask{Step: house.FactLetters.String(), Kind: session.AskChoose, Text: "Which letters at the thermostat carry a wire?",
		Answers: []session.Choice{{ID: "R C Y G W", Text: "R C Y G W"}, {ID: "R Y G W", Text: "R Y G W"}, {ID: "other", Text: "other letters"}}}}
	for line, want := range map[string]string{"w y g c r": "R C Y G W", "g, w, y and r": "R Y G W", "R C Y G W": "R C Y G W", "y1 g w1 r": "R Y G W", "2": "R Y G W"} {
		s := asks(ask, display)
		begun(s, chat.Options{}).OneShot(line)
		if got := s.last(); got.Kind != session.Answer || got.Reply != want {
			t.Errorf("%q is taken as %s", line, said(got))
		}
	}
	if text := begun(asks(ask, display), chat.Options{}).OneShot("red and white"); !strings.Contains(text, "one of the 3 answers, by number") {
		t.Errorf("says %s", text)
	}
}

// The first count says plainly where nothing is ruled out yet.
func TestNothingRuledOutYet(t *testing.T) {
	x := session.Explanation{Left: make([]session.Suspect, 24)}
	text := begun(asks(display, session.Effect{Suspects: &x}, display), chat.Options{}).OneShot("lit")
	if !strings.Contains(text, "Nothing is ruled out yet: 24 suspects left.\n") {
		t.Errorf("says\n%s", text)
	}
}

// What speaks against one suspect as it does against the one above is not read
// out again.
func TestTheSameEvidenceIsSaidOnce(t *testing.T) {
	against := []session.Seen{openY.Finding.Evidence[0]}
	x := session.Explanation{RuledOut: 3, Left: []session.Suspect{{Fault: house.OpenY, Probability: 0.5, Against: against},
		{Fault: house.OpenC, Probability: 0.3, Against: against}, {Fault: house.OpenG, Probability: 0.2}, {Fault: house.OpenR, Probability: 0.1, Against: against}}}
	o := chat.Options{Hooks: chat.Hooks{Suspects: func() (session.Explanation, bool) { return x, true }}}
	text := begun(asks(display), o).OneShot("suspects")
	x.Left = nil
	x.Ruled = []session.Ruled{{Seen: against[0], Faults: []house.Fault{house.OpenY}}}
	if none := begun(asks(display), o).OneShot("suspects"); !strings.Contains(none, "What ruled out each one alone\n") || !strings.Contains(none, ": 1, open-y") {
		t.Errorf("where nothing is left it says\n%s", none)
	}
	if n := strings.Count(text, "against it: Y to C at the indoor unit"); n != 2 || strings.Count(text, "against it: the same") != 1 {
		t.Errorf("said %d times in\n%s", n, text)
	}
}
