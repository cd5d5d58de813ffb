package suspects

import (
	"math"
	"sort"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// Suspect is a fault that still explains everything seen, and how likely it
// is. Over all suspects this sums to less than 1: the rest is for slips and
// for faults that come and go.
type Suspect struct {
	Fault       house.Fault
	Probability float64
	// With is the second fault, where only two at once explain what was seen.
	With house.Fault
}

// Explanation is what still explains a call, most likely first, and how many
// faults were ruled out.
type Explanation struct {
	Left     []Suspect
	RuledOut int
}

// Explain gives the faults consistent with everything seen; where no single
// one is, the pairs.
func (c *Call) Explain() Explanation {
	var candidates house.FaultSet
	sum := map[house.Fault]float64{}
	for h := range c.hyps {
		hyp := &c.hyps[h]
		if hyp.candidate {
			candidates = candidates.Add(hyp.fault)
		}
		if c.consistent(h) {
			sum[hyp.fault] += c.belief.weight[h]
		}
	}
	x := Explanation{RuledOut: len(candidates.List()) - len(sum)}
	for f, p := range sum {
		x.Left = append(x.Left, Suspect{Fault: f, Probability: p})
	}
	if len(x.Left) == 0 {
		for _, p := range c.pairs {
			x.Left = append(x.Left, Suspect{Fault: p.faults[0], With: p.faults[1], Probability: p.weight})
		}
	}
	sort.Slice(x.Left, func(i, j int) bool {
		a, b := x.Left[i], x.Left[j]
		if a.Probability != b.Probability {
			return a.Probability > b.Probability
		}
		return a.Fault < b.Fault || a.Fault == b.Fault && a.With < b.With
	})
	return x
}

// Speaks is what one reading said about one fault.
type Speaks struct {
	Seen    Seen
	Against bool // it lies outside what the fault shows
	// Bits is how much likelier the fault shows it than what is left does on
	// average; under 0 where it is less likely.
	Bits float64
}

// Evidence lists, for a fault, what every reading so far said about it.
func (c *Call) Evidence(f house.Fault) []Speaks {
	out := make([]Speaks, len(c.seen))
	for i, s := range c.seen {
		x, span := s.at(), forecast.Span(s.Probe)
		inside := false
		var mine, mineSum, all, allSum float64
		for h := range c.hyps {
			hyp := &c.hyps[h]
			if !hyp.candidate || hyp.fault != f && !c.consistent(h) {
				continue
			}
			density, in := fit(c.pieces(h, c.cols[i], s.Rested), x)
			likely := c.start[h] * likelihood(density, span, c.slip(s), 1)
			if hyp.fault == f {
				inside = inside || in
				mine, mineSum = mine+likely, mineSum+c.start[h]
			}
			if c.consistent(h) {
				all, allSum = all+likely, allSum+c.start[h]
			}
		}
		out[i] = Speaks{Seen: s, Against: !inside}
		if mine > 0 && all > 0 {
			out[i].Bits = math.Log2(mine / mineSum * allSum / all)
		}
	}
	return out
}

// Explain opens a call, takes everything seen in order and explains it: for
// who keeps the readings himself. A fault is given once, whatever the equipment.
func (e *Engine) Explain(c Case, seen []Seen) (Explanation, error) {
	call, err := e.Open(c)
	if err != nil {
		return Explanation{}, err
	}
	if _, err := call.Observe(seen...); err != nil {
		return Explanation{}, err
	}
	return call.Explain(), nil
}
