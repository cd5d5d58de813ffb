package suspects

import (
	"math"
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
)

// Proposal is the probe best made next.
type Proposal struct {
	Goal forecast.Goal
	// Rested asks for it after the call has run for a counted five minutes.
	Rested   bool
	Minutes  float64 // visits not yet paid counted
	GainBits float64 // expected, over findings
	Splits   []Split // what its outcomes leave
	// Retake is set where the probe was made before, and all rests on it.
	Retake bool
}

// Allow tells whether somebody may and can make a probe in this house.
type Allow func(forecast.Goal) bool

// Next is the best probe among those allowed, from the house as it stands. It
// is not ok where no allowed probe tells apart what is left.
func (c *Call) Next(allow Allow, at house.Setup, rested bool) (Proposal, bool, error) {
	live, err := c.live()
	if err != nil || len(live) == 0 {
		return Proposal{}, false, err
	}
	if c.least() > 0 {
		if p, ok, err := c.between(live, allow, at, rested); ok || err != nil {
			return p, ok, err
		}
	} else if c.oneFinding(live) {
		if p, ok, err := c.prove(live, allow, at, rested); ok || err != nil {
			return p, ok, err
		}
	}
	if c.oneFinding(live) {
		p, ok := c.confirm(allow, at, rested)
		return p, ok, nil
	}
	c.picker.begin(c, live, at, rested)
	for _, near := range []bool{true, false} {
		if err := c.picker.gather(allow, near); err != nil {
			return Proposal{}, false, err
		}
		if i, ok := c.picker.pick(); ok {
			return c.picker.proposal(i), true, nil
		}
	}
	if c.least() == 0 && c.findings(live) <= proofFindings {
		if p, ok, err := c.prove(live, allow, at, rested); ok || err != nil {
			return p, ok, err
		}
	}
	p, ok := c.confirm(allow, at, rested)
	return p, ok, nil
}

func (c *Call) oneFinding(live []int) bool { return c.findings(live) == 1 }

// findings counts the findings of hypotheses.
func (c *Call) findings(live []int) int {
	set := map[house.Finding]bool{}
	for _, h := range live {
		set[c.hyps[h].finding] = true
	}
	return len(set)
}

// Settled reports whether what is left shares one finding.
func (c *Call) Settled() (bool, error) {
	live, err := c.live()
	return err == nil && len(live) > 0 && c.oneFinding(live), err
}

// picker chooses the next probe; its buffers are kept from one probe to the
// next.
type picker struct {
	call   *Call
	live   []int
	need   [][]bool // by sheet, the rows that are live
	price  *policy.Till
	tests  []candidate // those gathered, with their columns
	table  policy.Table
	belief policy.Belief
	mix    policy.Mixture
	chosen []int // by test of the table, the candidate

	splitting []splitting
	weight    []float64 // of the live hypotheses, as it is believed
	flat      []float64 // every live hypothesis as likely as any
}

// candidate is one probe that might be made.
type candidate struct {
	goal    forecast.Goal
	rested  bool
	near    bool // in a setup of the complaint's own call
	columns []*forecast.Column
	under   map[int][]forecast.Piece // what hypotheses show under the slip that leaves them in
}

// pieces is what hypothesis h of a call may show.
func (t candidate) pieces(c *Call, h int) []forecast.Piece {
	if pieces, ok := t.under[h]; ok {
		return pieces
	}
	return c.pieces(h, t.columns, t.rested)
}

// fillUnder fills in what a probe shows of those of the live hypotheses that a slip
// kept up leaves in: made as they are, no probe would tell that slip.
func (c *Call) fillUnder(t *candidate, live []int) error {
	for _, h := range live {
		slip := c.under[h]
		if slip == NoSlip {
			continue
		}
		pieces, err := c.slipPieces(h, Seen{Probe: t.goal.Probe, Setup: t.goal.Setup, Rested: t.rested}, slip)
		if err != nil {
			return err
		}
		if len(pieces) == 0 {
			continue
		}
		if t.under == nil {
			t.under = map[int][]forecast.Piece{}
		}
		t.under[h] = pieces
	}
	return nil
}

// How far ahead the picker looks: over the best few tests, along outcomes that
// are not too unlikely, and no further than a few hundred beliefs. Above
// lookaheadLive hypotheses gain per minute alone is near enough.
const (
	lookaheadLive    = policy.LiveMax
	lookaheadTests   = 20
	lookaheadWidth   = 4
	lookaheadBeliefs = 80
	optimumBeliefs   = 80
	optimumLive      = 6
	outcomeLeast     = 0.005
)

func (p *picker) begin(c *Call, live []int, at house.Setup, rested bool) {
	p.call, p.live = c, live
	p.price = policy.NewTill(policy.Minutes(c.engine.weights.Minutes), at, rested)
	p.tests, p.chosen, p.table.Tests = p.tests[:0], p.chosen[:0], p.table.Tests[:0]
	p.need = p.need[:0]
	for _, s := range c.sheets {
		p.need = append(p.need, make([]bool, len(s.Rows())))
	}
	for _, h := range live {
		p.need[c.hyps[h].sheet][c.hyps[h].row] = true
		p.need[c.hyps[h].sheet][c.hyps[h].none] = true
		if blown := c.hyps[h].blown; blown >= 0 {
			p.need[c.hyps[h].sheet][blown] = true
		}
	}
}

// candidates lists what may be probed: the goals of every equipment still
// possible, those of the complaint's own call apart from the rest.
func (p *picker) candidates(near bool) []candidate {
	known := map[forecast.Goal]bool{}
	var out []candidate
	delay := false
	for _, h := range p.live {
		delay = delay || p.call.hyps[h].fault == house.DelayRunning
	}
	for i, sheet := range p.call.sheets {
		if !slices.Contains(p.need[i], true) {
			continue
		}
		symptom := sheet.Kind().Symptom
		for _, g := range sheet.Goals() {
			if known[g] || nearby(g.Setup, symptom) != near {
				continue
			}
			known[g] = true
			out = append(out, candidate{goal: g, near: near})
			if delay && g.Setup.Calling {
				out = append(out, candidate{goal: g, near: near, rested: true})
			}
		}
	}
	return out
}

// nearby reports whether a setup belongs to the complaint's own call: no call,
// the same mode, or the fan.
func nearby(s, symptom house.Setup) bool {
	return (s.Mode == house.ModeOff || s.Mode == symptom.Mode) && s.Fuse == house.FuseAsFound && s.Lifted.Len() <= 1
}

// gather adds the allowed probes, those near the complaint or the rest, with
// what every live hypothesis shows on them.
func (p *picker) gather(allow Allow, near bool) error {
	var wanted []candidate
	for _, t := range p.candidates(near) {
		if (allow == nil || allow(t.goal)) && !p.made(t) {
			wanted = append(wanted, t)
		}
	}
	goals := make([]forecast.Goal, len(wanted))
	for i := range wanted {
		goals[i] = wanted[i].goal
		wanted[i].columns = make([]*forecast.Column, len(p.call.sheets))
	}
	for s, sheet := range p.call.sheets {
		if !slices.Contains(p.need[s], true) {
			continue
		}
		columns, err := sheet.Columns(p.need[s], goals...)
		if err != nil {
			return err
		}
		for i := range wanted {
			wanted[i].columns[s] = columns[i]
		}
	}
	for _, t := range wanted {
		if err := p.call.fillUnder(&t, p.live); err != nil {
			return err
		}
		if p.everyone(t) {
			p.tests = append(p.tests, t)
		}
	}
	return nil
}

func (p *picker) made(t candidate) bool {
	for _, s := range p.call.seen {
		if s.Rested == t.rested && s.goal().Key() == t.goal.Key() {
			return true
		}
	}
	return false
}

// everyone reports whether the probe can be made whichever hypothesis is true.
func (p *picker) everyone(t candidate) bool {
	for _, h := range p.live {
		if len(t.pieces(p.call, h)) == 0 {
			return false
		}
	}
	return true
}

// pick chooses among the tests gathered: all of them by gain per minute, then
// the best few by looking further ahead.
func (p *picker) pick() (int, bool) {
	p.build()
	if len(p.table.Tests) == 0 {
		return 0, false
	}
	useful := p.table.Useful(&p.belief)
	if len(useful) == 0 {
		return 0, false
	}
	if len(p.live) > lookaheadLive {
		return policy.Greedy(&p.table, &p.belief, useful), true
	}
	return p.ahead(useful), true
}

// ahead looks further ahead over the best few of the useful tests.
func (p *picker) ahead(useful []int) int {
	best := p.table.Best(&p.belief, useful, lookaheadTests)
	few := policy.Table{Prior: p.table.Prior, Class: p.table.Class, Visits: p.table.Visits, Least: outcomeLeast}
	for _, i := range best {
		few.Tests = append(few.Tests, p.table.Tests[i])
	}
	b := policy.Belief{Weight: p.belief.Weight, Made: make([]bool, len(best)), Paid: p.belief.Paid}
	if len(p.live) <= optimumLive {
		if _, first, ok := few.OptimumFrom(&b, optimumBeliefs); ok && first >= 0 {
			return best[first]
		}
	}
	if left := few.Useful(&b); len(left) > 0 {
		return best[policy.Lookahead(lookaheadWidth, lookaheadBeliefs)(&few, &b, left)]
	}
	return best[0]
}

// build makes the policy table of the live hypotheses and the tests that tell
// any of them apart, no test twice: of those that split alike the cheapest.
func (p *picker) build() {
	t := &p.table
	t.Class, t.Tests = t.Class[:0], t.Tests[:0]
	p.chosen, p.weight = p.chosen[:0], p.weight[:0]
	class := map[house.Finding]int{}
	for _, h := range p.live {
		f := p.call.hyps[h].finding
		if _, ok := class[f]; !ok {
			class[f] = len(class)
		}
		t.Class = append(t.Class, class[f])
		p.weight = append(p.weight, max(p.call.belief.weight[h], math.SmallestNonzeroFloat32))
	}
	t.Prior = evened(t.Prior, p.weight)
	p.flat = p.flat[:0]
	for range p.live {
		p.flat = append(p.flat, 1)
	}
	p.split()
	most := 0.0
	for _, s := range p.splitting {
		most = max(most, s.gain)
	}
	alike := map[string]int{}
	for _, s := range p.splitting {
		if s.gain >= gainShare*most {
			p.enter(s, alike)
		}
	}
	t.Visits = p.price.Visits
	p.belief = t.Start()
	p.belief.Paid = p.price.Paid
}

// leastShare is what the unlikeliest of what is left counts for, as a share of the
// likeliest, where a probe is chosen: it is to be told apart to the last. By
// belief alone what is thought next to impossible, and yet explains everything,
// would only ever get the probes that cost least.
const leastShare = 0.1

// evened is weights that sum to 1, none of what is left under the least share of
// the largest. It is laid into out.
func evened(out, weight []float64) []float64 {
	out = append(out[:0], weight...)
	least, sum := leastShare*slices.Max(weight), 0.0
	for i, w := range out {
		if w > 0 {
			out[i] = max(w, least)
		}
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// gainLeast is the gain in bits, with every suspect as likely as any, under
// which a probe does not tell what is left apart: about one chance in fifty
// that it settles an even doubt. gainShare is the same
// as a share of the best gain to be had: crumbs are left until the loaf is gone.
// Readings of one circuit go together, so each one that rules nothing out makes
// it less likely that the next will: gainRise is how much more is then asked of
// it, up to gainMost, which nobody who has come so far leaves unread.
const (
	gainLeast = 0.02
	gainShare = 0.1
	gainRise  = 1.5
	gainMost  = 0.8
)

// splitting is a probe likely enough to tell findings apart.
type splitting struct {
	test    int // of those gathered
	shows   [][]policy.Piece
	pattern string
	gain    float64
}

// split finds them among the tests gathered.
func (p *picker) split() {
	p.splitting = p.splitting[:0]
	least := min(gainMost, gainLeast*math.Pow(gainRise, float64(p.call.fruitless)))
	for k, test := range p.tests {
		shows := p.shows(test)
		pattern, splits := snap(shows, test.goal.Probe)
		if !splits {
			continue
		}
		if p.gain(shows, p.flat) < least {
			continue
		}
		p.splitting = append(p.splitting, splitting{k, shows, pattern, p.gain(shows, p.table.Prior)})
	}
}

// shows is what every live hypothesis may show on a probe.
func (p *picker) shows(test candidate) [][]policy.Piece {
	shows := make([][]policy.Piece, len(p.live))
	for i, h := range p.live {
		for _, piece := range test.pieces(p.call, h) {
			shows[i] = append(shows[i], policy.Piece(piece))
		}
	}
	return shows
}

// enter puts a probe into the table; of those that split alike the cheapest.
func (p *picker) enter(s splitting, alike map[string]int) {
	t := &p.table
	minutes, needs := p.price.Of(p.tests[s.test].goal.Setup, p.tests[s.test].goal.Probe, p.tests[s.test].rested)
	entry := policy.Test{Shows: s.shows, Minutes: minutes, Needs: needs}
	if old, ok := alike[s.pattern]; ok {
		have := &t.Tests[old]
		if have.Needs&^needs == 0 && have.Minutes <= minutes {
			return
		}
		if needs&^have.Needs == 0 && minutes <= have.Minutes {
			*have, p.chosen[old] = entry, s.test
			return
		}
	} else {
		alike[s.pattern] = len(t.Tests)
	}
	t.Tests = append(t.Tests, entry)
	p.chosen = append(p.chosen, s.test)
}

// gain is what a probe tells about the finding, in bits, under a prior.
func (p *picker) gain(shows [][]policy.Piece, prior []float64) float64 {
	p.mix.Reset(len(p.table.Class))
	for i := range shows {
		for _, piece := range shows[i] {
			p.mix.Add(p.table.Class[i], prior[i]*piece.Share, piece.Lo, piece.Hi)
		}
	}
	return p.mix.Gain()
}

// proposal is test i in words.
func (p *picker) proposal(i int) Proposal {
	test := p.tests[p.chosen[i]]
	return Proposal{Goal: test.goal, Rested: test.rested, Minutes: p.table.Cost(&p.belief, i),
		GainBits: p.gain(p.table.Tests[i].Shows, p.weight), Splits: p.call.splits(p.live, test)}
}
