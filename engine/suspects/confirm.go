package suspects

import (
	"sort"

	"stepdown/engine/house"
	"stepdown/engine/policy"
)

// A finding that is left because all else was ruled out is looked at once by
// itself: proofRivals of the likeliest others are what the probe must tell it
// from, by at least proofGain bits, within proofMinutes (assumptions).
const (
	proofRivals  = 12
	proofGain    = 0.4
	proofMinutes = 15

	bitsPerMinute = 0.01 // what a better proof is worth
)

// prove proposes the probe that would show the one finding left by itself: the
// one that best tells it from the likeliest others, whatever ruled those out.
// Were two faults there at once, this is where the wrong single one gives
// itself away.
func (c *Call) prove(live []int, allow Allow, at house.Setup, rested bool) (Proposal, bool, error) {
	finding := c.hyps[live[0]].finding
	if c.proved == finding || c.least() > 0 {
		return Proposal{}, false, nil
	}
	c.proved = finding
	p := &c.picker
	p.begin(c, append(c.rivals(finding), live...), at, rested)
	if err := p.gather(allow, true); err != nil {
		return Proposal{}, false, err
	}
	prior := make([]float64, len(p.live))
	p.table.Class = p.table.Class[:0]
	for i := range prior {
		class := 1
		prior[i] = 0.5 / float64(len(prior)-len(live))
		if i >= len(prior)-len(live) {
			class, prior[i] = 0, 0.5/float64(len(live))
		}
		p.table.Class = append(p.table.Class, class)
	}
	best, worth := Proposal{}, 0.0
	for _, t := range p.tests {
		shows := p.shows(t)
		snap(shows, t.goal.Probe)
		minutes := p.price.Now(t.goal.Setup, t.goal.Probe, t.rested)
		gain := p.gain(shows, prior)
		if w := gain - minutes*bitsPerMinute; gain >= proofGain && minutes <= proofMinutes && w > worth {
			best, worth = Proposal{Goal: t.goal, Rested: t.rested, Minutes: minutes, GainBits: gain}, w
		}
	}
	return best, worth > 0, nil
}

// rivals are the faults of another finding that may be there two at once: those
// that explain, with one more between them, everything seen; the likeliest
// first. Where no two do, they are the likeliest candidates.
func (c *Call) rivals(finding house.Finding) []int {
	var members []int
	for h := range c.hyps {
		if c.hyps[h].finding != finding && c.hyps[h].fault != house.None {
			members = append(members, h)
		}
	}
	explains := c.explained(members)
	weight := make([]float64, len(c.hyps))
	for i, h := range members {
		for j := i + 1; j < len(members); j++ {
			if k := members[j]; c.hyps[h].sheet == c.hyps[k].sheet && between(explains[i], explains[j]) {
				weight[h] += c.start[h] * c.start[k]
				weight[k] += c.start[h] * c.start[k]
			}
		}
	}
	sort.SliceStable(members, func(i, j int) bool {
		a, b := members[i], members[j]
		if weight[a] != weight[b] {
			return weight[a] > weight[b]
		}
		return c.start[a] > c.start[b]
	})
	return members[:min(proofRivals, len(members))]
}

// between reports whether every reading is explained by one or the other.
func between(a, b []bool) bool {
	for i := range a {
		if !a[i] && !b[i] {
			return false
		}
	}
	return true
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
