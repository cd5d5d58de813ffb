package policy

import (
	"fmt"
	"math"
	"testing"
)

// The numbers here are exact and worked out by hand or from the published
// example named beside each; near allows rounding in the last printed digit.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %.12f, want %.12f", what, got, want)
	}
}

// trap is a table on which the greedy rule goes wrong (computed for this very
// matrix: five faults, five two-way tests of equal cost).
func trap() *Table {
	rows := []string{"00000", "01001", "00110", "10011", "11000"}
	t := &Table{Prior: []float64{.70, .01, .02, .10, .17}, Class: []int{0, 1, 2, 3, 4}}
	for i := range rows[0] {
		answers := make([]float64, len(rows))
		for s, row := range rows {
			answers[s] = float64(row[i] - '0')
		}
		t.Tests = append(t.Tests, Answers(1, answers...))
	}
	return t
}

func TestGreedyTrap(t *testing.T) {
	table := trap()
	cost, first, ok := table.Optimum()
	if !ok || first != 1 {
		t.Errorf("the optimum starts with test %d, want 2 (ok %v)", first+1, ok)
	}
	near(t, "optimum", cost, 2.12, 1e-12)
	b := table.Start()
	if i := Greedy(table, &b, table.Useful(&b)); i != 0 {
		t.Errorf("greedy starts with test %d, want 1", i+1)
	}
	near(t, "greedy", table.Expect(Greedy).Minutes, 2.71, 1e-12)
	near(t, "entropy bound", EntropyBound(table.Prior, 2), 1.306297, 5e-7)
	near(t, "Huffman bound", Huffman(table.Prior), 1.46, 1e-12)
	near(t, "rollout", table.Expect(Rollout(0)).Minutes, 2.12, 1e-12)
}

// Kadane and Simon's rule for a search with certain checks (computed).
func TestSearchOrder(t *testing.T) {
	p, c := []float64{.5, .3, .2}, []float64{10, 2, 1}
	if got := fmt.Sprint(SearchOrder(p, c)); got != "[2 1 0]" {
		t.Errorf("order %s, want 3, 2, 1", got)
	}
	costs := map[string]float64{}
	for _, o := range [][]int{{2, 1, 0}, {1, 2, 0}, {2, 0, 1}, {1, 0, 2}, {0, 2, 1}, {0, 1, 2}} {
		costs[fmt.Sprint(o)] = SearchCost(p, c, o)
	}
	for order, want := range map[string]float64{"[2 1 0]": 7.6, "[1 2 0]": 7.7, "[2 0 1]": 9.6, "[1 0 2]": 9.2, "[0 2 1]": 11.1, "[0 1 2]": 11.2} {
		near(t, "order "+order, costs[order], want, 1e-12)
	}
}

// Closed forms of the gain of one reading (computed).
func TestExactGain(t *testing.T) {
	type spread struct{ weight, lo, hi float64 }
	for _, c := range []struct {
		what    string
		spreads []spread
		want    float64
	}{
		{"half and half on [0,2] and [1,3]", []spread{{.5, 0, 2}, {.5, 1, 3}}, 0.5},
		{"1/2 1/4 1/4 on [23,25] [0,1] [0,1]", []spread{{.5, 23, 25}, {.25, 0, 1}, {.25, 0, 1}}, 1.0},
		{".9 and .1 apart", []spread{{.9, 0, 1}, {.1, 2, 3}}, 0.468995593589},
		{"half and half on [0,4] and [1,2]", []spread{{.5, 0, 4}, {.5, 1, 2}}, 0.548794940695},
	} {
		var m Mixture
		m.Reset(len(c.spreads))
		for class, s := range c.spreads {
			m.Add(class, s.weight, s.lo, s.hi)
		}
		near(t, c.what, m.Gain(), c.want, 1e-12)
	}
}

// Findings, not faults: a and b share a finding, so telling them apart is
// worth nothing (computed).
func TestGainOverFindings(t *testing.T) {
	table := &Table{Prior: []float64{.5, .2, .3}, Class: []int{0, 0, 1},
		Tests: []Test{Answers(1, 0, 1, 1), Answers(1, 0, 0, 1)}}
	b := table.Start()
	var m Mixture
	near(t, "fault gain of a|bc", table.StateGainOf(&m, &b, 0), 1, 1e-12)
	near(t, "fault gain of c|ab", table.StateGainOf(&m, &b, 1), .8813, 5e-5)
	near(t, "finding gain of a|bc", table.GainOf(&m, &b, 0), .3958, 5e-5)
	near(t, "finding gain of c|ab", table.GainOf(&m, &b, 1), .8813, 5e-5)
	if i := Greedy(table, &b, table.Useful(&b)); i != 1 {
		t.Errorf("greedy takes test %d, want c|ab", i+1)
	}
}

// The 60 Hz series circuit that ngspice 39.3 and a dense solve agree on to
// 1e-13: source, contact, coil and return, seven faults and a dead source, with
// readings within 2 % + 0.1 V (amps 2 % + 5 mA) taken as one.
func TestReferenceCircuit(t *testing.T) {
	names := []string{"R-C", "A-Y", "Y-C", "K-k2", "k2-C", "amps"}
	readings := [][]float64{
		{23.9069, .0106, 23.8896, 23.7746, .1064, .21280}, // none
		{24.0000, 23.9998, 0, 0, 0, 0},                    // contact open
		{23.8987, 4.6803, 21.0176, 20.9165, .0936, .18721},
		{24.0000, 0, 24.0000, 0, 0, 0},       // out wire open
		{24.0000, 0, 24.0000, 24.0000, 0, 0}, // coil open
		{19.1392, .3038, 18.2278, 12.1519, 3.0380, 6.07595},
		{24.0000, 0, 24.0000, 0, 23.9999, 0}, // return open
		{0, 0, 0, 0, 0, 0},                   // dead source
	}
	table := &Table{}
	for s := range readings {
		table.Prior, table.Class = append(table.Prior, 1), append(table.Class, s)
	}
	for i := range names {
		floor := .1
		if names[i] == "amps" {
			floor = .005
		}
		table.Tests = append(table.Tests, Answers(1, grouped(readings, i, floor)...))
	}
	b := table.Start()
	var m Mixture
	for i, want := range []float64{1.0613, 1.5488, 1.75, 1.75, 1.0613} {
		near(t, "gain of "+names[i], table.GainOf(&m, &b, i), want, 5e-5)
	}
	cost, first, ok := table.Optimum()
	if !ok || names[first] != "Y-C" {
		t.Errorf("the optimum starts with %s, want Y-C", names[first])
	}
	near(t, "fewest readings", cost, 9.0/4, 1e-12)
	table.Tests = table.Tests[:5]
	if left := table.Expect(Rollout(0)).Classes; math.Abs(left-10.0/8) > 1e-12 {
		t.Errorf("volts alone leave %.3f on average, want one pair of eight", left)
	}
}

// grouped numbers the groups of readings whose ranges overlap.
func grouped(readings [][]float64, i int, floor float64) []float64 {
	group := make([]float64, len(readings))
	for s := range group {
		group[s] = float64(s)
	}
	for changed := true; changed; {
		changed = false
		for a := range readings {
			for b := range readings {
				x, y := readings[a][i], readings[b][i]
				if group[b] > group[a] && math.Abs(x-y) <= .02*(x+y)+2*floor {
					group[b], changed = group[a], true
				}
			}
		}
	}
	return group
}
