package session

import (
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/tree"
)

// emergencies are the signs asked for first, `no` ahead of them.
var emergencies = []Choice{
	{"no", "none of these"},
	{"gas", "a smell of gas"},
	{"carbon-monoxide", "a carbon monoxide alarm, or people feel ill or dizzy"},
	{"smoke", "smoke or a burning smell"},
	{"water", "water on electrical parts"},
	{"shock", "somebody got a shock"},
}

// signCautions are the cautions that say what to do at a sign.
var signCautions = map[string]string{"gas": "gas-smell", "carbon-monoxide": "carbon-monoxide", "smoke": "smoke", "water": "water", "shock": "shock"}

// onlySign makes an emergency's text that of the sign that was reported: who
// smells gas need not read of water.
func (b *Book) onlySign(f *FindingEffect, sign string, who house.Audience) {
	for _, c := range emergencies {
		if c.ID == sign {
			f.Title += ": " + c.Text
		}
	}
	c, ok := b.Cautions.Get(signCautions[sign])
	if !ok {
		return
	}
	f.Text, f.Do, f.Hazards, f.Commonly = f.Text[:1], slices.Clone(c.Text), []string{c.Hazard}, ""
	if who == house.Dispatcher {
		f.Do[0] = "Tell the caller, word for word: " + f.Do[0]
	}
}

// gate asks the next opening question; false where none is left.
func (b *Book) gate(s State) (State, Effect, bool) {
	switch {
	case s.gates.emergency == "":
		return s.choose(askedEmergency, "emergency", "First: is any of this happening now?", emergencies)
	case s.who == house.Dispatcher && s.gates.people == "":
		return s.choose(askedPeople, "people", "Is anyone there at risk?", peopleChoices)
	case s.who == house.Dispatcher && s.gates.temperature == "":
		return s.choose(askedTemperature, "temperature", "How is it indoors?", temperatureChoices)
	case !s.gates.saidWords:
		s.asked = askedWords
		return s, Effect{Ask: &Ask{Step: "words", Kind: AskText, Text: "What does the house not do? Say it in your own words."}}, true
	case s.gates.complaint == house.NoComplaint:
		return s.choose(askedComplaint, "complaint", "Which of these is it?", b.complaintChoices(s.gates.candidates))
	case !s.facts.Known(house.FactEquipment):
		s.fact = house.FactEquipment
		return s.choose(askedEquipment, house.FactEquipment.String(), "What kind of system is it?", b.equipmentChoices(s.gates.complaint))
	}
	return s, Effect{}, false
}

func (s State) choose(a asked, step, text string, answers []Choice) (State, Effect, bool) {
	s.asked = a
	return s, Effect{Ask: &Ask{Step: step, Kind: AskChoose, Text: text, Answers: answers, Early: s.takesEarly()}}, true
}

// entered are the complaints a call can start with, in the vocabulary's order.
func (b *Book) entered() []house.Complaint {
	var out []house.Complaint
	for _, c := range house.Complaints() {
		if c.Entered() {
			continue
		}
		if _, ok := b.Trees.Trees[c]; ok {
			out = append(out, c)
		}
	}
	return out
}

func (b *Book) complaintChoices(candidates []house.Complaint) []Choice {
	if len(candidates) == 0 {
		candidates = b.entered()
	}
	var out []Choice
	for _, c := range candidates {
		out = append(out, Choice{c.String(), b.Trees.Trees[c].Title})
	}
	return append(out, Choice{"none-of-these", "none of these"})
}

// equipmentChoices are the kinds of system a complaint fits, and those that are
// only recognised. Nobody is made to guess how a heat pump's valve is wired.
func (b *Book) equipmentChoices(c house.Complaint) []Choice {
	var out []Choice
	unknown := "I am not sure which of these"
	for _, e := range house.Equipments() { // in one order, whatever the complaint
		if !fits(b.Trees.Trees[c], e) {
			continue
		}
		out = append(out, Choice{e.String(), e.Title()})
		if e.Packaged() {
			unknown = "I am not sure which of these, but it is not all in one cabinet outdoors"
		}
	}
	for _, e := range house.Recognised() {
		if e.Handling() != house.Modelled {
			out = append(out, Choice{e.String(), e.Title()})
		}
	}
	return append(out, Choice{"unknown", unknown})
}

// takesEarly reports whether the complaint may be said now, ahead of its
// question.
func (s State) takesEarly() bool {
	first := s.asked == askedEmergency || s.asked == askedPeople || s.asked == askedTemperature
	return first && !s.gates.saidWords
}

// dueEarly reports whether the complaint is wanted next and was already said.
func (s State) dueEarly() bool {
	asked := s.who != house.Dispatcher || s.gates.people != "" && s.gates.temperature != ""
	return s.gates.early != "" && !s.gates.saidWords && s.gates.emergency == "no" && asked
}

// saidEarly keeps a complaint until it is asked for, so that nobody says it
// twice; words that tell of danger are not kept waiting.
func (b *Book) saidEarly(s State, e Event) (State, []Effect, bool) {
	words := strings.TrimSpace(e.Reply)
	if words == "" {
		return s, s.unfit(), false
	}
	s = s.remember().logged(e, EntryAnswer, words)
	if m := b.Match.Match(words); m.Emergency != "" {
		s.gates.words, s.gates.emergency = words, m.Emergency
		return s, nil, true
	} else if s, effects, ok := s.heard(words); ok {
		if len(m.Trees) > 0 {
			s.gates.early = words
		}
		return s, effects, true
	}
	s.gates.early = words
	effects := []Effect{tell("Noted, and kept for later: " + words)}
	if id, ok := HeardUrgency("people", words); ok && id != "no" && s.who == house.Dispatcher && s.gates.people == "" {
		s.gates.people = id // nobody is asked again who is at risk
		effects = append(effects, tell("Taken as: "+takenAs[id]+"."))
	}
	return s, append(effects, tell("This comes first.")), true
}

// said takes the complaint in a person's own words.
func (b *Book) said(s State, words string) (State, []Effect) {
	s.gates.words, s.gates.saidWords = strings.TrimSpace(words), true
	m := b.Match.Match(words)
	switch {
	case m.Emergency != "":
		s.gates.emergency = m.Emergency
		return s, nil
	case m.Equipment != house.NoEquipment && s.facts.Equipment == house.NoEquipment:
		s.facts.Equipment, s.facts.EquipmentAsked = m.Equipment, true
		return s, []Effect{tell("This sounds like " + m.Equipment.Title() + ".")}
	case m.Outside != "" && len(m.Trees) == 0:
		return s, []Effect{tell("This sounds like " + m.Outside + ", which is outside the control circuit. If the house also does one of these, choose it.")}
	}
	s.gates.candidates = b.known(m.Trees)
	s.gates.fewer = len(s.gates.candidates) > 0
	if m.Sure && len(s.gates.candidates) > 0 {
		return b.matched(s, s.gates.candidates[0])
	}
	if len(s.gates.candidates) == 0 {
		return s, []Effect{tell("None of the complaints known here fits those words.")}
	}
	return s, nil
}

// known keeps the complaints that have a tree.
func (b *Book) known(cs []house.Complaint) []house.Complaint {
	var out []house.Complaint
	for _, c := range cs {
		if _, ok := b.Trees.Trees[c]; ok {
			out = append(out, c)
		}
	}
	return out
}

// others are the complaints a call on an equipment can start with, but for some.
func (b *Book) others(e house.Equipment, but []house.Complaint) []house.Complaint {
	var out []house.Complaint
	for _, c := range b.entered() {
		if !slices.Contains(but, c) && (e == house.NoEquipment || e.Handling() != house.Modelled || fits(b.Trees.Trees[c], e)) {
			out = append(out, c)
		}
	}
	return out
}

// noneOf takes none of the complaints listed: where they were only those that
// somebody's words sound like the others are listed, else it is outside.
func (b *Book) noneOf(s State) (State, []Effect) {
	if others := b.others(s.facts.Equipment, s.gates.candidates); s.gates.fewer && len(others) > 0 {
		s.gates.candidates, s.gates.fewer = others, false
		return s, nil
	}
	s.outside = true
	return s, nil
}

// matched takes a complaint and says which it is.
func (b *Book) matched(s State, c house.Complaint) (State, []Effect) {
	t := b.Trees.Trees[c]
	if e := s.facts.Equipment; e != house.NoEquipment && e.Handling() == house.Modelled && !fits(t, e) {
		s.gates.candidates, s.gates.fewer = b.others(e, nil), false
		return s, []Effect{tell("“" + t.Title + "” does not go with this equipment: " + e.Title() + ".")}
	}
	s.gates.complaint = c
	effects := []Effect{{Tell: &Tell{Text: "Taken as: " + t.Title + ".", Tree: c}}}
	if c == house.AfterSwap {
		effects = append(effects, tell("How the wires were landed can be checked first, without a meter: `landing` here, or stepdown rewire --check."))
	}
	return s, effects
}

// answerGate takes the answer to an opening question.
func (b *Book) answerGate(s State, id string) (State, []Effect) {
	switch s.asked {
	case askedEmergency:
		s.gates.emergency = id
	case askedPeople:
		s.gates.people = id
	case askedTemperature:
		s.gates.temperature = id
	case askedComplaint:
		if id == "none-of-these" {
			return b.noneOf(s)
		}
		c, err := house.ParseComplaint(id)
		if err != nil {
			return s, problem("answer", err.Error())
		}
		return b.matched(s, c)
	case askedEquipment, askedFact:
		f, err := s.facts.Set(s.fact, id)
		if err != nil {
			return s, problem("answer", err.Error())
		}
		s.facts = f
	}
	return s, nil
}

// stopped tells how a call ends whatever the tree says: an emergency,
// equipment that is not metered, a complaint outside the circuit, or a control
// reading that is too high.
func (s State) stopped() (house.Finding, bool) {
	switch {
	case s.gates.emergency != "" && s.gates.emergency != "no":
		return house.EmergencyFinding, true
	case s.facts.Equipment.Handling() == house.Stopped:
		return house.LineVoltageStat, true
	case s.facts.Equipment.Handling() == house.Declined:
		return house.DeclinedEquipment, true
	case s.outside:
		return house.NotThisCircuit, true
	case s.high != "":
		return s.high, true
	}
	return "", false
}

func fits(t *tree.Tree, e house.Equipment) bool {
	for _, f := range t.Fits {
		if f == e {
			return true
		}
	}
	return false
}
