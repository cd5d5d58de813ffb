package suspects

import (
	"fmt"
	"math"
	"testing"

	"stepdown/engine/forecast"
	"stepdown/engine/policy"
)

// Priors 1/2 1/3 1/6, intervals [22,26] [23,25] [0,1], reading 24: by hand.
func TestPosteriorByHand(t *testing.T) {
	rows := [][]forecast.Piece{{{Lo: 22, Hi: 26, Share: 1}}, {{Lo: 23, Hi: 25, Share: 1}}, {{Lo: 0, Hi: 1, Share: 1}}}
	for _, c := range []struct {
		slip float64
		want []float64
	}{
		{0, []float64{3.0 / 7, 4.0 / 7, 0}},
		{0.01, []float64{14851.0 / 34652, 29701.0 / 51978, 1.0 / 103956}},
	} {
		b := newBelief([]float64{1.0 / 2, 1.0 / 3, 1.0 / 6}, 1)
		b.observe(func(h int) (float64, bool) { return fit(rows[h], 24) }, 600, c.slip)
		for h, want := range c.want {
			// 1e-15: a handful of roundings on numbers under one
			if math.Abs(b.weight[h]-want) > 1e-15 {
				t.Errorf("slip %g: hypothesis %d has %.17g, want %.17g", c.slip, h, b.weight[h], want)
			}
		}
		if b.misfits[0] != 0 || b.misfits[1] != 0 || b.misfits[2] != 1 {
			t.Errorf("slip %g: misfits %v, want the third alone, whatever the floor", c.slip, b.misfits)
		}
	}
}

// polybox is de Kleer and Williams's circuit (1987): three multipliers and two
// adders, A=3 B=2 C=2 D=3 E=3, read F=10 and G=12.
var polybox = []string{"A1", "A2", "M1", "M2", "M3"}

// solutions lists the whole numbers x, y, z that fit with the set broken.
func solutions(set []int) [][3]int {
	broken := map[string]bool{}
	for _, i := range set {
		broken[polybox[i]] = true
	}
	var out [][3]int
	for x := 0; x <= 12; x++ {
		for y := 0; y <= 12; y++ {
			for z := 0; z <= 12; z++ {
				if (broken["M1"] || x == 3*2) && (broken["M2"] || y == 2*3) && (broken["M3"] || z == 2*3) &&
					(broken["A1"] || x+y == 10) && (broken["A2"] || y+z == 12) {
					out = append(out, [3]int{x, y, z})
				}
			}
		}
	}
	return out
}

func TestPolybox(t *testing.T) {
	found := Diagnoses(len(polybox), 3, func(set []int) bool { return len(solutions(set)) > 0 })
	var names [][]string
	for _, set := range found {
		var words []string
		for _, i := range set {
			words = append(words, polybox[i])
		}
		names = append(names, words)
	}
	if got, want := fmt.Sprint(names), "[[A1] [M1] [A2 M2] [M2 M3]]"; got != want {
		t.Fatalf("minimal diagnoses %s, want %s", got, want)
	}

	// every part fails one time in a hundred, and a probe's value is what the
	// diagnosis says it is
	gain := map[string]float64{}
	for k, probe := range []string{"x", "y", "z"} {
		table := &policy.Table{Tests: []policy.Test{{Minutes: 1}}}
		for d, set := range found {
			table.Prior = append(table.Prior, math.Pow(0.01, float64(len(set))))
			table.Class = append(table.Class, d)
			var pieces []policy.Piece
			values := map[int]bool{}
			for _, s := range solutions(set) {
				values[s[k]] = true
			}
			for v := range values {
				pieces = append(pieces, policy.Piece{Lo: float64(v), Hi: float64(v), Share: 1 / float64(len(values))})
			}
			table.Tests[0].Shows = append(table.Tests[0].Shows, pieces)
		}
		b := table.Start()
		var m policy.Mixture
		gain[probe] = table.GainOf(&m, &b, 0)
	}
	if gain["x"] <= gain["y"] || gain["x"] <= gain["z"] {
		t.Errorf("gains %v, want x the best probe", gain)
	}
}
