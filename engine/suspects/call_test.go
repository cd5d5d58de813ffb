package suspects

import (
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// open starts a call about a house that does not cool.
func open(t *testing.T) (*Call, *dwelling) {
	t.Helper()
	cat := catalog(t)
	d, err := cat.Equipment(house.CoolGas).Nominal().With(circuit.Supply, "common")
	if err != nil {
		t.Fatal(err)
	}
	b, err := circuit.NewBench(d)
	if err != nil {
		t.Fatal(err)
	}
	dw := newDwelling(t, b, complaints[0].symptoms[0].Setup, house.ContactorCoilOpen)
	call, err := New(forecast.New(cat, forecast.Options{Draws: 12}), weights(t)).Open(Case{Facts: d.Facts(), Symptoms: complaints[0].symptoms})
	if err != nil {
		t.Fatal(err)
	}
	return call, dw
}

func observe(t *testing.T, c *Call, s Seen) Told {
	t.Helper()
	told, err := c.Observe(s)
	if err != nil {
		t.Fatal(err)
	}
	return told
}

// A reading of 0 through a dead lead contradicts what was seen before; the slip
// is named, and the retake mends it.
func TestContradictionNamesTheSlip(t *testing.T) {
	c, d := open(t)
	cool := house.DefaultSetup().With(house.CoolCall)
	board := cool
	board.CoverIndoor = true
	for _, g := range []forecast.Goal{{Setup: board, Probe: house.Volts(house.Y, house.C, house.AtIndoor)}, {Setup: cool, Probe: house.LookAt(house.Display)}} {
		s, _ := d.probe(g, false)
		observe(t, c, s)
	}
	before := c.Left()
	rc := forecast.Goal{Setup: board, Probe: house.Volts(house.R, house.C, house.AtIndoor)}
	wrong, _ := d.probe(rc, false)
	wrong.Reading = quantity.Of(0)
	told := observe(t, c, wrong)
	if told.Contradiction == nil {
		t.Fatalf("0 V on R at the board with the display lit and Y live: left %d, no contradiction %v", told.Left, c.Explain())
	}
	if slip := told.Contradiction.Slip; slip != DeadLead || told.Contradiction.Retake.Probe != rc.Probe {
		t.Errorf("says %s, want a dead lead on %s", told.Contradiction, rc.Probe)
	}
	right, _ := d.probe(rc, false)
	if told := observe(t, c, right); told.Contradiction != nil || told.Left == 0 || told.Left > before {
		t.Errorf("after the retake %d are left of %d, %v", told.Left, before, told.Contradiction)
	}
}

// What is explained afresh from the list of readings is what the call says.
func TestExplainAgreesWithTheCall(t *testing.T) {
	c, d := open(t)
	cool := house.DefaultSetup().With(house.CoolCall)
	s, _ := d.probe(forecast.Goal{Setup: cool, Probe: house.LookAt(house.IndoorFan)}, false)
	observe(t, c, s)
	fresh, err := c.engine.Explain(Case{Facts: c.facts, Symptoms: complaints[0].symptoms}, []Seen{s})
	if err != nil {
		t.Fatal(err)
	}
	want := c.Explain()
	if len(fresh.Left) != len(want.Left) || fresh.RuledOut != want.RuledOut || fresh.Left[0] != want.Left[0] {
		t.Errorf("afresh %v, call %v", fresh, want)
	}
	var sum float64
	for _, s := range want.Left {
		sum += s.Probability
	}
	if sum <= 0 || sum > 1 {
		t.Errorf("probabilities sum to %g", sum)
	}
	for _, spoke := range c.Evidence(want.Left[0].Fault) {
		if spoke.Against {
			t.Errorf("%s speaks against a fault that is left", spoke.Seen.Probe)
		}
	}
}

// A fault that comes and goes is not ruled out by a good look; it keeps a
// probability and is never listed.
func TestIntermittentKeepsAProbability(t *testing.T) {
	c, _ := open(t)
	cool := house.DefaultSetup().With(house.CoolCall)
	running, err := house.OutdoorUnit.ParseAnswer("running")
	if err != nil {
		t.Fatal(err)
	}
	observe(t, c, Seen{Probe: house.LookAt(house.OutdoorUnit), Setup: cool, Answer: running})
	for h := range c.hyps {
		if c.hyps[h].fault != house.OpenY {
			continue
		}
		if c.belief.weight[len(c.hyps)+h] < 1e-4 || c.belief.misfits[len(c.hyps)+h] != 0 {
			t.Errorf("open-y coming and going has %g after a good look", c.belief.weight[len(c.hyps)+h])
		}
		if c.belief.misfits[h] != 1 {
			t.Error("open-y itself still explains a running unit")
		}
	}
	for _, s := range c.Explain().Left {
		if s.Fault == house.OpenY {
			t.Error("open-y is listed")
		}
	}
}
