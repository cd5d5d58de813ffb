package session

import (
	"fmt"
	"testing"

	"stepdown/engine/house"
)

// The tree proposes: where the model rules out all that its finding stands for,
// and something else explains everything, the call ends open with what either
// names, what the model leaves first. No thermostat is condemned on the way.
func TestAFindingTheModelRulesOutStaysOpen(t *testing.T) {
	c := begin(t, tech()).ready()
	c.b.Explain = thinks{house.StatYOpen, house.OpenG}
	f := c.answer("display", "blank").finds(house.Undecided)
	if fmt.Sprint(f.Faults) != "[stat-y-open open-g stat-battery-dead]" || f.Condemns {
		t.Errorf("left open between %v, condemns %v", f.Faults, f.Condemns)
	}
}

// doubtful explains nothing and doubts what was seen last.
type doubtful struct{ Doubt }

func (d doubtful) Explain(house.Facts, house.Complaint, []Seen) Explanation {
	return Explanation{RuledOut: 5, Doubt: &d.Doubt}
}

// The tree's finding stands where the model still believes it, where nothing
// explains everything (a slip, or two faults: no one of them is better), and where
// no model is asked.
func TestAFindingStandsUnlessTheModelKnowsBetter(t *testing.T) {
	for name, model := range map[string]Explainer{
		"believed": thinks{house.OpenG, house.StatBatteryDead}, "nothing explains it": thinks{}, "a slip would": doubtful{}, "not asked": nil,
	} {
		c := begin(t, tech()).ready()
		c.b.Explain = model
		c.send(Event{Kind: Answer, Reply: "blank"})
		for c.s.Pending().Ask != nil && c.s.Pending().Ask.Step == "retake" {
			c.send(Event{Kind: Answer, Reply: "no"})
		}
		if f := c.finds(house.Finding("stat-battery-dead")); len(f.Faults) != 1 {
			t.Errorf("%s: ends at %v", name, f.Faults)
		}
	}
}
