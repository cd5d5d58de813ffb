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
	if s.phase == opening && s.gates.complaint == house.NoComplaint {
		return s.keep(e)
	}
	seen := *e.Seen
	seen.Probe = seen.Probe.On(s.facts.Equipment)
	seen.Setup = b.present(s, seen).With(seen.Given).On(s.facts.Equipment)
	if text := s.checkVolunteer(seen); text != "" {
		return s, problem("volunteer", text)
	}
	s = s.remember()
	s.log = push(s.log, Entry{At: e.At, Kind: EntryRead, Text: "volunteered", Seen: &seen})
	waiting := s.pending
	asked := s.asked
	s = b.observe(s, seen)
	effects := []Effect{tell("Noted: " + seen.String() + ", " + CallText(s.facts.Equipment, seen.Probe.Quantity, seen.Setup) + ".")}
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

// present is the house a volunteered probe was made in, as far as nobody says:
// as it stands, and while nobody has touched the thermostat, as the complaint
// has it. A look behind a cover that needs no power goes with the power locked
// out.
func (b *Book) present(s State, seen Seen) house.Setup {
	setup := s.home.Setup
	if t := b.Trees.Trees[s.gates.complaint]; t != nil && s.home.StatUnknown {
		setup = t.Base().Over(setup)
	}
	if p := seen.Probe; p.IsLook() && p.Look.At() != house.NoPlace && !p.Look.NeedsPower() {
		setup = house.DefaultSetup()
		setup.PowerIndoor = house.LockedOut
	}
	return setup
}

// keep holds what is known before the complaint is: until then nobody can tell
// in which call it was seen.
func (s State) keep(e Event) (State, []Effect) {
	s = s.remember()
	s.gates.known = push(s.gates.known, *e.Seen)
	return s, []Effect{tell("Noted: " + e.Seen.String() + "."), s.pending}
}

// takeKnown takes what was said before the complaint was known; what the house
// cannot have is left out, and that is said.
func (b *Book) takeKnown(s State) (State, []Effect) {
	if len(s.gates.known) == 0 {
		return s, nil
	}
	list, effects, taken := s.gates.known, []Effect(nil), 0
	s.gates.known = nil
	for _, seen := range list {
		seen.Probe = seen.Probe.On(s.facts.Equipment)
		seen.Setup = b.present(s, seen).With(seen.Given)
		if text := s.checkVolunteer(seen); text != "" {
			effects = append(effects, tell("Left out: "+seen.String()+". "+text))
			continue
		}
		s.log = push(s.log, Entry{Kind: EntryRead, Text: "volunteered", Seen: &seen})
		s = b.observe(s, seen)
		taken++
	}
	if taken > 0 {
		call := CallText(s.facts.Equipment, 0, b.present(s, Seen{}))
		effects = append([]Effect{tell(fmt.Sprintf("What you know is taken as seen with %s; say it again with its setup where that is not so.", call))}, effects...)
	}
	s, weighed := b.weigh(s)
	return s, append(effects, weighed...)
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
