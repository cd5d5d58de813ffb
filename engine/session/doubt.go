package session

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// weigh tells what is left after what was just seen, and sets a doubt where
// nothing explains it.
func (b *Book) weigh(s State) (State, []Effect) {
	x := b.Suspects(s)
	if x.Left == nil && x.Doubt == nil {
		return s, nil
	}
	if x.Doubt != nil && s.doubtCount < doubtsMost && !slices.Contains(s.stood, x.Doubt.Proposal) {
		s.doubt = x.Doubt
	}
	return s, []Effect{{Suspects: &x}}
}

// doubtsMost bounds how often a call asks for a reading to be made again.
const doubtsMost = 3

// askRetake offers to make the doubted reading again.
func (s State) askRetake() (State, Effect, bool) {
	d := s.doubt
	rest, again := " together with the rest", "Read it once more?"
	if len(s.seen) == 1 {
		rest = ""
	}
	if d.Probe.IsLook() {
		again = "Look once more?"
	}
	text := fmt.Sprintf("No single fault explains %s%s. Likely slip: %s. %s", what(d.Probe, s.facts.Equipment), rest, d.Slip, again)
	return s.choose(askedRetake, "retake", text, []Choice{{"yes", "yes"}, {"no", "no, it stands"}})
}

// LookName says what is looked at, as one says it in a list of what was seen.
func LookName(l house.Look) string {
	switch l {
	case house.BreakerIndoor:
		return "indoor breaker"
	case house.BreakerOutdoor:
		return "outdoor breaker"
	case house.PanelIndoor:
		return "indoor door panel"
	case house.BatteriesNew:
		return "fresh batteries"
	case house.StatKind:
		return "kind of thermostat"
	case house.FuseLook:
		return "fuse"
	case house.ChangeoverRated:
		return "changeover by the unit's diagram"
	}
	return strings.ReplaceAll(l.String(), "-", " ")
}

// what names a probe in a sentence.
func what(p house.Probe, e house.Equipment) string {
	if p.IsLook() {
		return "the " + LookName(p.Look)
	}
	if p.Quantity == quantity.Current {
		return "the current in " + p.Conductor.Words(e)
	}
	return fmt.Sprintf("%s to %s at the %s", p.Red, p.Black, placeText(e, p))
}

// retake takes the answer to that offer.
func (s State) retake(yes bool) State {
	d := s.doubt
	s.doubt, s.doubtCount = nil, s.doubtCount+1
	s.stood = push(s.stood, d.Proposal)
	if yes {
		return s.leadTo(d.Proposal, true)
	}
	return s
}
