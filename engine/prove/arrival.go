package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// goalID numbers a probe in a setup, as far as the probe can tell setups apart.
type goalID int32

// goal is a probe in the complete setup it is made in.
type goal struct {
	setup house.Setup
	probe house.Probe
}

// odd reports whether somebody who takes a packaged unit for two cabinets has
// opened the one feed it has. What is read then is nobody else's reading,
// though the probe and its setup go by the same number.
func (g goal) odd(e house.Equipment) bool {
	return e.Packaged() && g.setup.PowerOutdoor != g.setup.PowerIndoor
}

func (g goal) key() goal { return goal{g.probe.Comparable(g.setup), g.probe} }

// arrival is what happens when a call comes to a step in one state of the
// house: it is the same for every fault and draw, so it is worked out once.
type arrival struct {
	cut    bool       // out of reach, before anything is asked
	fact   house.Fact // this must be asked first
	wants  []goalID   // what the step would be answered from
	refuse bool       // the planner will not take the house there
	state  int32      // of the house where the probe is made, or the plan ended
	goals  []goal     // the probes as made there
	ids    []goalID
	rests  bool // five minutes were counted on the way
	// moves: what the probe shows moves the planner's account of the house.
	moves bool
}

// atlas keeps what walks of one audience share: planner states, facts, goals
// and arrivals, by number. It serves one goroutine.
type atlas struct {
	who      house.Audience
	states   []planner.State
	stateIDs map[planner.State]int32
	facts    []house.Facts
	factIDs  map[house.Facts]int32
	goals    *goalBook
	arrivals map[arrivalKey]*arrival
	near     [1 << 11]nearArrival // those asked for last, by a hash of their key
}

type nearArrival struct {
	key arrivalKey
	got *arrival
}

type arrivalKey struct {
	step         *tree.Step
	state, facts int32
}

// goalBook numbers goals for a whole worker, so that values can be kept by it.
type goalBook struct {
	equipment house.Equipment
	list      []goal
	ids       map[goal]goalID
	// Where one feed is taken for two, goals of one number read apart: they have
	// numbers of their own beside it.
	odds   []goal
	oddIDs map[goal]int16
}

func newGoalBook(e house.Equipment) *goalBook {
	return &goalBook{equipment: e, ids: map[goal]goalID{}, oddIDs: map[goal]int16{}}
}

func (b *goalBook) id(g goal) goalID {
	key := g.key()
	id, ok := b.ids[key]
	switch {
	case !ok:
		id = goalID(len(b.list))
		b.ids[key] = id
		b.list = append(b.list, g)
	case b.list[id].odd(b.equipment):
		b.list[id] = g
	}
	return id
}

// glance is a probe about to be made.
func (b *goalBook) glance(id goalID, g goal, rested bool) glance {
	out := glance{goal: id, rested: rested}
	if !g.odd(b.equipment) {
		return out
	}
	out.feed = b.oddIDs[g]
	if out.feed == 0 {
		b.odds = append(b.odds, g)
		out.feed = int16(len(b.odds))
		b.oddIDs[g] = out.feed
	}
	return out
}

// of is the goal of a glance, as it was made.
func (b *goalBook) of(g glance) goal {
	if g.odd() {
		return b.odds[g.feed-1]
	}
	return b.list[g.goal]
}

func newAtlas(who house.Audience, goals *goalBook) *atlas {
	return &atlas{who: who, stateIDs: map[planner.State]int32{}, factIDs: map[house.Facts]int32{}, goals: goals,
		arrivals: map[arrivalKey]*arrival{}}
}

func (a *atlas) state(s planner.State) int32 {
	id, ok := a.stateIDs[s]
	if !ok {
		id = int32(len(a.states))
		a.stateIDs[s] = id
		a.states = append(a.states, s)
	}
	return id
}

func (a *atlas) factsID(f house.Facts) int32 {
	id, ok := a.factIDs[f]
	if !ok {
		id = int32(len(a.facts))
		a.factIDs[f] = id
		a.facts = append(a.facts, f)
	}
	return id
}

// arrive is a call's coming to step s, the house in a state, with what is
// known of it.
func (a *atlas) arrive(s *tree.Step, state, facts int32) *arrival {
	key := arrivalKey{s, state, facts}
	near := &a.near[(int(state)*131+int(facts)*31+s.Pos.Line)%len(a.near)]
	if near.key == key {
		return near.got
	}
	got, ok := a.arrivals[key]
	if !ok {
		got = a.plan(s, a.states[state], a.facts[facts])
		a.arrivals[key] = got
	}
	*near = nearArrival{key, got}
	return got
}

// plan takes the planner's actions one after the other until the probe can be
// made.
func (a *atlas) plan(s *tree.Step, home planner.State, f house.Facts) *arrival {
	out := &arrival{}
	probes := probesOf(s, f.Equipment)
	for first := true; ; first = false {
		if fact, ok := missingFact(s, a.who, f, home.Setup, probes); ok {
			out.fact, out.state = fact, a.state(home)
			return out
		}
		setup := s.Resolve(home.Setup).On(f.Equipment)
		for _, p := range probes {
			if house.Reach(a.who, f, p, setup) != house.NoCut {
				out.cut, out.state = true, a.state(home)
				return out
			}
		}
		if first {
			for _, p := range probes {
				out.wants = append(out.wants, a.goals.id(goal{setup, p}))
			}
		}
		next := planner.Next(home, planner.Goal{Setup: setup, Probe: probes[0]}, a.who, f)
		out.rests = out.rests || next.ID == planner.CountCall
		switch next.Kind {
		case planner.Ready:
			a.made(out, home, probes)
			return out
		case planner.Refuse:
			out.refuse, out.state = true, a.state(home)
			return out
		case planner.Look:
			home = home.Saw(next.Look, lowVoltage(next.Look))
		default:
			home = next.After
		}
	}
}

// lowVoltage is the one look the planner asks for, answered as on every house
// that is modelled.
func lowVoltage(l house.Look) house.Answer {
	answer, _ := l.ParseAnswer("low-voltage")
	return answer
}

// made fills in the probes as made in the house at home.
func (a *atlas) made(out *arrival, home planner.State, probes []house.Probe) {
	out.state = a.state(home)
	for _, p := range probes {
		g := goal{home.Setup, p}
		out.goals = append(out.goals, g)
		out.ids = append(out.ids, a.goals.id(g))
		if p.IsLook() {
			for _, answer := range p.Look.Answers() {
				out.moves = out.moves || home.Saw(p.Look, answer) != home
			}
			continue
		}
		for _, x := range []float64{0, 26} {
			out.moves = out.moves || home.Read(p, quantity.Of(x)) != home
		}
	}
}

// probesOf are what a step asks for in a house with equipment e.
func probesOf(s *tree.Step, e house.Equipment) []house.Probe {
	out := s.Probes()
	for i := range out {
		out[i] = out[i].On(e)
	}
	return out
}

// missingFact is a house fact that the reach of a step depends on and nobody
// was asked for yet: the meter, whether the base shows its screws, and which
// letters carry a conductor.
func missingFact(s *tree.Step, who house.Audience, f house.Facts, home house.Setup, probes []house.Probe) (house.Fact, bool) {
	atBase := s.At == house.AtThermostat
	if s.Kind != tree.MeasureStep || who == house.Dispatcher || who == house.Homeowner && !atBase {
		return house.NoFact, false
	}
	if (who != house.Tech || s.Quantity == quantity.LowZVolts) && !f.Known(house.FactMeter) {
		return house.FactMeter, true
	}
	if f.Meter == house.MeterNone || !atBase {
		return house.NoFact, false
	}
	if s.Resolve(home).Thermostat == house.Mounted && !f.Known(house.FactBase) {
		return house.FactBase, true
	}
	for _, p := range probes {
		for _, t := range []house.Terminal{p.Red, p.Black} {
			if f.MayLack(t) && !f.Known(house.FactLetters) {
				return house.FactLetters, true
			}
		}
	}
	return house.NoFact, false
}
