package suspects

import "stepdown/engine/house"

// doubtLeast is how likely an alternative must still be, beside what is left,
// for a reading to be made again on its account.
const doubtLeast = 1e-4

// confirm proposes the reading most of the doubt hangs on, to be made once
// more: the one that alone stands against the likeliest findings that were
// ruled out. It is not ok where nothing hangs on one reading.
func (c *Call) confirm(allow Allow, at house.Setup, rested bool) (Proposal, bool) {
	least := c.least()
	doubt := make([]float64, len(c.seen))
	left := map[house.Finding]bool{}
	for h := range c.hyps {
		if c.hyps[h].candidate && c.belief.misfits[h] == least {
			left[c.hyps[h].finding] = true
		}
	}
	for h := range c.hyps {
		if !c.hyps[h].candidate || c.belief.misfits[h] != least+1 || left[c.hyps[h].finding] {
			continue
		}
		for i, s := range c.seen {
			if _, inside := fit(c.pieces(h, c.cols[i], s.Rested), s.at()); !inside {
				doubt[i] += c.belief.weight[h]
			}
		}
	}
	best := -1
	for i, s := range c.seen {
		if s.Confirmed || doubt[i] < doubtLeast || allow != nil && !allow(s.goal()) {
			continue
		}
		if best < 0 || doubt[i] > doubt[best] {
			best = i
		}
	}
	if best < 0 {
		return Proposal{}, false
	}
	s := c.seen[best]
	price := newPrices(c.engine.weights.Minutes, at, rested)
	minutes, needs := price.of(s.goal(), s.Rested)
	for bit, visit := range price.visits {
		if needs&^price.paid&(1<<bit) != 0 {
			minutes += visit
		}
	}
	return Proposal{Goal: s.goal(), Rested: s.Rested, Minutes: minutes, Retake: true}, true
}
