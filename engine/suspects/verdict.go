package suspects

import (
	"slices"
	"sort"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// Verdict is where a call led by the suspects alone stands: the findings a
// call may end with, most likely first. One is a diagnosis; more are undecided.
type Verdict struct {
	Faults   []house.Fault
	Findings []house.Finding
	Condemns bool
}

// Verdict gives the faults left. A thermostat is named only where two readings
// speak against every other fault, and no slip kept up through the whole call
// explains everything with a good thermostat; until then what might be behind
// it stays in.
func (c *Call) Verdict() (Verdict, error) {
	live, err := c.live()
	if err != nil {
		return Verdict{}, err
	}
	weight := map[house.Fault]float64{}
	finding := map[house.Fault]house.Finding{}
	for _, h := range live {
		weight[c.hyps[h].fault] += c.belief.weight[h]
		finding[c.hyps[h].fault] = c.hyps[h].finding
	}
	if two := c.two(); len(two) > 0 {
		var sum float64
		for _, w := range weight {
			sum += w
		}
		for f := range weight {
			weight[f] *= max(0, 1-share(two)) / sum
		}
		for _, p := range two {
			for _, f := range p.faults {
				weight[f] += p.weight
				finding[f] = house.FindingOf(f, c.sheets[p.sheet].Kind().Equipment)
			}
		}
	}
	v := Verdict{Condemns: len(weight) > 0}
	for f := range weight {
		v.Faults = append(v.Faults, f)
		v.Condemns = v.Condemns && f.Condemns()
	}
	sort.Slice(v.Faults, func(i, j int) bool {
		a, b := v.Faults[i], v.Faults[j]
		if weight[a] != weight[b] {
			return weight[a] > weight[b]
		}
		return a < b
	})
	seen := map[house.Finding]bool{}
	for _, f := range v.Faults {
		if id := finding[f]; !seen[id] {
			seen[id] = true
			v.Findings = append(v.Findings, id)
		}
	}
	return v, nil
}

// two are the pairs to be named: because nothing explains everything by itself,
// or because they are likelier than what does.
func (c *Call) two() []pairing {
	switch {
	case c.least() > 0:
		return c.pairs
	case c.doubted():
		return slices.DeleteFunc(slices.Clone(c.beside), func(p pairing) bool { return p.weight < pairLeast })
	}
	return nil
}

// least is the fewest readings any candidate leaves unexplained: 0 but for a
// contradiction that stands.
func (c *Call) least() uint8 {
	least := uint8(255)
	for h := range c.hyps {
		if c.hyps[h].candidate {
			least = min(least, c.belief.misfits[h])
		}
	}
	return least
}

// live lists the hypotheses a call must still tell apart: those that explain
// everything (all but the fewest readings, where nothing explains everything)
// and, where all of those would replace a thermostat, what may be behind it.
func (c *Call) live() ([]int, error) {
	var live []int
	clear(c.under)
	condemns := true
	least := c.least()
	for h := range c.hyps {
		if c.hyps[h].candidate && c.belief.misfits[h] == least {
			live = append(live, h)
			condemns = condemns && c.hyps[h].fault.Condemns()
		}
	}
	if !condemns {
		return live, nil
	}
	for h := range c.hyps {
		if c.hyps[h].fault.Condemns() || !c.hyps[h].candidate {
			continue
		}
		slip, behind, err := c.behind(h)
		if err != nil {
			return nil, err
		}
		if behind {
			live = append(live, h)
			c.under[h] = slip
		}
	}
	if least > 0 && c.allCondemn(live) {
		live = append(live, c.nearest()...)
	}
	return live, nil
}

// allCondemn reports whether all hypotheses would replace a thermostat.
func (c *Call) allCondemn(live []int) bool {
	return !slices.ContainsFunc(live, func(h int) bool { return !c.hyps[h].fault.Condemns() })
}

// nearest are the candidates with a good thermostat that leave the fewest readings
// unexplained: while a contradiction stands, none is condemned without them.
func (c *Call) nearest() []int {
	var out []int
	fewest := uint8(255)
	for h := range c.hyps {
		if c.hyps[h].fault.Condemns() || !c.hyps[h].candidate {
			continue
		}
		if n := c.belief.misfits[h]; n < fewest {
			fewest, out = n, out[:0]
		}
		if c.belief.misfits[h] == fewest {
			out = append(out, h)
		}
	}
	return out
}

// behind reports whether a good thermostat with this fault explains everything
// seen but for one reading, or with one slip kept up throughout, and with which.
func (c *Call) behind(h int) (Slip, bool, error) {
	if c.belief.misfits[h] <= c.least()+1 {
		return NoSlip, true, nil
	}
	for slip := CallNotMade; slip < Misread; slip++ {
		all := true
		for i, s := range c.seen {
			pieces, err := c.kept(h, i, slip)
			if err != nil {
				return NoSlip, false, err
			}
			if _, inside := fit(pieces, s.at()); !inside {
				all = false
				break
			}
		}
		if all {
			return slip, true, nil
		}
	}
	return NoSlip, false, nil
}

// kept is what hypothesis h shows on reading i where a slip is kept up.
func (c *Call) kept(h, i int, slip Slip) ([]forecast.Piece, error) {
	s := c.seen[i]
	pieces, err := c.slipPieces(h, s, slip)
	if err != nil || pieces != nil {
		return pieces, err
	}
	return c.pieces(h, c.cols[i], s.Rested), nil
}
