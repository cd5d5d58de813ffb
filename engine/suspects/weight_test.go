package suspects

import (
	"strings"
	"testing"
	"testing/fstest"

	"stepdown/engine/house"
)

func TestWeightsAllHaveASource(t *testing.T) {
	w := weights(t)
	for _, f := range house.Faults() {
		if w.Fault[f] <= 0 || w.Source[f.String()] == "" {
			t.Errorf("%s has weight %g from %q", f, w.Fault[f], w.Source[f.String()])
		}
	}
	for _, key := range []string{"slip", "pair", "intermittent", "fresh", "wait", "strength"} {
		if w.Source[key] == "" {
			t.Errorf("%s has no source", key)
		}
	}
}

func TestBadWeightsAreNamed(t *testing.T) {
	text := "weights:\n  open-y: {weight: 0, source: assumption}\n  open-q: {weight: 1, source: assumption}\nshares:\n  slip: {share: 2, source: assumption}\n"
	_, problems := LoadWeights(fstest.MapFS{"weights.yaml": {Data: []byte(text)}}, "weights.yaml")
	all := problems.Error()
	for _, want := range []string{"weights.yaml:2:20: open-y is 0", "weights.yaml:3:3: unknown fault", "slip is 2", "minutes", "has no weight"} {
		if !strings.Contains(all, want) {
			t.Errorf("no %q in:\n%s", want, all)
		}
	}
}

// Dirichlet counts: fifty calls of one's own weigh as much as the assumption.
func TestWeightsLearn(t *testing.T) {
	w := Weights{Fault: map[house.Fault]float64{house.OpenY: 1, house.FloatOpen: 3}, Strength: 50}
	got := w.Learned(map[house.Fault]int{house.OpenY: 50})
	// 50·(1/4, 3/4) + (50, 0)
	if got.Fault[house.OpenY] != 62.5 || got.Fault[house.FloatOpen] != 37.5 {
		t.Errorf("learned %v", got.Fault)
	}
	if w.Fault[house.OpenY] != 1 {
		t.Error("the assumption itself was changed")
	}
}
