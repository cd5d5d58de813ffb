package prove

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
	"stepdown/engine/quantity"
)

// scope is what somebody who reads a meter knows of the house.
type scope int

const (
	thisHouse scope = iota // what every fault reads in it
	anyHouse               // what every fault may read in a house of its kind
)

// table is the faults as states, the healthy house after them where it is asked
// for, and the probes as tests. Readings that are not told apart are one answer.
// Of tests that part the states alike the cheapest stay, unless the healthy
// house is among them: a chart makes them all.
func (b *costBench) table(s *stage, a *act, in scope, faults []house.Fault) *policy.Table {
	n, healthy := len(faults), len(faults) > len(b.faults)
	t := &policy.Table{Prior: b.weight}
	for _, f := range b.faults {
		t.Class = append(t.Class, int(s.keys[house.Tech][f]))
	}
	if healthy {
		t.Prior = append(slices.Clone(b.weight), 1e-6)
		t.Class = append(t.Class, len(house.Findings()))
	}
	seen := map[string][]policy.Test{}
	for i, g := range b.tests {
		shows := b.shows[i][:n]
		answers, distinct := cluster(g.probe, shows)
		if in == anyHouse && distinct > 1 {
			answers, distinct = confused(answers, shows, stretches(a.rows, b.column[i], faults))
		}
		minutes, needs := b.till.Of(b.priced(g.setup), g.probe, false)
		test := policy.Answers(minutes, answers...)
		test.Needs = needs
		key := fmt.Sprint(answers)
		if !healthy && (distinct < 2 || slices.ContainsFunc(seen[key], func(o policy.Test) bool {
			return o.Needs&^needs == 0 && o.Minutes <= minutes
		})) {
			continue
		}
		seen[key] = append(seen[key], test)
		t.Tests = append(t.Tests, test)
	}
	t.Visits = b.till.Visits
	return t
}

// cluster numbers the answers that a meter can tell apart.
func cluster(p house.Probe, shows []float64) (answers []float64, distinct int) {
	sorted := slices.Clone(shows)
	slices.SortFunc(sorted, func(a, b float64) int { return cmp.Compare(a, b) }) // NaN first
	number := make([]float64, len(sorted))
	for i := 1; i < len(sorted); i++ {
		number[i] = number[i-1]
		if a, b := sorted[i-1], sorted[i]; math.IsNaN(a) != math.IsNaN(b) || b-a > apart(p, b) {
			number[i]++
		}
	}
	answers = make([]float64, len(shows))
	for i, x := range shows {
		at, _ := slices.BinarySearchFunc(sorted, x, func(a, b float64) int { return cmp.Compare(a, b) })
		answers[i] = number[at]
	}
	return answers, int(number[len(number)-1]) + 1
}

// apart is how far two readings lie apart that no meter confuses.
func apart(p house.Probe, x float64) float64 {
	switch {
	case p.IsLook():
		return 0
	case p.Quantity == quantity.Resistance:
		return 0.1 // of the logarithm
	case p.Quantity == quantity.Current:
		return 2 * circuit.MeterAccuracy(p.Quantity).Guard(x)
	}
	return 2 * (circuit.MeterAccuracy(p.Quantity).Guard(x) + marginVolts)
}

// stretch is a part of the forecast's axis.
type stretch struct{ lo, hi float64 }

// stretches are the parts of the axis that the faults cover between them on one
// probe in all drawn houses, the meter's error and the guard band with them; what
// touches is one.
func stretches(rows []house.Fault, c *forecast.Column, faults []house.Fault) []stretch {
	var all, out []stretch
	for r, f := range rows {
		if slices.Contains(faults, f) {
			for _, p := range c.Row(r) {
				all = append(all, stretch{p.Lo, p.Hi})
			}
		}
	}
	slices.SortFunc(all, func(a, b stretch) int { return cmp.Compare(a.lo, b.lo) })
	for _, s := range all {
		if k := len(out) - 1; k >= 0 && s.lo <= out[k].hi {
			out[k].hi = max(out[k].hi, s.hi)
			continue
		}
		out = append(out, s)
	}
	return out
}

// confused makes one answer of those whose readings lie in one stretch: what
// shows the one here may show the other in another house. Shows are the readings
// behind the answers; what is one answer already stays one.
func confused(answers, shows []float64, all []stretch) (merged []float64, distinct int) {
	merged = slices.Clone(answers)
	for _, s := range all {
		first := math.NaN() // the answer of the stretch
		for i, x := range shows {
			if math.IsNaN(x) || x < s.lo || x > s.hi || merged[i] == first {
				continue
			}
			if math.IsNaN(first) {
				first = merged[i]
				continue
			}
			for k, other := 0, merged[i]; k < len(merged); k++ {
				if merged[k] == other {
					merged[k] = first
				}
			}
		}
	}
	sorted := slices.Clone(merged)
	slices.Sort(sorted)
	return merged, len(slices.Compact(sorted))
}
