package prove

import (
	"math/rand/v2"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// vocabulary is every probe: each look, each quantity between each two ends
// that share a screw's place, and a clamp on each conductor.
func vocabulary(e house.Equipment) []house.Probe {
	var out []house.Probe
	for _, l := range house.Looks() {
		p := house.LookAt(l)
		p.At = e.Where(p.At)
		out = append(out, p)
	}
	for _, at := range house.Places() {
		if e.Where(at) != at {
			continue
		}
		for _, q := range quantity.All() {
			for _, red := range house.Terminals() {
				for _, black := range []house.Terminal{house.C, house.GND, house.L1, house.Door1, house.Coil2} {
					if q != quantity.Current && red != black && e.Has(red, at) && e.Has(black, at) {
						out = append(out, house.Measure(q, red, black, at))
					}
				}
			}
		}
	}
	for _, c := range house.AllConductors() {
		if e.Where(c.At) == c.At && e.Has(c.Terminal, c.At) {
			out = append(out, house.Clamp(c))
		}
	}
	return out
}

// classOf finds the probe of classes that stands for p, by what p is to
// safety alone.
func classOf(e house.Equipment, p house.Probe) house.Probe {
	type kind struct {
		look, power, ohms, line bool
		at                      house.Place
	}
	of := func(p house.Probe) kind {
		k := kind{look: p.IsLook(), at: p.At}
		if p.IsLook() {
			k.power = p.Look.NeedsPower()
			return k
		}
		k.ohms = p.Quantity == quantity.Resistance
		k.line = !k.ohms && (p.Red.Class() == house.Line || p.Black.Class() == house.Line)
		return k
	}
	for _, c := range classes(e) {
		if of(c) == of(p) {
			return c
		}
	}
	return house.Probe{}
}

// A planner does the same for every probe of the vocabulary as for the one
// that stands for its class.
func TestProbesFallIntoClasses(t *testing.T) {
	sequential(t)
	rng, held := rand.New(rand.NewPCG(1, 2)), 0
	for _, e := range []house.Equipment{house.PumpCoolingValve, house.PackagedPump, house.HeatOnly} {
		all := vocabulary(e)
		x := site{house.Tech, house.Facts{Equipment: e, EquipmentAsked: true, Base: house.BaseExposed, Meter: house.MeterBoth}}
		w := &wanderer{t: t, site: x, rng: rng, plan: planner.Planner{}, n: node{planner.Start(), newWorld()}}
		for range 120 {
			w.wander(5)
			g := w.goal()
			for _, p := range all {
				if house.Reach(x.who, x.facts, p, g.Setup) != house.NoCut {
					continue // refused before any class counts
				}
				g.Probe = p
				got := planner.Next(w.n.s, g, x.who, x.facts)
				g.Probe = classOf(e, p)
				if g.Probe == (house.Probe{}) {
					t.Fatalf("%s: no class for %s", e, p)
				}
				held++
				if want := planner.Next(w.n.s, g, x.who, x.facts); got != want {
					t.Fatalf("%s: %s is not %s:\n%+v\n%+v\nin %s", e, p, g.Probe, got, want, w.n.s.Setup)
				}
			}
		}
	}
	if held < 10_000 {
		t.Errorf("only %d probes compared", held)
	}
}

// Letters, conductors and calls can be exchanged for others of their kind
// without the planner doing anything else: whatever it does with the names of
// the whole vocabulary it does with the few that the walk uses.
func TestNamesAreExchangeable(t *testing.T) {
	sequential(t)
	rng := rand.New(rand.NewPCG(3, 4))
	for _, e := range []house.Equipment{house.TwoStagePump, house.PackagedPump, house.CoolElectric, house.NoEquipment} {
		x := site{house.Tech, house.Facts{Equipment: e, EquipmentAsked: true, Base: house.BaseCovered, Meter: house.MeterBoth}}
		w := &wanderer{t: t, site: x, rng: rng, plan: planner.Planner{}, n: node{planner.Start(), newWorld()}}
		for range 4000 {
			w.wander(2)
			g := w.goal()
			if w.n.s.Jumped {
				continue // then a call is told from none, since it is counted out
			}
			a := planner.Next(w.n.s, g, x.who, x.facts)
			r := newRenaming(w.n.s.Setup, g.Setup)
			s, rg, want := w.n.s, g, a
			s.Setup, rg.Setup, want.After.Setup = r.setup(s.Setup), r.setup(g.Setup), r.setup(a.After.Setup)
			got := planner.Next(s, rg, x.who, x.facts)
			got.Text, want.Text, got.Reason, want.Reason = "", "", "", ""
			if got != want {
				t.Fatalf("%s: in %s towards %s %s\n got %+v\nwant %+v", e, w.n.s.Setup, g.Probe, g.Setup, got, want)
			}
		}
	}
}

// renaming maps the names of a state and a goal to the few of their kinds.
type renaming struct {
	have, want house.Setup
}

func newRenaming(have, want house.Setup) renaming { return renaming{have, want} }

func (r renaming) setup(s house.Setup) house.Setup {
	s.Jumper = r.jumper(s.Jumper)
	s.Lifted = r.lifted(s.Lifted)
	s.Mode, s.Calling, s.FanOn = r.call(s)
	return s
}

func (r renaming) jumper(j house.Letters) house.Letters {
	kind := func(j house.Letters) [2]house.Letters {
		if j.Has(house.Y) || j.Has(house.Y2) {
			return [2]house.Letters{house.LettersOf(house.Y), house.LettersOf(house.Y, house.G)}
		}
		return [2]house.Letters{house.LettersOf(house.G), house.LettersOf(house.W)}
	}
	switch {
	case j == 0:
		return 0
	case j != r.have.Jumper && kind(j) == kind(r.have.Jumper):
		return kind(j)[1]
	}
	return kind(j)[0]
}

func (r renaming) lifted(set house.Conductors) house.Conductors {
	var out house.Conductors
	for _, c := range set.List() {
		three := map[house.Place][3]house.Terminal{
			house.AtThermostat: {house.R, house.Y, house.G},
			house.AtIndoor:     {house.Sec1, house.Sec2, house.Float1},
			house.AtOutdoor:    {house.Coil1, house.Coil2, house.Pressure1},
		}[c.At]
		i := 0
		switch {
		case !r.want.Lifted.Has(c):
			i = 1
		case !r.have.Lifted.Has(c):
			i = 2
		}
		out = out.Add(house.Conductor{Terminal: three[i], At: c.At})
	}
	return out
}

func (r renaming) call(s house.Setup) (house.Mode, bool, bool) {
	same := func(a, b house.Setup) bool {
		return a.Mode == b.Mode && a.Calling == b.Calling && a.FanOn == b.FanOn
	}
	switch {
	case same(s, house.DefaultSetup()):
		return house.ModeOff, false, false
	case same(s, r.have):
		return house.ModeCool, true, false
	}
	return house.ModeOff, false, true
}
