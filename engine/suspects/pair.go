package suspects

import (
	"cmp"
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
	fits   bool // every reading lies inside what the two show
}

// pairDraws is how many houses pairs are tried in, and of them the pairsMost
// best in all; pairLeft is how many readings neither of two faults need explain
// by itself, since together they may.
const (
	pairDraws = 8
	pairsMost = 24
	pairLeft  = 1
	pairLeast = 0.02 // a pair less likely is not named, but for the likeliest where it explains all
)

// Pairs looks for two faults at once, once no single one explains what was
// seen (and the reading stands). It reports how many it found.
func (c *Call) Pairs() (int, error) {
	c.pairs = c.pairs[:0]
	if c.Left() > 0 || len(c.seen) == 0 {
		return 0, nil
	}
	for sheet := range c.sheets {
		list := c.together(sheet, 0, func(a, b *member) bool { return unexplained(a.explains, b.explains) <= pairLeft })
		list, err := c.weighed(list, sheet, pairDraws)
		if err == nil {
			list, err = c.weighed(list[:min(pairsMost, len(list))], sheet, 0)
		}
		if err != nil {
			return 0, err
		}
		c.pairs = append(c.pairs, list...)
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
	slices.SortStableFunc(c.pairs, heavier)
	named := slices.IndexFunc(c.pairs, func(p pairing) bool { return p.weight < pairLeast })
	if named == 0 && c.pairs[0].fits {
		named = 1
	}
	if named >= 0 {
		c.pairs = c.pairs[:named]
	}
	return len(c.pairs), nil
}

func heavier(a, b pairing) int { return cmp.Compare(b.weight, a.weight) }

// together lists the pairs of one equipment's faults that may be there at once,
// one of them at least by itself a candidate; the most likely beforehand first,
// at most most of them (0: all).
func (c *Call) together(sheet, most int, may func(a, b *member) bool) []pairing {
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
		out = append(out, pairing{faults: forecast.Faults{a.fault, b.fault}, sheet: sheet, prior: c.engine.weights.Pair * a.prior * b.prior})
	}
	slices.SortStableFunc(out, func(a, b pairing) int { return cmp.Compare(b.prior, a.prior) })
	if most > 0 && len(out) > most {
		out = out[:most]
	}
	return out
}

// weighed puts pairs into the model and weighs them by everything seen, so many
// houses standing for all; the heaviest first. What the second fault shows by
// itself is no matter: the complaint is held against both.
func (c *Call) weighed(list []pairing, sheet, draws int) ([]pairing, error) {
	if len(list) == 0 {
		return nil, nil
	}
	rows := make([]forecast.Faults, len(list))
	for i, p := range list {
		rows[i] = p.faults
	}
	goals := c.asked()
	for _, s := range c.seen {
		goals = append(goals, s.goal())
	}
	columns, err := c.sheets[sheet].Together(goals, rows, draws)
	if err != nil {
		return nil, err
	}
	symptoms := len(c.symptoms)
	for r := range list {
		p := &list[r]
		shows := c.shows(func(i int) []forecast.Piece { return withChatter(c.symptoms[i].Look, columns[i].Row(r)) })
		p.weight = p.prior * c.complains(shows) * c.likelihood(func(i int) []forecast.Piece { return columns[symptoms+i].Row(r) })
		p.fits = shows > 0
		for i, s := range c.seen {
			_, inside := fit(columns[symptoms+i].Row(r), s.at())
			p.fits = p.fits && inside
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
			out = append(out, member{fault: hyp.fault, finding: hyp.finding, explains: make([]bool, len(c.seen))})
		}
		m := &out[len(out)-1]
		m.prior += c.prior[h]
		m.candidate = m.candidate || hyp.candidate
		for i, s := range c.seen {
			_, inside := fit(c.pieces(h, c.cols[i], s.Rested), s.at())
			m.explains[i] = m.explains[i] || inside
		}
	}
	return out
}

// unexplained counts the readings that neither of two faults shows by itself.
func unexplained(a, b []bool) int {
	n := 0
	for i := range a {
		if !a[i] && !b[i] {
			n++
		}
	}
	return n
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
