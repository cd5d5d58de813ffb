package suspects

import (
	"math"
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
// of a look, or for each stretch of readings that leaves the same. One group is
// a probe that splits nothing.
func (c *Call) Splits(g forecast.Goal, rested bool) ([]Split, error) {
	live, err := c.live()
	if err != nil {
		return nil, err
	}
	columns, err := c.columnsOf(g)
	if err != nil {
		return nil, err
	}
	test := candidate{goal: g, rested: rested, columns: columns[0]}
	if err := c.fillUnder(&test, live); err != nil {
		return nil, err
	}
	return c.splits(live, test), nil
}

func (c *Call) splits(live []int, test candidate) []Split {
	probe := test.goal.Probe
	var ends, values []float64
	for _, h := range live {
		for _, p := range test.pieces(c, h) {
			ends = append(ends, p.Lo, p.Hi)
			if p.Lo == p.Hi {
				values = append(values, p.Lo)
			}
		}
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	var out []Split
	from, reach := math.Inf(-1), math.Inf(-1) // of the last group
	add := func(lo, hi float64) {
		faults := c.within(live, test, lo, hi)
		if len(faults) == 0 {
			return
		}
		last := len(out) - 1
		narrow := hi-lo < tolerance(probe, lo) || reach-from < tolerance(probe, from)
		if lo < hi && reach == lo && last >= 0 && (narrow || slices.Equal(out[last].Faults, faults)) {
			out[last].join(faults)
		} else {
			out = append(out, Split{Faults: faults})
			last++
			out[last].begin(probe, lo)
			from = lo
		}
		out[last].Hi = forecast.Reading(probe.Quantity, hi)
		reach = hi
	}
	for i, lo := range ends {
		if slices.Contains(values, lo) {
			add(lo, lo)
		}
		if i+1 < len(ends) {
			add(lo, ends[i+1])
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

// within lists the faults that may show all from lo to hi.
func (c *Call) within(live []int, test candidate, lo, hi float64) []house.Fault {
	var out []house.Fault
	for _, h := range live {
		f := c.hyps[h].fault
		if !slices.Contains(out, f) && slices.ContainsFunc(test.pieces(c, h), func(p forecast.Piece) bool { return p.Lo <= lo && hi <= p.Hi }) {
			out = append(out, f)
		}
	}
	slices.Sort(out)
	return out
}

// join adds faults to a group.
func (s *Split) join(faults []house.Fault) {
	s.Faults = append(s.Faults, faults...)
	slices.Sort(s.Faults)
	s.Faults = slices.Compact(s.Faults)
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
