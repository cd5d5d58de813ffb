package session

import (
	"fmt"

	"stepdown/engine/house"
	"stepdown/engine/planner"
)

// Handed is what a call passes on where its events do not: enough for somebody
// with a wider reach to go on without asking anything twice. A Handover that
// carries it may open a call.
type Handed struct {
	From      house.Audience    `json:"from"`
	Complaint string            `json:"complaint"`       // a complaint's id
	Facts     map[string]string `json:"facts,omitempty"` // house facts by id
	Seen      []Seen            `json:"seen,omitempty"`  // in order; Given is the setup over the default one
	Reset     []string          `json:"reset,omitempty"` // places whose breaker was reset once
}

// Handed is the call in short. It is an error before the complaint is known,
// for an emergency, and where hands were on more than the thermostat: then the
// record itself is handed over.
func (s State) Handed() (Handed, error) {
	h := Handed{From: s.who, Complaint: s.gates.complaint.String(), Facts: map[string]string{}}
	switch {
	case s.isEmergency():
		return h, fmt.Errorf("an emergency is not handed over")
	case s.gates.complaint == house.NoComplaint:
		return h, fmt.Errorf("the call has no complaint yet, so there is nothing to hand over")
	case s.who == house.Tech:
		return h, fmt.Errorf("a technician's call holds more than a code can carry; hand over its record")
	}
	for _, k := range house.FactKinds() {
		if k != house.FactMeter && s.facts.Known(k) && s.facts.Answer(k) != "unknown" {
			h.Facts[k.String()] = s.facts.Answer(k)
		}
	}
	for _, seen := range s.seen {
		seen.Given = house.Partial{}
		for _, k := range house.Keys() {
			if p := (house.Partial{}).Say(k, seen.Setup); p.Over(house.DefaultSetup()) != house.DefaultSetup() {
				seen.Given = seen.Given.Say(k, seen.Setup)
			}
		}
		h.Seen = append(h.Seen, seen)
	}
	for _, p := range s.home.Reset.List() {
		h.Reset = append(h.Reset, p.String())
	}
	return h, nil
}

func (s State) isEmergency() bool { return s.gates.emergency != "" && s.gates.emergency != "no" }

// handover gives the call to another audience. Everything seen and said stays,
// so the walk from the tree's first step on answers itself as far as it was
// answered; what was "cannot" or "I do not know" is asked again. The house is
// as after a pause: nothing counts as proven.
func (b *Book) handover(s State, e Event) (State, []Effect) {
	if e.Open == nil {
		return s, problem("handover", "A hand-over says to whom.")
	}
	before := s
	if s.phase == unopened {
		var err error
		if s, err = b.received(e.Handed); err != nil {
			return before, problem("handover", err.Error())
		}
	}
	if s.isEmergency() {
		return before, problem("handover", "This call ended as an emergency. Start a new one once the house is safe.")
	}
	from := s.who
	s.who = e.Open.Audience
	if s.who == house.Tech {
		s.gates.emergency = "no"
	}
	var err error
	if s.facts, err = unsure(s.facts, e.Open); err != nil {
		return before, problem("handover", err.Error())
	}
	s = State{
		phase: opening, who: s.who, facts: s.facts, home: planner.Resume(s.home), gates: s.gates,
		seen: s.seen, high: s.high, outside: s.outside, log: s.log,
	}
	return b.advance(s.logged(e, EntryHandover, fmt.Sprintf("handed over: %s to %s; nothing counts as proven dead", from, s.who)), b.recap(s))
}

// unsure drops what nobody could say, and the meter, which goes with its
// owner.
func unsure(f house.Facts, open *Opening) (house.Facts, error) {
	out := house.Facts{}
	var err error
	set := func(k house.Fact, id string) {
		if err == nil && id != "" && id != "unknown" {
			out, err = out.Set(k, id)
		}
	}
	for _, k := range house.FactKinds() {
		if k != house.FactMeter && f.Known(k) {
			set(k, f.Answer(k))
		}
	}
	set(house.FactEquipment, open.Equipment)
	set(house.FactMeter, open.Meter)
	return out, err
}

// received is the call that a hand-over in short tells of.
func (b *Book) received(h *Handed) (State, error) {
	if h == nil {
		return State{}, fmt.Errorf("this hand-over carries no call")
	}
	c, err := house.ParseComplaint(h.Complaint)
	if err != nil {
		return State{}, err
	}
	if b.Trees.Trees[c] == nil {
		return State{}, fmt.Errorf("there is no tree for %s", c)
	}
	s := State{phase: opening, who: h.From, home: planner.Start()}
	s.gates = gates{emergency: "no", saidWords: true, complaint: c}
	for id, answer := range h.Facts {
		k, err := house.ParseFact(id)
		if err != nil {
			return State{}, err
		}
		if s.facts, err = s.facts.Set(k, answer); err != nil {
			return State{}, err
		}
	}
	for _, seen := range h.Seen {
		seen.Setup, seen.Probe = house.DefaultSetup().With(seen.Given), seen.Probe.On(s.facts.Equipment)
		if text := s.checkVolunteer(seen); text != "" {
			return State{}, fmt.Errorf("%s: %s", seen.Probe, text)
		}
		seen.Given = house.Partial{}
		s = b.observe(s, seen)
	}
	for _, word := range h.Reset {
		p, err := house.ParsePlace(word)
		if err != nil {
			return State{}, err
		}
		s.home.Reset |= planner.PlacesOf(p)
	}
	return s, nil
}
