package suspects

import (
	"cmp"
	"math"
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// pairing is two faults at once that explain everything seen.
type pairing struct {
	faults forecast.Faults
	sheet  int
	prior  float64
	weight float64
	misfit int // readings that lie outside what the two show, the complaint among them
}

// pairDraws is how many houses pairs are tried in, and the pairsMost best of them
// in all; pairsTried is how many readings of pairs are worked out at most.
const (
	pairDraws  = 8
	pairsTried = 8000
	pairsMost  = 24
	pairLeast  = 0.02 // a pair less likely is not named, but for the likeliest where it explains all
)

// Pairs looks for two faults at once, once no single one explains what was
// seen (and the reading stands). It reports how many it found.
func (c *Call) Pairs() (int, error) {
	c.pairs = c.pairs[:0]
	if c.Left() > 0 || len(c.seen) == 0 {
		return 0, nil
	}
	for sheet := range c.sheets {
		list := c.together(sheet, pairsTried, func(_, _ *member) bool { return true })
		list, err := c.sift(list, sheet, pairDraws, foremost)
		if err == nil {
			slices.SortStableFunc(list, heavier)
			list, err = c.weighed(worthwhile(list), sheet, 0)
		}
		if err != nil {
			return 0, err
		}
		c.pairs = append(c.pairs, list...)
	}
	var sum float64
	for h := range c.hyps {
		if c.hyps[h].candidate {
			sum += c.alone(h)
		}
	}
	for _, p := range c.pairs {
		sum += p.weight
	}
	for i := range c.pairs {
		c.pairs[i].weight /= sum
	}
	slices.SortStableFunc(c.pairs, heavier)
	named := slices.IndexFunc(c.pairs, func(p pairing) bool { return p.weight < pairLeast })
	if named == 0 && c.pairs[0].misfit == 0 {
		named = 1
	}
	if named >= 0 {
		c.pairs = c.pairs[:named]
	}
	return len(c.pairs), nil
}

// share is how likely it is that one of some pairs is there.
func share(pairs []pairing) float64 {
	var sum float64
	for _, p := range pairs {
		sum += p.weight
	}
	return sum
}

// worthwhile are the best of weighed pairs, without those that no more houses
// would make likely beside the very best.
func worthwhile(list []pairing) []pairing {
	list = list[:min(pairsMost, len(list))]
	return slices.DeleteFunc(list, func(p pairing) bool { return p.weight < siftShare*list[0].weight })
}

func heavier(a, b pairing) int { return cmp.Compare(b.weight, a.weight) }

// together lists the pairs of one equipment's faults that may be there at once,
// one of them at least by itself a candidate; the likeliest first by what each
// shows alone, as many as tried readings are enough for.
func (c *Call) together(sheet, tried int, may func(a, b *member) bool) []pairing {
	members := c.members(sheet)
	var out []pairing
	for _, set := range Diagnoses(len(members), 2, func(set []int) bool {
		if len(set) < 2 {
			return false
		}
		a, b := &members[set[0]], &members[set[1]]
		return (a.candidate || b.candidate) && may(a, b)
	}) {
		a, b := &members[set[0]], &members[set[1]]
		clashes, open := clash(a, b)
		if clashes > clashesMost {
			continue
		}
		prior := c.engine.weights.Pair * a.prior * b.prior
		hope := prior * math.Pow(clashShare, float64(clashes)) * math.Pow(openShare, float64(open))
		out = append(out, pairing{faults: forecast.Faults{a.fault, b.fault}, sheet: sheet, prior: prior, weight: hope})
	}
	slices.SortStableFunc(out, heavier)
	return out[:min(tried/(1+len(c.seen)), len(out))]
}

// A pair may show a reading against what its faults show by themselves, where one
// hides the other: in at most clashesMost readings, and less likely by clashShare
// each. Where both act on a reading and neither shows it, what they show
// together is open.
const (
	clashesMost = 2
	clashShare  = 0.1
	openShare   = 0.5
)

// clash counts the readings that speak against a pair, and those that it leaves
// open, by what its faults show alone. A fault that does not act on a reading
// leaves it to the other.
func clash(a, b *member) (clashes, open int) {
	for i := range a.explains {
		switch {
		case a.acts[i] && b.acts[i]:
			if !a.explains[i] && !b.explains[i] {
				open++
			}
		case a.acts[i] && !a.explains[i], b.acts[i] && !b.explains[i], !a.explains[i] && !b.explains[i]:
			clashes++
		}
	}
	return clashes, open
}

// weighed puts pairs into the model and weighs them by everything seen, so many
// houses standing for all; the heaviest first. What the second fault shows by
// itself is no matter: the complaint is held against both.
func (c *Call) weighed(list []pairing, sheet, draws int) ([]pairing, error) {
	if len(list) == 0 {
		return nil, nil
	}
	goals := c.asked()
	for _, s := range c.seen {
		goals = append(goals, s.goal())
	}
	columns, err := c.engine.joints.show(c.sheets[sheet], goals, faultsOf(list), draws)
	if err != nil {
		return nil, err
	}
	symptoms := len(c.symptoms)
	for r := range list {
		p := &list[r]
		shows := c.shows(func(i int) []forecast.Piece { return withChatter(c.symptoms[i].Look, columns[i].Row(r)) })
		p.weight, p.misfit = p.prior, 0
		p.take(c.complains(shows), shows > 0)
		for i, s := range c.seen {
			p.take(c.likelihoodOf(s, columns[symptoms+i].Row(r)))
		}
	}
	slices.SortStableFunc(list, heavier)
	return list, nil
}

// member is a fault that may be one of two, whatever its hypotheses.
type member struct {
	fault     house.Fault
	finding   house.Finding
	prior     float64
	candidate bool
	explains  []bool // by reading: it may show it by itself
	acts      []bool // by reading: it shows something else than a house without it
}

// members are the faults of one equipment.
func (c *Call) members(sheet int) []member {
	var out []member
	for h := range c.hyps {
		hyp := &c.hyps[h]
		if hyp.sheet != sheet || hyp.fault == house.None {
			continue
		}
		if n := len(out); n == 0 || out[n-1].fault != hyp.fault {
			out = append(out, member{fault: hyp.fault, finding: hyp.finding, explains: make([]bool, len(c.seen)), acts: make([]bool, len(c.seen))})
		}
		m := &out[len(out)-1]
		m.prior += c.prior[h]
		m.candidate = m.candidate || hyp.candidate
		for i, s := range c.seen {
			pieces := c.pieces(h, c.cols[i], s.Rested)
			_, inside := fit(pieces, s.at())
			m.explains[i] = m.explains[i] || inside
			m.acts[i] = m.acts[i] || differs(s.Probe, pieces, c.cols[i][sheet].Row(hyp.none))
		}
	}
	return out
}

// differs reports whether two show different things on a probe, more than the
// houses drawn make of one and the same.
func differs(p house.Probe, a, b []forecast.Piece) bool {
	return !slices.EqualFunc(a, b, func(x, y forecast.Piece) bool {
		return x == y || math.Abs(x.Lo-y.Lo) <= tolerance(p, x.Lo) && math.Abs(x.Hi-y.Hi) <= tolerance(p, x.Hi)
	})
}

// alone is how likely hypothesis h and everything seen are together, beside a
// pair's weight.
func (c *Call) alone(h int) float64 {
	return c.start[h] * c.likelihood(func(i int) []forecast.Piece { return c.pieces(h, c.cols[i], c.seen[i].Rested) })
}

// likelihood is how well pieces, by reading, explain everything seen, slips
// counted.
func (c *Call) likelihood(pieces func(i int) []forecast.Piece) float64 {
	product := 1.0
	for i, s := range c.seen {
		p, _ := c.likelihoodOf(s, pieces(i))
		product *= p
	}
	return product
}

// likelihoodOf is how well pieces explain one reading, slips counted, and whether
// they hold it.
func (c *Call) likelihoodOf(s Seen, pieces []forecast.Piece) (float64, bool) {
	density, inside := fit(pieces, s.at())
	return likelihood(density, forecast.Span(s.Probe), c.slip(s), c.belief.fresh), inside
}

// faultsOf are the faults of pairs, as rows of the forecast.
func faultsOf(list []pairing) []forecast.Faults {
	out := make([]forecast.Faults, len(list))
	for i, p := range list {
		out[i] = p.faults
	}
	return out
}
