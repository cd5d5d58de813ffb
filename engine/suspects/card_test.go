package suspects

import (
	"slices"
	"testing"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// A card's probes are allowed ones, each once, the first the best there is from
// the start; and on the way they show, every one of them splits what is left.
func TestCard(t *testing.T) {
	c, _ := open(t)
	cool := house.DefaultSetup().With(house.CoolCall)
	allowed := func(g forecast.Goal) bool {
		return g.Setup == cool && g.Probe.IsLook() && house.Reach(house.Dispatcher, c.facts, g.Probe, g.Setup) == house.NoCut
	}
	first, ok, err := c.Next(allowed, cool, false)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	goals, err := c.engine.Card(Case{Facts: c.facts, Symptoms: complaints[0].symptoms}, 4, allowed, cool)
	if err != nil {
		t.Fatal(err)
	}
	if len(goals) < 3 || goals[0] != first.Goal {
		t.Fatalf("%v; best from the start is %v", goals, first.Goal)
	}
	for i, g := range goals {
		if !allowed(g) || slices.Contains(goals[:i], g) {
			t.Errorf("%v on %v", g, goals[:i])
		}
	}
	if none, err := c.engine.Card(Case{Facts: c.facts, Symptoms: complaints[0].symptoms}, 4, func(forecast.Goal) bool { return false }, cool); err != nil || len(none) != 0 {
		t.Errorf("nothing allowed gives %v, %v", none, err)
	}
}
