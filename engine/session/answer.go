package session

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// question puts the step into words.
func (b *Book) question(s State) Effect {
	setup := s.House()
	if s.step.Kind == tree.LookStep {
		q := lookQuestion(s.step.ID, s.step.Look, s.facts.Equipment, setup)
		q.Why = s.facts.Equipment.Words(s.step.Why)
		return Effect{Ask: q}
	}
	probes := s.probes()
	q := &Ask{Step: s.step.ID, Kind: AskMeasure, Quantity: s.step.Quantity, At: probes[0].At, House: &setup,
		Why: s.facts.Equipment.Words(s.step.Why), Text: measureText(s.step.Quantity, s.facts.Equipment, setup.Setup, probes...)}
	for i, p := range probes {
		pair := Pair{Name: s.step.Pairs[i].Name, Red: p.Red, Black: p.Black, Conductor: p.Conductor}
		if _, read := s.recall(p, s.home.Setup); read || slices.Contains(s.cannot, pair.Name) {
			q.Given = append(q.Given, pair)
			continue
		}
		q.Pairs = append(q.Pairs, pair)
	}
	return Effect{Ask: q}
}

func lookQuestion(step string, l house.Look, e house.Equipment, h House) *Ask {
	q := &Ask{Step: step, Kind: AskLook, Look: l, Text: e.Words(l.Question()), House: &h}
	for _, a := range l.Answers() {
		q.Answers = append(q.Answers, Choice{l.AnswerID(a), l.AnswerText(a)})
	}
	return q
}

// measureText says what to set the meter to, where, and what is called.
func measureText(q quantity.Quantity, e house.Equipment, s house.Setup, probes ...house.Probe) string {
	what := map[quantity.Quantity]string{
		quantity.ACVolts: "Volts AC", quantity.LowZVolts: "Volts AC, low-impedance mode", quantity.DCVolts: "Volts DC",
		quantity.Resistance: "Ohms", quantity.Current: "Amps, clamp on the conductor",
	}[q]
	return what + " at the " + placeText(e, probes...) + ", " + CallText(e, q, s) + "."
}

// placeText names the place that probes of one batch are made at on equipment e.
func placeText(e house.Equipment, probes ...house.Probe) string {
	switch at := probes[0].At; {
	case at == house.AtThermostat:
		return "thermostat's wall base"
	case e.Packaged():
		return "unit's control board"
	case at == house.AtIndoor && e == house.SplitPower:
		return boardsText(probes)
	case at == house.AtOutdoor:
		return "outdoor unit"
	case e == house.CoolElectric || e == house.PumpCoolingValve || e == house.PumpHeatingValve || e == house.TwoStagePump:
		return "air-handler board"
	case e == house.NoEquipment:
		return "indoor board"
	}
	return "furnace board"
}

// boardsText names the board, or both, of a house with two transformers.
func boardsText(probes []house.Probe) string {
	switch furnace := (house.Probe).HeatSide; {
	case !slices.ContainsFunc(probes, furnace):
		return "air-handler board"
	case slices.ContainsFunc(probes, func(p house.Probe) bool { return !p.HeatSide() }):
		return "air-handler and furnace boards"
	}
	return "furnace board"
}

// CallText says in which call a probe is made: cooling called, a jumper in place,
// power locked out for ohms.
func CallText(e house.Equipment, q quantity.Quantity, s house.Setup) string {
	switch {
	case q == quantity.Resistance, s.PowerIndoor == house.LockedOut:
		return "power locked out"
	case s.Jumper != 0:
		return "jumper " + e.JumperWords(s.Jumper) + " in place"
	case s.Thermostat == house.Removed:
		return "thermostat off its base"
	case s.Calling && s.Mode == house.ModeCool:
		return "cooling called"
	case s.Calling && s.Mode == house.ModeHeat:
		return "heat called"
	case s.Calling && s.Mode == house.ModeEmergency:
		return "emergency heat called"
	case s.FanOn:
		return "fan on, nothing else called"
	}
	return "nothing called"
}

// answer takes a reply to an Ask.
func (b *Book) answer(s State, e Event) (State, []Effect, bool) {
	q := s.pending.Ask
	switch {
	case q.Kind == AskText && e.Kind == Text:
		return b.answerText(s, e)
	case q.Kind == AskMeasure && e.Kind == Values:
		return b.answerValues(s, e)
	case q.Early && e.Kind == Text:
		return b.saidEarly(s, e)
	case (q.Kind == AskLook || q.Kind == AskChoose) && e.Kind == Answer:
		if !offered(q.Answers, e.Reply) {
			return s, problem("answer", fmt.Sprintf("%q is not one of the answers: %s.", e.Reply, ids(q.Answers))), false
		}
		return b.answerChoice(s, e)
	}
	return s, s.unfit(), false
}

func offered(answers []Choice, id string) bool {
	for _, a := range answers {
		if a.ID == id {
			return true
		}
	}
	return false
}

func ids(answers []Choice) string {
	words := make([]string, len(answers))
	for i, a := range answers {
		words[i] = a.ID
	}
	return strings.Join(words, ", ")
}

func (b *Book) answerText(s State, e Event) (State, []Effect, bool) {
	if strings.TrimSpace(e.Reply) == "" {
		return s, s.unfit(), false
	}
	asked := s.asked
	s = s.remember().logged(e, EntryAnswer, e.Reply)
	if asked == askedWords {
		s, effects := b.said(s, e.Reply)
		return s, effects, true
	}
	letters, err := house.ParseLetters(e.Reply)
	if err != nil || letters == 0 {
		return *s.last, problem("letters", "Type the letters with spaces between, as in: R C Y G W."), false
	}
	s.facts.Letters, s.facts.LettersAsked, s.spelling = letters, true, false
	return s, nil, true
}

func (b *Book) answerChoice(s State, e Event) (State, []Effect, bool) {
	q := s.pending.Ask
	asked := s.asked
	named := q.Step
	if q.Kind == AskLook {
		named = q.Look.String() // a step's name tells nobody what was looked at
	}
	s = s.remember().logged(e, EntryAnswer, named+": "+e.Reply)
	switch {
	case asked == askedPlanner:
		return s.answerPlanner(q.Look, e), nil, true
	case asked == askedStep:
		a, err := q.Look.ParseAnswer(e.Reply)
		if err != nil {
			return *s.last, problem("answer", err.Error()), false
		}
		seen := Seen{Probe: s.probes()[0], Setup: s.home.Setup, Answer: a}
		s, effects := b.weigh(b.observe(s, seen))
		if s.doubt != nil {
			return s, effects, true
		}
		return b.settle(s, []Seen{seen}), effects, true
	case asked == askedRetake:
		return s.retake(e.Reply == "yes"), nil, true
	case asked == askedFact && s.fact == house.FactLetters && e.Reply == "other":
		s.spelling = true
		return s, nil, true
	}
	next, effects := b.answerGate(s, e.Reply)
	return next, effects, true
}

// answerPlanner takes the one look the planner asks for: what kind of
// thermostat it is, before its face comes off.
func (s State) answerPlanner(l house.Look, e Event) State {
	a, err := l.ParseAnswer(e.Reply)
	if err != nil {
		return s
	}
	if l == house.StatKind && l.AnswerID(a) == "line-voltage" {
		s.facts.Equipment, s.facts.EquipmentAsked = house.LineVoltageThermostat, true
		return s
	}
	s.home = s.home.Saw(l, a)
	return s
}

// answerValues takes readings of the batch, all of them or some: what is given
// is kept, and the rest is asked for again.
func (b *Book) answerValues(s State, e Event) (State, []Effect, bool) {
	q := s.pending.Ask
	if text := checkBatch(q, e.Read); text != "" {
		return s, problem("reading", text), false
	}
	s = s.remember()
	for i, pair := range s.step.Pairs {
		r, given := e.Read[pair.Name]
		if !given {
			continue
		}
		if r.Missing {
			s = s.logged(e, EntryUnable, pair.Name)
			s.cannot = push(s.cannot, pair.Name)
			continue
		}
		seen := Seen{Probe: s.probes()[i], Setup: s.home.Setup, Reading: r}
		s.log = push(s.log, Entry{At: e.At, Kind: EntryRead, Text: pair.Name, Seen: &seen})
		s = b.observe(s, seen)
	}
	if s.high != "" || len(b.question(s).Ask.Pairs) > 0 {
		return s, nil, true
	}
	s, effects := b.weigh(s)
	switch {
	case len(s.cannot) > 0:
		s.cuts = push(s.cuts, s.step)
		s, _, _ = b.cut(s)
	case s.doubt == nil:
		s = b.settle(s, s.recallAll(s.home.Setup))
	}
	return s, effects, true
}

// checkBatch tells what is wrong with readings, or nothing.
func checkBatch(q *Ask, read map[string]quantity.Reading) string {
	if len(read) == 0 {
		return "A reading is wanted here: a number, or `unable`."
	}
	for name, v := range read {
		if !named(q.Pairs, name) && !named(q.Given, name) {
			return fmt.Sprintf("No reading here is called %q.", name)
		}
		if err := v.Check(q.Quantity); err != nil {
			return name + ": " + err.Error()
		}
	}
	return ""
}

func named(pairs []Pair, name string) bool {
	for _, p := range pairs {
		if p.Name == name {
			return true
		}
	}
	return false
}

// unable takes a "cannot" to the open question.
func (b *Book) unable(s State, e Event) (State, []Effect) {
	s = s.remember().logged(e, EntryUnable, s.what())
	switch s.asked {
	case askedEmergency, askedWords, askedComplaint:
		return *s.last, problem("needed", "This one is needed before anything else; pick the nearest answer.")
	case askedEquipment, askedFact, askedLetters:
		if s.fact == house.FactEquipment && s.who == house.Tech && s.asked != askedLetters {
			return *s.last, problem("needed", "Pick the kind of system; `unknown` will do unless all of it sits in one cabinet outdoors.")
		}
		s = s.unknownFact()
		return b.advance(s, nil)
	case askedPeople, askedTemperature:
		s, _ = b.answerGate(s, "unknown")
		return b.advance(s, nil)
	case askedRetake:
		return b.advance(s.retake(false), nil)
	case askedStep:
		if s.step.Kind == tree.LookStep {
			s.blind = push(s.blind, s.step.Look)
		}
		s.cuts = push(s.cuts, s.step)
		s, _, _ = b.cut(s)
		return b.advance(s, nil)
	}
	switch {
	case s.phase == leaving:
		return b.cannotLeave(s)
	case s.safing: // not even that: leave it off and locked
		s.safing = false
		s = b.end(s, house.Undecided)
		s.ending.Locked = true
		return b.advance(s, nil)
	}
	s.safing, s.declined = true, push(s.declined, s.next.ID)
	return b.advance(s, nil)
}

// unknownFact takes "cannot say" to a fact as unknown; a meter nobody can name
// is no meter.
func (s State) unknownFact() State {
	switch s.fact {
	case house.FactMeter:
		s.facts.Meter = house.MeterNone
	default:
		if f, err := s.facts.Set(s.fact, "unknown"); err == nil {
			s.facts = f
		}
	}
	s.spelling = false
	return s
}

// what names the open question for the record.
func (s State) what() string {
	switch ask := s.pending.Ask; {
	case ask != nil && ask.Kind == AskLook:
		return ask.Look.String()
	case ask != nil:
		return ask.Step
	case s.pending.Do != nil:
		return s.pending.Do.Text
	case s.pending.Caution != nil:
		return s.pending.Caution.ID
	}
	return ""
}
