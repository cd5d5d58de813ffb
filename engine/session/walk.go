package session

import (
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// advance goes on until something is asked of the person, or the call ends.
func (b *Book) advance(s State, effects []Effect) (State, []Effect) {
	s.pending, s.asked = Effect{}, askedNothing
	for s.phase != ended {
		if f, stop := s.stopped(); stop && s.phase != leaving {
			s = b.end(s, f)
		}
		if s.found != nil && !s.told {
			s.told = true
			effects = append(effects, Effect{Finding: s.found})
		}
		var out Effect
		var asked bool
		switch s.phase {
		case opening:
			if s.dueEarly() {
				var said []Effect
				s, said = b.said(s, s.gates.early)
				effects = append(effects, said...)
				continue
			}
			s, out, asked = b.gate(s)
			if !asked {
				s.phase, s.step = walking, b.Trees.Trees[s.gates.complaint].First
				var taken []Effect
				s, taken = b.takeKnown(s)
				effects = append(effects, taken...)
			}
		case walking:
			s, out, asked = b.walk(s)
			if asked && s.notice != "" {
				effects, s.notice = noticed(effects, s.notice), ""
			}
		case leaving:
			s, out, asked = b.leave(s)
		}
		if asked {
			s.pending = out
			effects = append(effects, out)
			return s, effects
		}
	}
	effects = append(effects, s.leftOff()...)
	return s, append(effects, Effect{End: &End{Exit: s.exit()}})
}

// walk makes one move in the tree: asks for what the step needs, or takes one
// of its edges.
func (b *Book) walk(s State) (State, Effect, bool) {
	if s.safing {
		return b.makeSafe(s)
	}
	if s.doubt != nil {
		return s.askRetake()
	}
	if slices.Contains(s.cuts, s.step) {
		return b.cut(s)
	}
	if s.step.Kind == tree.AskStep {
		return b.askFact(s)
	}
	if fact, ok := s.missingFact(); ok {
		return s.factQuestion(fact)
	}
	setup := s.wanted()
	if !s.facts.Equipment.Sets(setup) {
		return b.cut(s)
	}
	for _, p := range s.probes() {
		if house.Reach(s.who, s.facts, p, setup) != house.NoCut {
			return b.cut(s)
		}
	}
	if next, ok := b.reuse(s, setup); ok {
		return next, Effect{}, false
	}
	switch spared := b.spared(s); {
	case spared && s.unseen():
		return b.cut(s)
	case spared && b.idle(s, setup):
		return b.goOn(s), Effect{}, false
	}
	return b.prepare(s, setup)
}

// prepare asks the planner for the next thing on the way to the step's setup,
// or asks the step itself once the house is there.
func (b *Book) prepare(s State, setup house.Setup) (State, Effect, bool) {
	goal := planner.Goal{Setup: setup, Probe: s.probes()[0], Rested: s.led != nil && s.led.Rested}
	s.next = planner.Next(s.home, goal, s.who, s.facts)
	switch s.next.Kind {
	case planner.Ready:
		if found := s.recallAll(s.home.Setup); found != nil { // known in the house as it stands
			return b.settle(s, found), Effect{}, false
		}
		s.asked = askedStep
		return s, b.question(s), true
	case planner.Refuse:
		return b.cut(s)
	}
	if slices.Contains(s.declined, s.next.ID) {
		s.safing = true
		return s, Effect{}, false
	}
	return b.plannerQuestion(s)
}

// plannerQuestion shows the planner's action.
func (b *Book) plannerQuestion(s State) (State, Effect, bool) {
	s.asked = askedPlanner
	a := s.next
	switch a.Kind {
	case planner.Caution:
		c, _ := b.Cautions.Get(a.Caution)
		return s, Effect{Caution: &CautionEffect{Caution: c}}, true
	case planner.Look:
		return s, Effect{Ask: lookQuestion(a.Look.String(), a.Look, s.facts.Equipment, s.House())}, true
	}
	return s, Effect{Do: &Do{ID: a.ID, Text: a.Text + s.darkText(a), WaitSeconds: a.Wait, House: houseOf(a.After)}}, true
}

// darkText is added where a thermostat that is dark would have to be set.
func (s State) darkText(a planner.Action) string {
	if a.ID != planner.SetThermostat || s.home.PowerIndoor != house.On || !s.dark() {
		return ""
	}
	return " Dark, and nothing can be set? Leave it so, and say done."
}

// dark reports whether the display was dark when it was last looked at, or is
// said to be.
func (s State) dark() bool {
	for i := len(s.seen) - 1; i >= 0; i-- {
		if p := s.seen[i].Probe; p.Look == house.Display {
			return p.Look.AnswerID(s.seen[i].Answer) == "blank"
		}
	}
	return s.gates.complaint == house.DarkDisplay
}

// makeSafe follows an `unable` to a do or a caution: the house is made safe,
// then the step that wanted it is cut.
func (b *Book) makeSafe(s State) (State, Effect, bool) {
	s.next = planner.MakeSafe(s.home, s.who, s.facts)
	if s.next.Kind != planner.Ready && s.next.Kind != planner.Refuse {
		return b.plannerQuestion(s)
	}
	s.safing = false
	s.cuts = push(s.cuts, s.step)
	return b.cut(s)
}

// cut takes the step's unable edge.
func (b *Book) cut(s State) (State, Effect, bool) {
	if s.led != nil {
		return b.ledCut(s), Effect{}, false
	}
	if s.openFrom == nil {
		s.openFrom = s.step
	}
	if s.step.Unable.Kind == tree.NoTarget {
		return b.goOn(s), Effect{}, false
	}
	return b.follow(s, s.step.Unable), Effect{}, false
}

// follow goes where a target points.
func (b *Book) follow(s State, t tree.Target) State {
	switch t.Kind {
	case tree.ToFinding:
		if t.Finding == house.Undecided {
			return b.goOn(s)
		}
		if s.left = b.disputed(s, t.Finding); len(s.left) > 0 {
			return b.end(s, house.Undecided)
		}
		return b.end(s, t.Finding)
	case tree.ToTree:
		s.shown = nil
	}
	s.step, s.cannot = t.Next(), nil
	return s
}

// decided goes on from an answered step.
func (b *Book) decided(s State, t tree.Target) State {
	s.openFrom = nil
	return b.follow(s, t)
}

// probes are what the step asks for, one for a look, one a pair for a reading.
func (s State) probes() []house.Probe {
	e := s.facts.Equipment
	if s.step.Kind == tree.LookStep {
		return []house.Probe{house.LookAt(s.step.Look).On(e)}
	}
	out := make([]house.Probe, 0, len(s.step.Pairs))
	for _, pair := range s.step.Pairs {
		p := house.Measure(s.step.Quantity, pair.Red, pair.Black, s.step.At)
		if s.step.Quantity == quantity.Current {
			p = house.Clamp(pair.Conductor)
		}
		out = append(out, p.On(e))
	}
	return out
}

// missingFact is a house fact the step's reach depends on and nobody was
// asked for yet.
func (s State) missingFact() (house.Fact, bool) {
	if s.step.Kind != tree.MeasureStep || s.who == house.Dispatcher {
		return house.NoFact, false
	}
	wants := func(f house.Fact, needed bool) bool { return needed && !s.facts.Known(f) }
	probes, atBase := s.probes(), s.step.At == house.AtThermostat
	if s.who == house.Homeowner && !atBase {
		return house.NoFact, false
	}
	switch {
	case wants(house.FactMeter, s.who != house.Tech || s.step.Quantity == quantity.LowZVolts):
		return house.FactMeter, true
	case s.facts.Meter == house.MeterNone || !atBase:
		return house.NoFact, false
	case wants(house.FactBase, s.wanted().Thermostat == house.Mounted):
		return house.FactBase, true
	}
	for _, p := range probes {
		for _, t := range []house.Terminal{p.Red, p.Black} {
			if wants(house.FactLetters, s.facts.MayLack(t)) {
				return house.FactLetters, true
			}
		}
	}
	return house.NoFact, false
}

// factQuestion asks for a house fact.
func (s State) factQuestion(f house.Fact) (State, Effect, bool) {
	s.fact = f
	if s.spelling {
		s.asked = askedLetters
		return s, Effect{Ask: &Ask{Step: f.String(), Kind: AskText, Text: "Type the letters that carry a wire, as in: R C Y G W."}}, true
	}
	if f == house.FactLetters {
		return s.choose(askedFact, f.String(), "Which letters at the thermostat carry a wire?", letterChoices(s.facts.Equipment))
	}
	var choices []Choice
	for _, a := range f.Answers() {
		choices = append(choices, Choice{a[0], a[1]})
	}
	return s.choose(askedFact, f.String(), f.Question(), choices)
}

// letterChoices are the usual sets for an equipment: single R, with and
// without a common; then Rc and Rh.
func letterChoices(e house.Equipment) []Choice {
	var out []Choice
	add := func(set house.Letters) {
		out = append(out, Choice{set.String(), set.String()})
	}
	rest := e.Letters().Minus(e.SometimesLetters()).Minus(house.LettersOf(house.R, house.Rc, house.Rh))
	if e == house.NoEquipment {
		rest = house.LettersOf(house.Y, house.G, house.W)
	}
	single, double := rest.Add(house.R), rest.Add(house.Rc).Add(house.Rh)
	if e != house.SplitPower {
		add(single.Add(house.C))
		add(single)
	}
	add(double.Add(house.C))
	add(double)
	return append(out, Choice{"other", "other letters"}, Choice{"unknown", "I do not know"})
}

// askFact runs an `ask` step: a fact already known answers itself.
func (b *Book) askFact(s State) (State, Effect, bool) {
	if s.facts.Known(s.step.Fact) {
		t, _, err := s.step.Choose(s.facts.Answer(s.step.Fact))
		if err != nil {
			return b.cut(s)
		}
		return b.decided(s, t), Effect{}, false
	}
	return s.factQuestion(s.step.Fact)
}
