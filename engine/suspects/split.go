package suspects

import (
	"cmp"
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Split is one thing a probe may show, and the faults left that may show it. A
// fault that may show several stands in several.
type Split struct {
	Faults []house.Fault
	// Answer is a look's; a reading lies from Lo to Hi, a single value where
	// both are the same.
	Answer house.Answer
	Lo, Hi quantity.Reading
}

// Splits says what a probe would leave of what is left: a group for each answer
// of a look, or for each stretch of readings that no others lie near. One group
// is a probe that splits nothing.
func (c *Call) Splits(g forecast.Goal, rested bool) ([]Split, error) {
	live, err := c.live()
	if err != nil {
		return nil, err
	}
	columns, err := c.columnsOf(g)
	if err != nil {
		return nil, err
	}
	return c.splits(live, candidate{goal: g, rested: rested, columns: columns[0]}), nil
}

func (c *Call) splits(live []int, test candidate) []Split {
	type stretch struct {
		forecast.Piece
		fault house.Fault
	}
	var all []stretch
	for _, h := range live {
		for _, p := range c.pieces(h, test.columns, test.rested) {
			all = append(all, stretch{p, c.hyps[h].fault})
		}
	}
	probe := test.goal.Probe
	slices.SortStableFunc(all, func(a, b stretch) int {
		return cmp.Or(cmp.Compare(a.Lo, b.Lo), cmp.Compare(a.fault, b.fault))
	})
	var out []Split
	reach := 0.0
	for i, s := range all {
		if i == 0 || s.Lo > reach+tolerance(probe, reach) {
			out = append(out, Split{})
			reach = s.Hi
			out[len(out)-1].begin(probe, s.Lo)
		}
		reach = max(reach, s.Hi)
		last := &out[len(out)-1]
		last.Hi = forecast.Reading(probe.Quantity, reach)
		if !slices.Contains(last.Faults, s.fault) {
			last.Faults = append(last.Faults, s.fault)
		}
	}
	return out
}

func (s *Split) begin(p house.Probe, x float64) {
	if p.IsLook() {
		s.Answer = house.Answer(x)
		return
	}
	s.Lo = forecast.Reading(p.Quantity, x)
}

// Ruled is what one reading ruled out that none before it had.
type Ruled struct {
	Seen   Seen
	Faults []house.Fault
}

// Ruled lists, by reading, the candidates it ruled out first.
func (c *Call) Ruled() []Ruled {
	first := map[house.Fault]int{} // the latest of the first misfits of a fault's hypotheses; -1: it stands
	for h := range c.hyps {
		if !c.hyps[h].candidate {
			continue
		}
		at := c.firstMisfit(h)
		was, known := first[c.hyps[h].fault]
		if !known || was >= 0 && (at < 0 || at > was) {
			first[c.hyps[h].fault] = at
		}
	}
	out := make([]Ruled, len(c.seen))
	for i := range out {
		out[i].Seen = c.seen[i]
	}
	for f, at := range first {
		if at >= 0 {
			out[at].Faults = append(out[at].Faults, f)
		}
	}
	for i := range out {
		slices.Sort(out[i].Faults)
	}
	return out
}

// firstMisfit is the first reading outside what hypothesis h shows, -1 where
// there is none.
func (c *Call) firstMisfit(h int) int {
	if c.belief.misfits[h] == 0 {
		return -1
	}
	for i, s := range c.seen {
		if _, inside := fit(c.pieces(h, c.cols[i], s.Rested), s.at()); !inside {
			return i
		}
	}
	return -1
}
