package session

import (
	"fmt"
	"slices"
	"strings"

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
	seen := b.placed(s, *e.Seen)
	if text := s.checkVolunteer(seen); text != "" {
		return s, problem("volunteer", text)
	}
	s = s.remember()
	s.log = push(s.log, Entry{At: e.At, Kind: EntryRead, Text: "volunteered", Seen: &seen})
	waiting := s.pending
	asked := s.asked
	s, was := s.mended(seen)
	s = b.observe(s, seen)
	effects := []Effect{tell("Noted: " + plain(seen, s.facts.Equipment) + ", " + CallText(s.facts.Equipment, seen.Probe.Quantity, seen.Setup) + ".")}
	if was != "" {
		effects = append(effects, tell("It takes the place of what was taken as seen with "+was+"."))
	}
	if s.phase == walking {
		var weighed []Effect
		s, weighed = b.weigh(s)
		effects = append(effects, weighed...)
	}
	if s.high != "" || s.phase == walking && !s.safing && (s.doubt != nil || s.answersStep()) {
		return b.advance(s, effects)
	}
	s.pending, s.asked = waiting, asked
	if asked == askedStep { // of a batch, what was just said is asked no more
		s.pending = b.question(s)
	}
	return s, append(effects, s.pending)
}

// placed is a volunteered probe with its leads as they are written here, in the
// house it was made in.
func (b *Book) placed(s State, seen Seen) Seen {
	seen.Probe = s.written(seen.Probe.On(s.facts.Equipment))
	seen.Setup = b.present(s, seen).With(seen.Given).On(s.facts.Equipment)
	seen.Assumed = seen.Given.Empty() && s.home.StatUnknown && b.present(s, seen) == b.present(s, Seen{}) && !stands(seen.Probe.Look)
	return seen
}

// written is a probe with its leads the way round that trees write them: from R,
// to C, from the first end of a part to the second, or as the open step has it.
// Of volts AC and ohms either way reads the same.
func (s State) written(p house.Probe) house.Probe {
	if p.IsLook() || p.Quantity == quantity.DCVolts || p.Quantity == quantity.Current {
		return p
	}
	turned := p
	turned.Red, turned.Black = p.Black, p.Red
	if s.step != nil && s.step.Kind == tree.MeasureStep && slices.Contains(s.probes(), turned) {
		return turned
	}
	hot := func(t house.Terminal) bool { return t == house.R || t == house.Rc || t == house.Rh }
	back := func(t house.Terminal) bool { return t == house.C || t == house.GND }
	red, black := p.Red.String(), p.Black.String()
	ends := strings.HasSuffix(red, "2") && red[:len(red)-1]+"1" == black
	if ends || hot(p.Black) && !hot(p.Red) || back(p.Red) && !back(p.Black) {
		return turned
	}
	return p
}

// mended drops what was only taken as seen in some call, where somebody now
// says in which call it was; was is that call.
func (s State) mended(seen Seen) (out State, was string) {
	if seen.Given.Empty() {
		return s, ""
	}
	kept := make([]Seen, 0, len(s.seen))
	for i, x := range s.seen {
		if !x.Assumed || x.Probe != seen.Probe {
			kept = append(kept, x)
			continue
		}
		was = CallText(s.facts.Equipment, x.Probe.Quantity, x.Setup)
		if s.led != nil && i < s.led.from {
			led := *s.led
			led.from--
			s.led = &led
		}
	}
	s.seen = kept
	return s, was
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
	return s, []Effect{noted(*e.Seen, s.facts.Equipment), s.pending}
}

// noted says what was taken down before anybody can tell in which call.
func noted(seen Seen, e house.Equipment) Effect { return tell("Noted: " + plain(seen, e) + ".") }

// plain is a probe on equipment e and what it showed, in words.
func plain(seen Seen, e house.Equipment) string {
	p := seen.Probe
	text := strings.TrimPrefix(what(p, e), "the ")
	switch p.Quantity {
	case quantity.LowZVolts:
		text += ", low-impedance mode"
	case quantity.DCVolts:
		text += ", DC"
	}
	if p.IsLook() {
		return text + ": " + p.Look.AnswerID(seen.Answer)
	}
	return text + ": " + quantity.Format(seen.Reading, p.Quantity)
}

// takeKnown takes what was said before the complaint was known; what the house
// cannot have is left out, and that is said.
func (b *Book) takeKnown(s State) (State, []Effect) {
	if len(s.gates.known) == 0 {
		return s, nil
	}
	list, effects, assumed := s.gates.known, []Effect(nil), []Seen(nil)
	s.gates.known = nil
	for _, seen := range list {
		seen = b.placed(s, seen)
		if text := s.checkVolunteer(seen); text != "" {
			effects = append(effects, tell("Left out: "+plain(seen, s.facts.Equipment)+". "+text))
			continue
		}
		s.log = push(s.log, Entry{Kind: EntryRead, Text: "volunteered", Seen: &seen})
		s = b.observe(s, seen)
		if seen.Assumed {
			assumed = append(assumed, seen)
		}
	}
	if len(assumed) > 0 {
		text := fmt.Sprintf("What you know is taken as seen with %s. Where that is not so, say it again with its setup, as in: %s calling=no",
			CallText(s.facts.Equipment, 0, b.present(s, Seen{})), said(assumed[0]))
		effects = append([]Effect{tell(text)}, effects...)
	}
	s, weighed := b.weigh(s)
	return s, append(effects, weighed...)
}

// said is a probe the way somebody may say it.
func said(seen Seen) string {
	p := seen.Probe
	switch {
	case p.IsLook():
		return strings.ReplaceAll(seen.String(), ": ", " ")
	case p.Quantity == quantity.Current:
		return fmt.Sprintf("amps %s %s", p.Conductor, quantity.Format(seen.Reading, p.Quantity))
	}
	at := map[house.Place]string{house.AtThermostat: "thermostat", house.AtIndoor: "board", house.AtOutdoor: "outdoor unit"}[p.At]
	return fmt.Sprintf("%s to %s at the %s is %s", p.Red, p.Black, at, quantity.Format(seen.Reading, p.Quantity))
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
			return fmt.Sprintf("This system has no %s at the %s.", t, placeText(e, p))
		}
	}
	powered := seen.Setup.PowerIndoor == house.On && p.Quantity == quantity.Resistance
	if powered {
		return "Ohms are read with the power locked out. If it was, say it again with power-indoor=locked-out."
	}
	return ""
}
