package suspects

import (
	"maps"
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
)

// A finding that is left because all else was ruled out, or as many as
// proofFindings that nothing tells apart, is looked at by itself, in at most
// proofsMost probes, or proofsDoubted while two faults at once are the likelier.
// What a probe must tell it from, by at least proofGain bits and within
// proofMinutes (assumptions), are the proofRivals likeliest pairs of other
// faults, sought among so many that proofTried of their readings are worked out;
// proofDraws houses show what a probe tells.
const (
	proofsMost    = 3
	proofsDoubted = 6
	proofFindings = 2
	proofRivals   = 12
	proofTried    = 8000
	proofDraws    = 4
	proofGain     = 0.2
	proofMinutes  = 15

	bitsPerMinute = 0.01 // what a better proof is worth
)

// prove proposes the probe that would show the one finding left by itself: the
// one that best tells it from two others at once that explain as much. Were two
// faults there, this is where the wrong single one gives itself away.
func (c *Call) prove(live []int, allow Allow, at house.Setup, rested bool) (Proposal, bool, error) {
	rivals, err := c.rivals(live)
	if err != nil || len(rivals) == 0 {
		return Proposal{}, false, err
	}
	most := proofsMost
	if c.doubted() {
		most = proofsDoubted
	}
	if c.proofs.again(c.hyps[live[0]].finding, len(c.seen)) > most {
		return Proposal{}, false, err
	}
	p := &c.picker
	if err := p.ready(c, live, allow, at, rested); err != nil {
		return Proposal{}, false, err
	}
	p.table.Class = p.table.Class[:0]
	prior := make([]float64, 0, len(p.live)+len(rivals))
	for range p.live {
		prior, p.table.Class = append(prior, 0.5/float64(len(p.live))), append(p.table.Class, 0)
	}
	for _, r := range rivals {
		prior, p.table.Class = append(prior, 0.5*r.weight), append(p.table.Class, 1)
	}
	return p.telling(rivals, prior)
}

// between proposes the probe that best tells apart the pairs that explain what
// no single fault does; it is not ok where there are none, or enough was asked.
func (c *Call) between(live []int, allow Allow, at house.Setup, rested bool) (Proposal, bool, error) {
	if c.proofs.again("", len(c.seen)) > proofsMost {
		return Proposal{}, false, nil
	}
	if n, err := c.Pairs(); n < 2 || err != nil {
		return Proposal{}, false, err
	}
	p := &c.picker
	if err := p.ready(c, live, allow, at, rested); err != nil {
		return Proposal{}, false, err
	}
	p.live, p.table.Class = p.live[:0], p.table.Class[:0]
	class := map[[2]house.Finding]int{}
	rivals := c.pairs[:min(proofRivals, len(c.pairs))]
	var prior []float64
	for _, r := range rivals {
		e := c.sheets[r.sheet].Kind().Equipment
		key := [2]house.Finding{house.FindingOf(r.faults[0], e), house.FindingOf(r.faults[1], e)}
		if _, ok := class[key]; !ok {
			class[key] = len(class)
		}
		prior, p.table.Class = append(prior, r.weight), append(p.table.Class, class[key])
	}
	return p.telling(rivals, prior)
}

// proofs counts the probes sought for one finding, by itself or as one of two;
// asked again with nothing more seen is no other probe.
type proofs struct {
	finding     house.Finding
	count, seen int
}

// again counts one more.
func (p *proofs) again(f house.Finding, seen int) int {
	switch {
	case p.count == 0 || p.finding != f:
		*p = proofs{f, 1, seen}
	case p.seen != seen:
		p.count, p.seen = p.count+1, seen
	}
	return p.count
}

// ready gathers what may be probed nearby and soon.
func (p *picker) ready(c *Call, live []int, allow Allow, at house.Setup, rested bool) error {
	p.begin(c, live, at, rested)
	return p.gather(func(g forecast.Goal) bool {
		return (allow == nil || allow(g)) && p.price.Now(g.Setup, g.Probe, false) <= proofMinutes
	}, true)
}

// doubted reports whether two faults at once that explain as much as what is
// left are likelier than that.
func (c *Call) doubted() bool { return len(c.beside) > 0 && share(c.beside) > 0.5 }

// telling picks, of the probes gathered, the one that best tells the classes of
// the live hypotheses and the pairs apart. Both are shown by the same few houses:
// what more of them would spread wider tells nothing.
func (p *picker) telling(pairs []pairing, prior []float64) (Proposal, bool, error) {
	sheet := p.call.sheets[pairs[0].sheet]
	rows := make([]forecast.Faults, 0, len(p.live)+len(pairs))
	for _, h := range p.live {
		rows = append(rows, forecast.Faults{p.call.hyps[h].fault})
	}
	rows = append(rows, faultsOf(pairs)...)
	goals := make([]forecast.Goal, len(p.tests))
	for i, t := range p.tests {
		goals[i] = t.goal
	}
	columns, err := p.call.engine.joints.show(sheet, goals, rows, proofDraws)
	if err != nil {
		return Proposal{}, false, err
	}
	best, worth := Proposal{}, 0.0
	for k, t := range p.tests {
		if t.rested {
			continue
		}
		shows := make([][]policy.Piece, len(rows))
		for r := range rows {
			for _, piece := range columns[k].Row(r) {
				shows[r] = append(shows[r], policy.Piece(piece))
			}
		}
		snap(shows, t.goal.Probe)
		minutes := p.price.Now(t.goal.Setup, t.goal.Probe, false)
		gain := p.gain(shows, prior)
		if w := gain - minutes*bitsPerMinute; gain >= proofGain && w > worth {
			best, worth = Proposal{Goal: t.goal, Minutes: minutes, GainBits: gain}, w
		}
	}
	return best, worth > 0, nil
}

// rivals are two faults at once, neither of them a finding left, that explain
// everything seen: the likeliest, on the sheet of the likeliest hypothesis left.
// Their weights sum to 1; how much likelier they are than what is left is kept.
func (c *Call) rivals(live []int) (out []pairing, err error) {
	likeliest, single := live[0], 0.0
	left := map[house.Finding]bool{}
	for _, h := range live {
		single += c.alone(h)
		left[c.hyps[h].finding] = true
		if c.belief.weight[h] > c.belief.weight[likeliest] {
			likeliest = h
		}
	}
	sheet := c.hyps[likeliest].sheet
	list := slices.Clone(c.sifted.list)
	if c.sifted.sheet != sheet || !maps.Equal(c.sifted.left, left) {
		list = c.together(sheet, proofTried, func(a, b *member) bool { return !left[a.finding] && !left[b.finding] })
	}
	if list, err = c.sift(list, sheet, pairDraws, nearly); err != nil {
		return nil, err
	}
	c.sifted = sifted{sheet, left, slices.Clone(list)}
	slices.SortStableFunc(list, heavier)
	if list, err = c.weighed(list[:min(pairsMost, len(list))], sheet, 0); err != nil {
		return nil, err
	}
	var sum float64
	for _, p := range list {
		if p.misfit == 0 && len(out) < proofRivals {
			out = append(out, p)
			sum += p.weight
		}
	}
	for i := range out {
		out[i].weight /= sum
	}
	c.beside = append(c.beside[:0], out...)
	for i := range c.beside {
		c.beside[i].weight *= sum / (sum + single)
	}
	return out, nil
}

// sifted are the pairs that explained nearly everything when they were last
// sought beside what was left: more readings leave none but some of them.
type sifted struct {
	sheet int
	left  map[house.Finding]bool // nil: none were sought
	list  []pairing
}

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
	price := policy.NewTill(policy.Minutes(c.engine.weights.Minutes), at, rested)
	return Proposal{Goal: s.goal(), Rested: s.Rested, Minutes: price.Now(s.Setup, s.Probe, s.Rested), Retake: true}, true
}
