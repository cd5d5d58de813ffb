package suspects

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

func TestEvened(t *testing.T) {
	for _, c := range []struct{ weight, want []float64 }{
		{[]float64{.5, .5}, []float64{.5, .5}},
		{[]float64{1, 1e-9}, []float64{10. / 11, 1. / 11}},
		{[]float64{.8, .16, 0, .04}, []float64{.8 / 1.04, .16 / 1.04, 0, .08 / 1.04}}, // what is ruled out stays out
	} {
		got := evened(nil, c.weight)
		// a few roundings of a sum near 1
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-15 }) {
			t.Errorf("%v is evened to %v, want %v", c.weight, got, c.want)
		}
	}
}

// Calls that have a finding left which is thought next to impossible, and yet
// explains everything, go on until a probe tells it from the one that is true.
func TestTheUnlikelyIsToldApart(t *testing.T) {
	if testing.Short() {
		t.Skip("whole calls: left to the run that is not short")
	}
	cat := catalog(t)
	e := New(forecast.New(cat, forecast.Options{Seed: 1, SlowFuse: forecast.SlowFuseUsual}), weights(t))
	for _, c := range []struct {
		equipment house.Equipment
		draw      uint64
		fault     house.Fault
	}{
		{house.SplitPower, 0, house.TransformerSecondaryOpen},
		{house.PumpCoolingValve, 0, house.OpenR},
	} {
		eq := cat.Equipment(c.equipment)
		b, err := circuit.NewBench(eq.Sample(rand.New(rand.NewPCG(c.draw, uint64(c.equipment))), wider))
		if err != nil {
			t.Fatal(err)
		}
		tr := &trial{t: t, engine: e, eq: eq, bench: b, faults: []house.Fault{c.fault}, unable: -1, wrong: -1}
		if !tr.run() {
			t.Fatalf("%s shows nothing", c.fault)
		}
		if want := []house.Finding{house.FindingOf(c.fault, c.equipment)}; !slices.Equal(tr.verdict.Findings, want) {
			t.Errorf("want %v: %s", want, tr)
		}
	}
}
