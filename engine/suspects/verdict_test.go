package suspects

import (
	"slices"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// While readings stay unexplained, no thermostat is condemned without the good
// ones that leave fewest of them so.
func TestNearestGoodThermostat(t *testing.T) {
	c, _ := open(t)
	at := func(f house.Fault) int {
		return slices.IndexFunc(c.hyps, func(h hypothesis) bool { return h.fault == f })
	}
	for h := range c.hyps {
		c.belief.misfits[h] = 3
	}
	c.belief.misfits[at(house.StatYOpen)], c.belief.misfits[at(house.OpenY)] = 1, 2
	if got := c.nearest(); !slices.Equal(got, []int{at(house.OpenY)}) {
		t.Errorf("nearest with a good thermostat: %v, want open-y, %d", got, at(house.OpenY))
	}
	if !c.allCondemn([]int{at(house.StatYOpen)}) || c.allCondemn([]int{at(house.StatYOpen), at(house.OpenY)}) {
		t.Error("who condemns is told wrongly")
	}
}

// Where a slip kept up through the whole call would explain everything with a
// good thermostat, what is probed next tells that slip: another mode here, since
// in the wrong one a good changeover contact is as dead as a failed one.
func TestASlipKeptUpIsSought(t *testing.T) {
	if testing.Short() {
		t.Skip("whole calls: left to the run that is not short")
	}
	cat := catalog(t)
	e := New(forecast.New(cat, forecast.Options{Seed: 1, SlowFuse: forecast.SlowFuseUsual}), weights(t))
	eq := cat.Equipment(house.PumpHeatingValve)
	b, err := circuit.NewBench(eq.Nominal())
	if err != nil {
		t.Fatal(err)
	}
	tr := &trial{t: t, engine: e, eq: eq, bench: b, faults: []house.Fault{house.StatChangeoverOpen}, unable: -1, wrong: -1}
	if !tr.run() {
		t.Fatal("the house shows nothing to call about")
	}
	if !slices.ContainsFunc(tr.call.seen, func(s Seen) bool { return s.Setup.Mode == house.ModeCool }) {
		t.Errorf("called about heat, and nothing was probed in the other mode: %s", tr)
	}
	if left := tr.verdict.Findings; slices.Contains(left, house.FindingOf(house.None, eq.ID)) || !tr.right() {
		t.Errorf("left %v", left)
	}
	good := &trial{t: t, engine: e, eq: eq, bench: b, faults: []house.Fault{house.None}, slip: WrongMode, about: complaints[1:2], unable: -1, wrong: -1}
	if good.run(); good.verdict.Condemns {
		t.Errorf("a good thermostat in the wrong mode is condemned: %s", good)
	}
}
