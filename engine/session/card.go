package session

import (
	"slices"

	"stepdown/engine/house"
)

// AgainHead stands above a card.
const AgainHead = "When it fails again, before anything is touched"

// card is what this person best looks at or reads when the house fails again:
// nothing that switches anything off, opens a cover or takes a face off, since
// what comes and goes may be gone by then. Empty where the model cannot be asked.
func (b *Book) card(s State) []string {
	t := b.Trees.Trees[s.gates.complaint]
	if b.Guide == nil || t == nil {
		return nil
	}
	var setups []house.Setup
	for _, symptom := range t.Symptoms {
		setups = append(setups, symptom.Setup.Over(house.DefaultSetup()))
	}
	if len(setups) == 0 {
		return nil
	}
	facts := s.facts
	if facts.Base != house.BaseExposed {
		facts.Base = house.BaseCovered
	}
	if facts.Meter == house.MeterUnasked && s.who != house.Tech {
		facts.Meter = house.MeterNone
	}
	var out []string
	for _, p := range b.Guide.Card(facts, s.gates.complaint, setups[0], func(p Proposal) bool {
		return slices.Contains(setups, p.Setup) && p.Probe.Look != house.BatteriesNew && house.Reach(s.who, facts, p.Probe, p.Setup) == house.NoCut
	}) {
		text := probeText(p, facts.Equipment)
		if p.Probe.IsLook() && p.Setup == setups[0] {
			text = p.Probe.Look.Question()
		}
		out = append(out, text)
	}
	return out
}
