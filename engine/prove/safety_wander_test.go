package prove

import (
	"math/rand/v2"
	"slices"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// wanderer goes through a house at random with the whole vocabulary, breaking
// off anywhere, and lays every action before the guard.
type wanderer struct {
	site
	t    *testing.T
	rng  *rand.Rand
	plan Plan
	n    node
	path []string
}

func pick[T any](rng *rand.Rand, from ...T) T { return from[rng.IntN(len(from))] }

// goal is any probe in any setup that an author could write.
func (w *wanderer) goal() planner.Goal {
	s, rng, e := house.DefaultSetup(), w.rng, w.facts.Equipment
	s.PowerIndoor = pick(rng, house.On, house.On, house.Off, house.LockedOut)
	s.PowerOutdoor = pick(rng, house.On, house.On, house.Off, house.LockedOut)
	s.Thermostat = pick(rng, house.Mounted, house.Removed)
	s.Mode = pick(rng, house.ModeOff, house.ModeCool, house.ModeHeat, house.ModeEmergency)
	s.Calling = s.Mode != house.ModeOff && rng.IntN(2) == 0
	s.FanOn = rng.IntN(3) == 0
	s.CoverIndoor, s.CoverOutdoor = rng.IntN(2) == 0, rng.IntN(2) == 0
	s.Fuse = pick(rng, house.FuseAsFound, house.FuseAsFound, house.FuseNew, house.FuseOut, house.FuseBreaker)
	if rng.IntN(3) == 0 {
		s.Jumper = house.LettersOf(pick(rng, house.Y, house.Y2, house.W, house.W2, house.G, house.O))
		if rng.IntN(4) == 0 {
			s.Jumper = house.LettersOf(house.Y, house.G)
		}
		s.JumperAt = pick(rng, house.AtThermostat, house.AtIndoor)
	}
	if rng.IntN(3) == 0 {
		s.Lifted = w.lifts()
	}
	if rng.IntN(3) > 0 { // most goals carry on from the house as it is
		s.Fuse, s.CoverIndoor, s.CoverOutdoor = w.n.s.Fuse, w.n.s.CoverIndoor, w.n.s.CoverOutdoor
	}
	return planner.Goal{Setup: s, Probe: pick(rng, classes(e)...)}
}

// lifts is one conductor, all of one screw, or all of one place.
func (w *wanderer) lifts() house.Conductors {
	var all []house.Conductor
	for _, c := range house.AllConductors() {
		e := w.facts.Equipment
		if e.Where(c.At) == c.At && (bare(e) || e.Has(c.Terminal, c.At)) {
			all = append(all, c)
		}
	}
	one, how := pick(w.rng, all...), w.rng.IntN(3)
	set := house.ConductorsOf(one)
	for _, c := range all {
		if how == 1 && c.Terminal == one.Terminal && c.At == one.At || how == 2 && c.At == one.At {
			set = set.Add(c)
		}
	}
	return set
}

// wander makes n moves, each of a few actions.
func (w *wanderer) wander(n int) {
	for range n {
		switch w.rng.IntN(12) {
		case 0:
			w.n = node{w.plan.Resume(w.n.s), w.n.w.paused()}
			w.path = append(w.path, "pause")
		case 1:
			w.until(w.rng.IntN(40), func() (planner.Action, guard) {
				return w.plan.MakeSafe(w.n.s, w.who, w.facts), guard{site: w.site, w: w.n.w, free: true}
			}, world.gaveUp)
		case 2:
			end := pick(w.rng, endings...)
			w.until(w.rng.IntN(40), func() (planner.Action, guard) {
				return w.plan.Leave(w.n.s, end, w.who, w.facts), guard{site: w.site, w: w.n.w, free: true, stop: end.Finding == house.LineVoltageCrossed}
			}, world.after)
		default:
			w.towards(w.goal())
		}
		if w.n.w.unproven != (pair{}) { // that call is over
			w.n, w.path = node{planner.Start(), newWorld()}, nil
		}
	}
}

// towards follows a goal, often to its end.
func (w *wanderer) towards(g planner.Goal) {
	a := w.until(w.rng.IntN(60), func() (planner.Action, guard) {
		return w.plan.Next(w.n.s, g, w.who, w.facts), guard{site: w.site, w: w.n.w, goal: g}
	}, world.after)
	if a.Kind == planner.Ready && a.ID != "" {
		if why := (guard{site: w.site, w: w.n.w, goal: g}).met(); why != "" {
			w.t.Fatalf("%s\n  after %v\n  towards %s %s", why, w.path, g.Probe, g.Setup)
		}
		r := quantity.Of(pick(w.rng, 0.0, 26))
		w.n = node{w.plan.Read(w.n.s, g.Probe, r), w.n.w.read(g.Probe, r)}
	}
}

// longest is more actions than any plan takes.
const longest = 45

// until takes up to n actions; it fails where one is unsafe or where they
// never come to an end.
func (w *wanderer) until(n int, next func() (planner.Action, guard), after func(world, site, planner.Action) world) planner.Action {
	for i := 0; i < n; i++ {
		a, g := next()
		if why := g.judge(a); why != "" {
			w.t.Fatalf("%s: %s\n  after %v\n  towards %s %s", a.ID, why, w.path, g.goal.Probe, g.goal.Setup)
		}
		if a.Kind == planner.Ready || a.Kind == planner.Refuse {
			return a
		}
		w.said(a)
		if i >= longest {
			w.t.Fatalf("no end\n  after %v\n  towards %s %s", w.path, g.goal.Probe, g.goal.Setup)
		}
		w.n = node{a.After, after(w.n.w, w.site, a)}
		w.path = append(w.path, a.ID)
	}
	return planner.Action{}
}

// said: every do says something, every caution is one the planner lists.
func (w *wanderer) said(a planner.Action) {
	switch {
	case a.Kind == planner.Do && (a.Text == "" || a.ID == ""):
		w.t.Fatalf("%q says nothing", a.ID)
	case a.Kind == planner.Caution && !slices.Contains(planner.Cautions(), a.Caution):
		w.t.Fatalf("caution %q is not listed", a.Caution)
	}
}

// Calls at random over the whole vocabulary: every letter, every conductor,
// every key at once. No unsafe step, and every plan comes to an end.
func TestWander(t *testing.T) {
	seed := uint64(20)
	t.Logf("seed %d", seed)
	rng := rand.New(rand.NewPCG(seed, 7))
	calls := 1500
	if testing.Short() {
		calls = 200
	}
	for _, e := range append(house.Equipments(), house.NoEquipment, house.MiniSplit) {
		for _, b := range []house.Base{house.BaseExposed, house.BaseCovered} {
			x := site{pick(rng, house.Tech, house.Tech, house.Homeowner), house.Facts{Equipment: e, EquipmentAsked: true, Base: b, Meter: house.MeterBoth}}
			for range calls / 10 {
				w := &wanderer{t: t, site: x, rng: rng, plan: planner.Planner{}, n: node{planner.Start(), newWorld()}}
				w.wander(25)
			}
		}
	}
}
