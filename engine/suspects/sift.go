package suspects

import (
	"cmp"
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// sift puts pairs into the model one setup after the other, those first in which
// most of them hang on one of the two faults alone, and goes on only with those
// that keep keeps: hundreds can be thought of, and few of them explain much.
func (c *Call) sift(list []pairing, sheet, draws int, keep func([]pairing) []pairing) ([]pairing, error) {
	for i := range list {
		list[i].weight, list[i].misfit = list[i].prior, 0
	}
	for at, step := range c.steps(list, sheet) {
		if len(list) == 0 {
			break
		}
		var goals []forecast.Goal
		if at == 0 {
			goals = c.asked()
		}
		symptoms := len(goals)
		for _, i := range step {
			goals = append(goals, c.seen[i].goal())
		}
		columns, err := c.engine.joints.show(c.sheets[sheet], goals, faultsOf(list), draws)
		if err != nil {
			return nil, err
		}
		for r := range list {
			p := &list[r]
			if at == 0 {
				shows := c.shows(func(i int) []forecast.Piece { return withChatter(c.symptoms[i].Look, columns[i].Row(r)) })
				p.take(c.complains(shows), shows > 0)
			}
			for k, i := range step {
				p.take(c.likelihoodOf(c.seen[i], columns[symptoms+k].Row(r)))
			}
		}
		list = keep(list)
	}
	return list, nil
}

// steps are the readings by setup; those first that fewest pairs explain by both
// of their faults.
func (c *Call) steps(list []pairing, sheet int) [][]int {
	explains := map[house.Fault][]bool{}
	for _, m := range c.members(sheet) {
		explains[m.fault] = m.explains
	}
	doubt := map[house.Setup]int{}
	by := map[house.Setup][]int{}
	var order []house.Setup
	for i, s := range c.seen {
		setup := s.goal().Key().Setup
		if _, ok := by[setup]; !ok {
			order = append(order, setup)
		}
		by[setup] = append(by[setup], i)
		for _, p := range list {
			if !explains[p.faults[0]][i] || !explains[p.faults[1]][i] {
				doubt[setup]++
			}
		}
	}
	slices.SortStableFunc(order, func(a, b house.Setup) int { return cmp.Compare(doubt[b], doubt[a]) })
	out := make([][]int, len(order))
	for i, setup := range order {
		out[i] = by[setup]
	}
	return out
}

// take weighs one thing seen into a pair.
func (p *pairing) take(likelihood float64, fits bool) {
	p.weight *= likelihood
	if !fits {
		p.misfit++
	}
}

// nearly keeps the pairs that explain all so far but one reading, which more
// houses may show.
func nearly(list []pairing) []pairing {
	return slices.DeleteFunc(list, func(p pairing) bool { return p.misfit > 1 })
}

// siftShare is how much less likely than the last of the best pairs one must be
// to be left: by about two readings that do not fit.
const siftShare = 1e-4

// foremost keeps the best pairs and those they are not far ahead of.
func foremost(list []pairing) []pairing {
	if len(list) <= pairsMost {
		return list
	}
	best := slices.SortedFunc(slices.Values(list), heavier)
	least := siftShare * best[pairsMost-1].weight
	return slices.DeleteFunc(list, func(p pairing) bool { return p.weight < least })
}
