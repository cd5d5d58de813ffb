package suspects

import (
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// pairing is two faults at once that explain everything seen.
type pairing struct {
	faults [2]house.Fault
	sheet  int
	weight float64
}

// pairDraws is how many houses pairs are tried in; pairLeft is how many readings
// neither of two faults need explain by itself, since together they may.
const (
	pairDraws = 8
	pairLeft  = 1
	pairLeast = 0.02 // a pair less likely is not named
)

// Pairs looks for two faults at once, once no single one explains what was
// seen (and the reading stands). It reports how many it found.
func (c *Call) Pairs() (int, error) {
	c.pairs = c.pairs[:0]
	if c.Left() > 0 || len(c.seen) == 0 {
		return 0, nil
	}
	for i := range c.sheets {
		if err := c.pairSheet(i); err != nil {
			return 0, err
		}
	}
	var sum float64
	for h := range c.hyps {
		if c.hyps[h].candidate {
			sum += c.start[h] * c.likelihood(func(i int) []forecast.Piece { return c.pieces(h, c.cols[i], c.seen[i].Rested) })
		}
	}
	for _, p := range c.pairs {
		sum += p.weight
	}
	for i := range c.pairs {
		c.pairs[i].weight /= sum
	}
	c.pairs = slices.DeleteFunc(c.pairs, func(p pairing) bool { return p.weight < pairLeast })
	slices.SortFunc(c.pairs, func(a, b pairing) int {
		switch {
		case a.weight > b.weight:
			return -1
		case a.weight < b.weight:
			return 1
		}
		return 0
	})
	return len(c.pairs), nil
}

// pairSheet tries the pairs of one equipment: those whose members between them
// explain every reading are put into the model together.
func (c *Call) pairSheet(sheet int) error {
	var members []int // hypotheses
	for h := range c.hyps {
		if c.hyps[h].sheet == sheet && c.hyps[h].fault != house.None {
			members = append(members, h)
		}
	}
	explains := c.explained(members)
	sets := Diagnoses(len(members), 2, func(set []int) bool {
		if len(set) < 2 || !c.hyps[members[set[0]]].candidate && !c.hyps[members[set[1]]].candidate {
			return false
		}
		left := 0
		for i := range c.seen {
			if !explains[set[0]][i] && !explains[set[1]][i] {
				left++
			}
		}
		return left <= pairLeft
	})
	rows := make([]forecast.Faults, len(sets))
	for i, set := range sets {
		rows[i] = forecast.Faults{c.hyps[members[set[0]]].fault, c.hyps[members[set[1]]].fault}
	}
	if len(rows) == 0 {
		return nil
	}
	goals := make([]forecast.Goal, len(c.seen))
	for i, s := range c.seen {
		goals[i] = s.goal()
	}
	columns, err := c.sheets[sheet].Together(goals, rows, pairDraws)
	if err != nil {
		return err
	}
	for r, faults := range rows {
		w := c.engine.weights.Pair * c.start[members[sets[r][0]]] * c.start[members[sets[r][1]]]
		w *= c.likelihood(func(i int) []forecast.Piece { return columns[i].Row(r) })
		c.pairs = append(c.pairs, pairing{faults: faults, sheet: sheet, weight: w})
	}
	return nil
}

// likelihood is how well pieces, by reading, explain everything seen, slips
// counted.
func (c *Call) likelihood(pieces func(i int) []forecast.Piece) float64 {
	product := 1.0
	for i, s := range c.seen {
		density, _ := fit(pieces(i), s.at())
		product *= likelihood(density, forecast.Span(s.Probe), c.slip(s), c.belief.fresh)
	}
	return product
}

// explained tells, by member and reading, whether the member by itself may
// show it.
func (c *Call) explained(members []int) [][]bool {
	out := make([][]bool, len(members))
	for k, h := range members {
		out[k] = make([]bool, len(c.seen))
		for i, s := range c.seen {
			_, out[k][i] = fit(c.pieces(h, c.cols[i], s.Rested), s.at())
		}
	}
	return out
}
