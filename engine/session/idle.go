package session

import (
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/tree"
)

// unableMost is how many steps somebody may be unable to make before a call is
// spared what can tell nothing. A tree is proven with every single `unable`, so
// up to there it is walked as it is written; further on no proof speaks of its
// order, and what the model says counts.
const unableMost = 2

// spared reports whether this person is spared questions by now. A technician
// is not: the proof that blames a thermostat hangs on steps that split nothing.
func (b *Book) spared(s State) bool {
	return s.led == nil && s.who != house.Tech && len(s.cuts) >= unableMost && b.guided(s)
}

// unseen reports whether the open step looks at what somebody said they cannot
// see.
func (s State) unseen() bool {
	return s.step.Kind == tree.LookStep && s.unseeable(house.LookAt(s.step.Look))
}

// idle reports whether nothing the open step may show rules any suspect out.
func (b *Book) idle(s State, setup house.Setup) bool {
	if len(b.Suspects(s).Left) == 0 {
		return false
	}
	for _, p := range s.probes() {
		list := b.Guide.Outcomes(s.query(), Proposal{Probe: p, Setup: setup, Rested: s.home.Ran})
		if len(list) == 0 || slices.ContainsFunc(list, func(o Outcome) bool { return setOf(o.Faults) != setOf(list[0].Faults) }) {
			return false
		}
	}
	return true
}

func setOf(faults []house.Fault) (set house.FaultSet) {
	for _, f := range faults {
		set = set.Add(f)
	}
	return set
}
