package prove

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/planner"
)

// spoilt is the planner, but for one goal in one state of the house, where it
// does as the mutant does.
type spoilt struct {
	planner.Planner
	at   planner.State // where every is not set
	goal planner.Goal
	// every spoils the goal in every state.
	every bool
	next  func(planner.State, planner.Goal, house.Audience, house.Facts) planner.Action
}

func (p spoilt) Next(s planner.State, g planner.Goal, who house.Audience, f house.Facts) planner.Action {
	if g == p.goal && (p.every || s == p.at) {
		return p.next(s, g, who, f)
	}
	return p.Planner.Next(s, g, who, f)
}

// slipSite is one place where a planner can go wrong, and what it should do
// there.
type slipSite struct {
	space Space
	plan  spoilt
	right string // the action's id, or what is turned down
}

// drawn takes n sites by a seed, in turn from each of the things that should be
// done there, so that no frequent one hides the rest.
func drawn(sites []slipSite, n int, rng *rand.Rand) []slipSite {
	groups := map[string][]slipSite{}
	for _, s := range sites {
		groups[s.right] = append(groups[s.right], s)
	}
	names := make([]string, 0, len(groups))
	for name, g := range groups {
		names = append(names, name)
		slices.SortFunc(g, func(a, b slipSite) int { return strings.Compare(a.space.Name, b.space.Name) })
	}
	slices.Sort(names)
	rng.Shuffle(len(names), func(i, j int) { names[i], names[j] = names[j], names[i] })
	var out []slipSite
	for len(out) < n {
		before := len(out)
		for _, name := range names {
			g := groups[name]
			if len(g) == 0 || len(out) == n {
				continue
			}
			i := rng.IntN(len(g))
			out = append(out, g[i])
			groups[name] = slices.Delete(g, i, i+1)
		}
		if len(out) == before {
			break
		}
	}
	return out
}

// statesDrawn is from how many states of each space sites are drawn, the first
// ones of its walk: a mutant is caught where the walk comes to its site.
const statesDrawn = 300

// walked gives the first states that a walk of the planner by every rule comes
// to.
func walked(s Space) []node {
	w := newWalk(planner.Planner{}, s)
	for i := int32(0); int(i) < min(len(w.nodes), statesDrawn); i++ {
		w.goals(i)
		w.breakOff(i)
	}
	return w.nodes[:min(len(w.nodes), statesDrawn)]
}

// earlySites are the states in which power may not come back yet: a cabinet
// stands open and locked out, or a jumper calls for a compressor that is not
// rested, and something other than power is next. Where nothing is open and no
// jumper is in, or only a technician's hands at the thermostat's face are
// waited for, power that comes early is a detour and no danger; those are no
// sites.
func earlySites(s Space) []slipSite {
	var out []slipSite
	x := site{s.Who, s.Facts}
	for _, n := range walked(s) {
		home := n.s
		for _, goal := range s.Goals {
			a := planner.Next(home, goal, s.Who, s.Facts)
			if a.Kind != planner.Do && a.Kind != planner.Caution || strings.HasPrefix(a.ID, "power-on") {
				continue
			}
			for _, c := range x.cabinets() {
				if !mustStayOff(x, home, a, c) {
					continue
				}
				plan := spoilt{at: home, goal: goal, next: func(s planner.State, _ planner.Goal, _ house.Audience, _ house.Facts) planner.Action {
					return restored(x, s, c)
				}}
				out = append(out, slipSite{s, plan, a.ID + " before power at " + c.String()})
			}
		}
	}
	return out
}

func mustStayOff(x site, s planner.State, next planner.Action, c house.Place) bool {
	if verb, _ := splitID(next.ID); s.Power(c) == house.On || s.Unknown.Has(c) || verb == "pull-face" || verb == "mount-face" {
		return false
	}
	open := s.CoverOpen(c) && s.Power(c) == house.LockedOut
	return open || c == x.source() && strings.HasPrefix(next.ID, "rest")
}

// restored is power put back on at a cabinet, with what lapses by it.
func restored(x site, s planner.State, c house.Place) planner.Action {
	after := s
	if c == house.AtIndoor || x.packaged() {
		after.PowerIndoor = house.On
	}
	if c == house.AtOutdoor {
		after.PowerOutdoor = house.On
	}
	after.Tried, after.Dead, after.Discharged, after.StripDead = 0, 0, 0, false
	return planner.Action{Kind: planner.Do, ID: "power-on-" + c.String(), After: after}
}

// wideSites are the goals whose probe is not for an audience and that a
// technician could go about from the start; there the planner takes them for one.
func wideSites(s Space) []slipSite {
	var out []slipSite
	for _, goal := range s.Goals {
		cut := house.Reach(s.Who, s.Facts, goal.Probe, goal.Setup)
		if cut != house.CutAudience || planner.Next(planner.Start(), goal, house.Tech, s.Facts).Kind == planner.Refuse {
			continue
		}
		plan := spoilt{goal: goal, every: true, next: func(s planner.State, g planner.Goal, _ house.Audience, f house.Facts) planner.Action {
			return planner.Next(s, g, house.Tech, f)
		}}
		out = append(out, slipSite{s, plan, goal.Probe.String() + " by a " + s.Who.String()})
	}
	return out
}

// TestPlannerMutants spoils the planner at one site at a time, drawn by a
// printed seed: power comes back early, or a probe is made by somebody it is not
// for. The walk catches every one; for a planner there is no margin within
// which a mistake may hide.
func TestPlannerMutants(t *testing.T) {
	sequential(t)
	const seed = 23
	rng := rand.New(rand.NewPCG(seed, 1))
	var early, wide []slipSite
	for _, s := range Spaces(true) {
		switch {
		case s.Who != house.Tech:
			wide = append(wide, wideSites(s)...)
		case strings.HasSuffix(s.Name, "visits") || s.Name == "packaged, tech, power" || s.Name == "indoor only, tech, lifts":
			early = append(early, earlySites(s)...)
		}
	}
	for _, s := range Spaces(false) {
		if s.Name == "packaged, tech, jumpers" {
			early = append(early, earlySites(s)...)
		}
	}
	for _, op := range []struct {
		name  string
		sites []slipSite
	}{{"power restored early", early}, {"audience widened", wide}} {
		drawn := drawn(op.sites, mutantsEach, rng)
		if len(drawn) < mutantsEach {
			t.Errorf("%s: only %d sites", op.name, len(op.sites))
		}
		caught := 0
		for _, s := range drawn {
			r := WalkPlanner(s.plan, []Space{s.space}, 1)
			if len(r.Unsafe) == 0 {
				t.Errorf("%s: nobody notices: %s, instead of %s, on the way to %s in %s", op.name, s.space.Name, s.right, s.plan.goal.Probe, s.plan.goal.Setup)
				continue
			}
			caught++
			t.Logf("  %s, %s: %s", s.space.Name, s.right, r.Unsafe[0].Why)
		}
		t.Logf("%s: seed %d, %d of %d sites drawn, %d caught", op.name, seed, len(drawn), len(op.sites), caught)
	}
}
