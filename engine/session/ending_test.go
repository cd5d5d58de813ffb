package session

import (
	"fmt"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// Words that name something else do not end a call by themselves: the list is
// offered, and none of it ends at not-this-circuit, urgency known.
func TestOutsideIsOfferedTheList(t *testing.T) {
	c := begin(t, Opening{Audience: house.Dispatcher, Equipment: "cool-gas"})
	c.answer("emergency", "no").answer("people", "ill").answer("temperature", "extreme")
	c.send(Event{Kind: Text, Reply: "it makes a noise"})
	c.asks("complaint")
	if f := c.answer("complaint", "none-of-these").finds(house.NotThisCircuit); f.Urgency != "now: someone is ill" {
		t.Errorf("urgency %q", f.Urgency)
	}
}

// thinks explains every call by the same faults.
type thinks []house.Fault

func (x thinks) Explain(house.Facts, house.Complaint, []Seen) Explanation {
	var out Explanation
	for _, f := range x {
		out.Left = append(out.Left, Suspect{Fault: f, Probability: 1 / float64(len(x))})
	}
	return out
}

// With a model attached, a call left open lists only what the tree could still
// have reached and the model still believes, most likely first.
func TestUndecidedListsWhatFits(t *testing.T) {
	c := begin(t, tech()).ready()
	c.b.Explain = thinks{house.ContactorStuckOpen, house.OpenG, house.OpenYOutdoor}
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5)
	c.asks("strip")
	f := c.send(Event{Kind: Unable}).ready().finds(house.Undecided)
	if fmt.Sprint(f.Faults) != "[contactor-stuck-open open-y-outdoor]" || f.Probability < 0.66 || f.Probability > 0.67 {
		t.Errorf("left open between %v at %.2f", f.Faults, f.Probability)
	}
}

// Where the tree itself has nothing further to find, the model's list is the
// end's, and one contact left by itself is still no proof against a thermostat.
func TestUndecidedAtTheEndOfATreeListsTheModel(t *testing.T) {
	c := begin(t, tech()).ready()
	left := thinks{house.StatWOpen}.Explain(house.Facts{}, house.NoHeat, nil)
	got := narrow(nil, left)
	if fmt.Sprint(got) != "[stat-w-open]" {
		t.Errorf("left open between %v", got)
	}
	if f := c.b.finding(c.s, house.Undecided, got, left); f.Condemns {
		t.Error("an open end condemns the thermostat")
	}
}

// Who cannot put the house back is told what stands open or live.
func TestCannotLeaveSaysWhatIsDangerous(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5)
	c.send(Event{Kind: Values, Read: map[string]quantity.Reading{"sc": quantity.Of(0)}})
	c.finds(house.OutdoorPairOpen)
	c.send(Event{Kind: Unable})
	var said []string
	for _, e := range c.last {
		if e.Tell != nil {
			said = append(said, e.Tell.Text)
		}
	}
	if text := strings.Join(said, " "); !strings.Contains(text, "outdoor cover is off") || strings.Contains(text, "licensed") {
		t.Errorf("said %q", text)
	}
}

// A house that is left without power says why, last thing before the end.
func TestLeftOffSaysWhy(t *testing.T) {
	c := begin(t, tech())
	c.b.Trees.Finding("contactor-coil-open").Leave = tree.LockedOut
	c.ready().answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5).values("strip", "sc", 26.1).values("coil", "k", "OL")
	if h := c.s.House().Setup; h.PowerIndoor != house.LockedOut || h.PowerOutdoor != house.LockedOut {
		t.Fatalf("the house is left %s", h)
	}
	n := len(c.last)
	if n < 2 || c.last[n-1].End == nil || c.last[n-2].Tell == nil || c.last[n-2].Tell.Text != "The power stays off and locked until that is put right." {
		t.Errorf("last effects %+v", c.last)
	}
}

// What a technician leaves locked for the repair, a homeowner leaves running:
// what still works goes on, and nobody is sent to a breaker.
func TestLockedForRepairIsForWhoRepairs(t *testing.T) {
	for _, who := range []house.Audience{house.Homeowner, house.Tech} {
		c := begin(t, Opening{Audience: who, Equipment: "cool-gas", Complaint: "not cooling", Meter: "none"})
		c.b.Trees.Finding("delay-running").Leave = tree.LockedForRepair
		if who == house.Homeowner {
			c.answer("emergency", "no")
		}
		c.ready().answer("display", "waiting").finds("delay-running")
		if got := c.s.House().Setup.PowerIndoor; (got == house.LockedOut) != (who == house.Tech) || who == house.Homeowner && got != house.On {
			t.Errorf("a %s leaves the power %v", who, got)
		}
	}
}

// Whoever is told to leave the thermostat on OFF is not sent back to set it to a
// call; anybody else makes the original call again.
func TestTheEndAgreesWithWhatIsDone(t *testing.T) {
	for answer, want := range map[string]house.Setup{
		"waiting": house.DefaultSetup(),
		"blank":   house.DefaultSetup().With(house.CoolCall),
	} {
		c := begin(t, Opening{Audience: house.Homeowner, Equipment: "cool-gas", Complaint: "not cooling"})
		c.answer("emergency", "no").ready().answer("display", answer)
		if got := c.s.House().Setup; c.s.Finding() == nil || !c.s.Ended() || got != want {
			t.Errorf("%s: found %+v, and the house is left with %s", answer, c.s.Finding(), got)
		}
	}
}
