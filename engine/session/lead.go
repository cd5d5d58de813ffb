package session

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// led is a probe that no tree asks for: one that the guide proposes where the
// tree has no way on, or a reading made again.
type led struct {
	Proposal
	again bool       // a reading made again
	from  int        // what was seen before this many probes does not answer it
	left  *tree.Step // where the tree was left
}

// The steps that ask for what no tree asks for.
const (
	stepNext  = "next"  // a probe that splits what is left
	stepAgain = "again" // a reading made again
)

// ledMost bounds the probes a guide asks for in one call; worthBits is what one
// must be expected to tell where the people of the house make it: who comes will
// see more than they can.
const (
	ledMost   = 12
	worthBits = 0.25
)

// goOn takes a call that its tree leaves open: the guide leads on, or it ends.
func (b *Book) goOn(s State) State {
	if !b.guided(s) {
		return b.end(s, house.Undecided)
	}
	if s.ledCount == 0 {
		s.notice = s.onward()
	}
	return b.lead(s)
}

// onward says that what follows is no longer the tree's to ask.
func (s State) onward() string {
	if s.who == house.Tech {
		return "The tree goes no further here. What follows is asked because it best splits what is left."
	}
	return "From here on only what can still tell something is asked."
}

// lead asks for the probe that best splits what is left; where none does, or
// enough was asked, the call ends at what is left.
func (b *Book) lead(s State) State {
	if s.led != nil {
		s.step, s.led = s.led.left, nil
	}
	q := s.query()
	if s.ledCount < ledMost {
		if p, bits, ok := b.Guide.Next(q, s.allows); ok && (s.who == house.Tech || bits >= worthBits) {
			s.ledCount++
			return s.leadTo(p, false)
		}
	}
	s.notice = "" // what was not told by now has nothing to stand before
	faults, sure := b.Guide.Verdict(q)
	if f, ok := b.shared(faults, s.facts.Equipment); ok && sure && b.likely(s, faults) {
		return b.end(s, f)
	}
	s.left = faults
	return b.end(s, house.Undecided)
}

// shared is the finding all faults share. What is left alone names no
// thermostat: only a tree, which asks for both proofs, may.
func (b *Book) shared(faults []house.Fault, e house.Equipment) (f house.Finding, ok bool) {
	if len(faults) == 0 || !b.oneFinding(faults, e) || slices.ContainsFunc(faults, house.Fault.Condemns) {
		return "", false
	}
	f = house.FindingOf(faults[0], e)
	return f, b.Trees.Finding(f) != nil
}

// evenOdds is how likely what a guide leaves must be to be named as found: under
// it a slip, or something that comes and goes, is likelier.
const evenOdds = 0.5

// likely reports whether faults together are as likely as not.
func (b *Book) likely(s State, faults []house.Fault) bool {
	x, sum := b.Suspects(s), 0.0
	for _, sus := range x.Left {
		if slices.Contains(faults, sus.Fault) {
			sum += sus.Probability
		}
	}
	return len(x.Left) == 0 || sum >= evenOdds
}

// allows reports whether this person may and can make a probe in this house.
func (s State) allows(p Proposal) bool {
	setup := s.carried(p.Setup)
	if s.unseeable(p.Probe) || s.standsSeen(p.Probe) {
		return false
	}
	if !s.facts.Equipment.Sets(setup) || house.Reach(s.who, s.facts, p.Probe, setup) != house.NoCut || slices.Contains(s.barred, p) {
		return false
	}
	return s.reachable(planner.Goal{Setup: setup, Probe: p.Probe, Rested: p.Rested})
}

// wayMost bounds the actions on the way to a probe.
const wayMost = 64

// reachable reports whether the planner has a way to a goal on which nothing
// stands that somebody said cannot be done: nobody is sent half of a way.
func (s State) reachable(goal planner.Goal) bool {
	home := s.home
	for range wayMost {
		next := planner.Next(home, goal, s.who, s.facts)
		switch {
		case next.Kind == planner.Refuse, slices.Contains(s.declined, next.ID):
			return false
		case next.Kind == planner.Ready, next.Kind == planner.Look, len(s.declined) == 0:
			return true
		}
		home = next.After
	}
	return false
}

// unseeable reports whether somebody said that this look cannot be made here:
// who cannot see a thing sees it no better with another call.
func (s State) unseeable(p house.Probe) bool {
	return p.IsLook() && slices.ContainsFunc(s.blind, func(l house.Look) bool { return s.oneLook(l) == s.oneLook(p.Look) })
}

// standsSeen reports whether a look that stands was made, whatever was called.
func (s State) standsSeen(p house.Probe) bool {
	return stands(p.Look) && slices.ContainsFunc(s.seen, func(x Seen) bool { return s.oneLook(x.Probe.Look) == s.oneLook(p.Look) })
}

// oneLook is a look under one name: what sits in one cabinet has one breaker.
func (s State) oneLook(l house.Look) house.Look {
	if l == house.BreakerIndoor && s.facts.Equipment.Packaged() {
		return house.BreakerOutdoor
	}
	return l
}

// stands reports whether a look shows the same whatever is called, so that one
// answer holds for the call.
func stands(l house.Look) bool {
	switch l {
	case house.BreakerIndoor, house.BreakerOutdoor, house.DrainPan, house.PanelIndoor, house.BatteriesNew, house.ChangeoverSetting, house.ChangeoverRated, house.StatKind:
		return true
	}
	return false
}

// carried is a setup with what carries over from the house as it stands: open
// covers, and a fuse that was fitted.
func (s State) carried(setup house.Setup) house.Setup {
	setup.CoverIndoor = setup.CoverIndoor || s.home.CoverIndoor
	setup.CoverOutdoor = setup.CoverOutdoor || s.home.CoverOutdoor
	if setup.Fuse == house.FuseAsFound && s.home.Fuse == house.FuseNew {
		setup.Fuse = house.FuseNew
	}
	return setup
}

// leadTo makes a proposal the open step.
func (s State) leadTo(p Proposal, again bool) State {
	at := s.step
	if s.led != nil {
		at = s.led.left
	}
	s.led, s.cannot = &led{Proposal: p, again: again, from: len(s.seen), left: at}, nil
	s.step = &tree.Step{ID: stepNext, Tree: at.Tree, Kind: tree.MeasureStep, Quantity: p.Probe.Quantity, At: p.Probe.At,
		Why: "Of all that can be asked here, this tells most for its minutes."}
	if again {
		s.step.ID, s.step.Why = stepAgain, "Nothing explains it together with the rest: either it slipped, or more than one thing is wrong."
	}
	if p.Probe.IsLook() {
		s.step.Kind, s.step.Look = tree.LookStep, p.Probe.Look
		return s
	}
	s.step.Pairs = []tree.Pair{{Name: pairName(p.Probe), Red: p.Probe.Red, Black: p.Probe.Black, Conductor: p.Probe.Conductor}}
	return s
}

// pairName names a reading by its ends: rc, coil.
func pairName(p house.Probe) string {
	if p.Quantity == quantity.Current {
		return "amps"
	}
	red, black := strings.ToLower(p.Red.String()), strings.ToLower(p.Black.String())
	if part, number, ok := strings.Cut(red, "-"); ok && number == "1" && black == part+"-2" {
		return part
	}
	return strings.ReplaceAll(red, "-", "") + strings.ReplaceAll(black, "-", "")
}

// settling says which probe would tell apart what a call leaves open, and who can
// make it; empty where none would, or the model cannot be asked. partly is set
// where one thing it may show leaves more than one cause.
func (b *Book) settling(s State, faults []house.Fault) (text string, partly bool) {
	if !b.guided(s) || b.oneFinding(faults, s.facts.Equipment) {
		return "", false
	}
	f := s.facts
	if f.Meter != house.MeterUnasked {
		f.Meter = house.MeterBoth
	}
	p, ok := b.Guide.Settle(s.query(), func(p Proposal) bool { return house.Reach(house.Tech, f, p.Probe, p.Setup) == house.NoCut })
	if !ok {
		return "", false
	}
	outcomes := b.Guide.Outcomes(s.query(), p)
	partly = len(outcomes) == 0 || slices.ContainsFunc(outcomes, func(o Outcome) bool { return !b.oneFinding(o.Faults, s.facts.Equipment) })
	text = probeText(p, s.facts.Equipment)
	switch {
	case s.who == house.Tech:
	case p.Probe.IsLook():
		text += " Have whoever comes look."
	default:
		text += " A technician can make it."
	}
	return text, partly
}

// oneFinding reports whether faults are one and the same to mend.
func (b *Book) oneFinding(faults []house.Fault, e house.Equipment) bool {
	for _, f := range faults {
		if house.FindingOf(f, e) != house.FindingOf(faults[0], e) {
			return false
		}
	}
	return true
}

// probeText says a probe, the setup it needs and where the leads go.
func probeText(p Proposal, e house.Equipment) string {
	if p.Probe.IsLook() {
		return fmt.Sprintf("%s (%s)", p.Probe.Look.Question(), CallText(e, 0, p.Setup))
	}
	text := strings.TrimSuffix(measureText(p.Probe.Quantity, e, p.Setup, p.Probe), ".")
	if p.Probe.Quantity == quantity.Current {
		return text + ": clamp on " + p.Probe.Conductor.Words(e) + "."
	}
	return fmt.Sprintf("%s: red on %s, black on %s.", text, p.Probe.Red, p.Probe.Black)
}

// wanted is the setup of the open step.
func (s State) wanted() house.Setup {
	if s.led != nil {
		return s.carried(s.led.Setup)
	}
	return s.step.Resolve(s.home.Setup).On(s.facts.Equipment)
}

// ledOn goes on once a led probe was made: after a reading made again the tree
// is walked afresh on what is known now.
func (b *Book) ledOn(s State) State {
	if s.led.again {
		return b.afresh(s)
	}
	return b.lead(s)
}

// ledCut goes on where a led probe cannot be made.
func (b *Book) ledCut(s State) State {
	if s.led.again {
		return b.afresh(s)
	}
	s.barred = push(s.barred, s.led.Proposal)
	return b.lead(s)
}

// afresh walks the complaint's tree from its start: what was seen answers the
// steps that asked for it.
func (b *Book) afresh(s State) State {
	s.step, s.led, s.shown, s.cannot, s.openFrom = b.Trees.Trees[s.gates.complaint].First, nil, nil, nil, nil
	return s
}

// Upcoming are the probes the open step asks for, whether or not the house
// stands ready for them yet.
func (b *Book) Upcoming(s State) []Proposal {
	if s.phase != walking || s.step == nil || s.step.Kind == tree.AskStep || s.pending.End != nil {
		return nil
	}
	var out []Proposal
	for _, p := range s.probes() {
		out = append(out, Proposal{Probe: p, Setup: s.wanted(), Rested: s.led != nil && s.led.Rested})
	}
	return out
}

// noticed puts a line among effects, ahead of what is left.
func noticed(effects []Effect, text string) []Effect {
	at := len(effects)
	for at > 0 && effects[at-1].Suspects != nil {
		at--
	}
	return slices.Insert(slices.Clip(effects), at, tell(text))
}
