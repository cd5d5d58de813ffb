package session

import (
	"fmt"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// volunteer takes a reading or look nobody asked for. It is checked against
// the house, kept, and answers the open step where it is what that step asks.
func (b *Book) volunteer(s State, e Event) (State, []Effect) {
	if e.Seen == nil {
		return s, problem("volunteer", "No reading or look was given.")
	}
	seen := *e.Seen
	seen.Setup = s.home.Setup.With(seen.Given)
	if text := s.checkVolunteer(seen); text != "" {
		return s, problem("volunteer", text)
	}
	s = s.remember()
	s.log = push(s.log, Entry{At: e.At, Kind: EntryRead, Text: "volunteered", Seen: &seen})
	waiting := s.pending
	asked := s.asked
	s = b.observe(s, seen)
	effects := []Effect{tell("Noted: " + seen.String() + ".")}
	if s.phase == walking {
		var weighed []Effect
		s, weighed = b.weigh(s)
		effects = append(effects, weighed...)
	}
	if s.high != "" || s.phase == walking && !s.safing && (s.doubt != nil || s.answersStep()) {
		return b.advance(s, effects)
	}
	s.pending, s.asked = waiting, asked
	return s, append(effects, waiting)
}

// answersStep reports whether the open step can now be answered from memory.
func (s State) answersStep() bool {
	if s.step == nil || s.step.Kind == tree.AskStep {
		return false
	}
	return s.recallAll(s.wanted()) != nil
}

// checkVolunteer tells why a volunteered probe is not taken, or nothing.
func (s State) checkVolunteer(seen Seen) string {
	p, e := seen.Probe, s.facts.Equipment
	if p.IsLook() {
		if e != house.NoEquipment && !e.HasLook(p.Look) {
			return fmt.Sprintf("This equipment has no %s to look at.", p.Look)
		}
		return ""
	}
	if err := seen.Reading.Check(p.Quantity); err != nil {
		return err.Error()
	}
	ends := []house.Terminal{p.Red, p.Black}
	if p.Quantity == quantity.Current {
		ends = []house.Terminal{p.Conductor.Terminal}
	}
	for _, t := range ends {
		if e != house.NoEquipment && !e.Has(t, p.At) {
			return fmt.Sprintf("There is no %s at the %s of this equipment.", t, p.At)
		}
	}
	powered := seen.Setup.PowerIndoor == house.On && p.Quantity == quantity.Resistance
	if powered {
		return "Ohms are read with the power locked out; say `setup` or lock it out first."
	}
	return ""
}
