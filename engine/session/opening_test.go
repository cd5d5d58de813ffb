package session

import (
	"strings"
	"testing"

	"stepdown/engine/house"
)

// A complaint said before its question waits for it, and is not asked for
// again; danger in the same words does not wait.
func TestComplaintSaidEarly(t *testing.T) {
	c := begin(t, Opening{Audience: house.Dispatcher})
	c.asks("emergency")
	c.send(Event{Kind: Text, Reply: "it does not cool"}).asks("emergency")
	c.send(Event{Kind: Answer, Reply: "no"}).asks("people")
	c.send(Event{Kind: Text, Reply: "she says it does not cool at all"}).asks("people")
	c.send(Event{Kind: Answer, Reply: "no"})
	c.send(Event{Kind: Answer, Reply: "comfortable"}).asks("equipment")
	if c.s.Complaint() != house.NoCooling || c.s.Words() != "she says it does not cool at all" {
		t.Errorf("taken as %v from %q", c.s.Complaint(), c.s.Words())
	}
	if s, effects := c.b.Step(c.s, Event{Kind: Text, Reply: "it does not cool"}); s.Complaint() != house.NoCooling || effects[0].Problem == nil {
		t.Errorf("words after the complaint gave %+v", effects)
	}

	c = begin(t, Opening{Audience: house.Homeowner})
	c.send(Event{Kind: Text, Reply: "no cool air and a gas smell"})
	c.finds(house.EmergencyFinding)

	c = begin(t, Opening{Audience: house.Homeowner})
	if _, effects := c.b.Step(c.s, Event{Kind: Text, Reply: "  "}); effects[0].Problem == nil {
		t.Errorf("no words gave %+v", effects)
	}
}

// Who takes a call up again hears where it stands.
func TestResumeSaysWhereItStands(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").send(Event{Kind: Resume})
	var said []string
	for _, e := range c.last {
		if e.Tell != nil {
			said = append(said, e.Tell.Text)
		}
	}
	text := strings.Join(said, "\n")
	if !strings.Contains(text, "So far: "+c.b.Trees.Trees[house.NoCooling].Title) || !strings.Contains(text, "One look or reading is kept") {
		t.Errorf("resume says %q", text)
	}
	c = begin(t, Opening{Audience: house.Homeowner}).send(Event{Kind: Resume})
	if len(c.last) != 1 {
		t.Errorf("nothing is known, and resume says %+v", c.last)
	}
}

// Nobody says how the thermostat stands before it was set, and nobody vouches
// for the power after a break.
func TestHouseSaysWhatNobodySet(t *testing.T) {
	c := begin(t, tech())
	if h := c.s.House(); !h.Unset || len(h.Unsure) > 0 {
		t.Errorf("at the start: %+v", h)
	}
	c.ready().asks("display")
	if h := c.s.House(); h.Unset || len(h.Unsure) > 0 {
		t.Errorf("once it was set: %+v", h)
	}
	c.send(Event{Kind: Resume})
	if h := c.s.House(); !h.Unset || len(h.Unsure) != 2 {
		t.Errorf("after a break: %+v", h)
	}
}

// The kinds of system come in one order, whatever a tree says they fit.
func TestEquipmentInOneOrder(t *testing.T) {
	b := smallBook(t)
	tr := b.Trees.Trees[house.NoCooling]
	tr.Fits = []house.Equipment{house.PackagedGas, house.SplitPower, house.CoolGas}
	var got []string
	for _, c := range b.equipmentChoices(house.NoCooling)[:3] {
		got = append(got, c.ID)
	}
	if want := "cool-gas split-power packaged-gas"; strings.Join(got, " ") != want {
		t.Errorf("%v, want %s", got, want)
	}
}
