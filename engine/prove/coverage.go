package prove

import (
	"slices"
	"strings"

	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// Untaken is the edges of one step that no simulated call takes.
type Untaken struct {
	Step    string // tree/step
	Reached bool   // some call comes to the step
	Asked   bool   // … and asks it; else all it asks for was known before
	House   bool   // it asks about the house, not for a probe
	Edges   []string
}

// The reasons why an edge that no call takes stays, in the order of a report.
const (
	neverReached = "no call comes to the step"
	noSuchHouse  = "no call comes from such a house"
	knownBefore  = "what is asked was known before, and goes another way"
	notShown     = "no house shows it there"
)

var untakenWhys = []string{neverReached, noSuchHouse, knownBefore, notShown}

// Why is why the edges stay all the same.
func (u Untaken) Why() string {
	switch {
	case !u.Reached:
		return neverReached
	case u.House:
		return noSuchHouse
	case !u.Asked:
		return knownBefore
	}
	return notShown
}

func (u Untaken) String() string { return u.Step + ": " + strings.Join(u.Edges, "; ") }

func (r *Report) untakenEdges() int {
	n := 0
	for _, u := range r.Untaken {
		n += len(u.Edges)
	}
	return n
}

// coverage counts the edges of the walked trees that simulated calls take, and
// lists those that none does. Where a call with one thing wrong at most leaves
// some untaken, it goes wrong once more there: what an edge is for may be just
// that. How such calls end is not judged.
func (r *Report) coverage(p *physics, t *tally) error {
	steps := p.walked()
	again := map[*tree.Step]bool{}
	for _, s := range steps {
		if h := t.hits[s]; h == nil || len(h.missing(s)) > 0 {
			again[s] = true
		}
	}
	if len(again) > 0 {
		if err := p.wander(again, t); err != nil {
			return err
		}
	}
	for _, s := range steps {
		r.edges(s, t.hits[s])
	}
	slices.SortFunc(r.Untaken, func(a, b Untaken) int { return strings.Compare(a.Step, b.Step) })
	return nil
}

// walked are the steps of the trees of every stage, each once.
func (p *physics) walked() []*tree.Step {
	var out []*tree.Step
	seen := map[*tree.Step]bool{}
	for _, s := range p.stages {
		for _, a := range s.acts {
			for _, step := range reachable(a.tree) {
				if !seen[step] {
					seen[step] = true
					out = append(out, step)
				}
			}
		}
	}
	return out
}

// wandered is how many houses of each equipment are gone through once more, the
// nominal one first.
const wandered = 4

// wander holds the calls in some houses once more, now with a second thing
// wrong at some steps, and adds the edges they take.
func (p *physics) wander(again map[*tree.Step]bool, sum *tally) error {
	errs := make([]error, len(p.stages))
	tallies := make([]*tally, len(p.stages))
	parallel(len(p.stages), p.options.Workers, func(i int) {
		w := p.worker(p.stages[i])
		w.judged = false
		tallies[i] = w.tally
		for _, k := range w.walkers {
			if k != nil {
				k.again = again
			}
		}
		for draw := 0; draw < min(wandered, len(p.stages[i].draws)) && errs[i] == nil; draw++ {
			errs[i] = w.house(draw)
		}
	})
	for i, t := range tallies {
		if errs[i] != nil {
			return errs[i]
		}
		for s, taken := range t.hits {
			if sum.hits[s] == nil {
				sum.hits[s] = new(hits)
			}
			sum.hits[s].join(taken)
		}
	}
	return nil
}

// way is an edge as calls take it. What is known of the house goes one way for
// all the answers with one target: they are one edge.
type way struct {
	bits  uint64 // among hits
	label string
	to    tree.Target
}

func waysOf(s *tree.Step) []way {
	var out []way
	for _, e := range s.Edges() {
		w := way{1 << edgeBit(e), e.Label, e.To}
		w.to.Pos = source.Pos{}
		same := func(o way) bool { return s.Kind == tree.AskStep && o.to == w.to }
		if i := slices.IndexFunc(out, same); i >= 0 {
			out[i].bits |= w.bits
			out[i].label += ", " + w.label
			continue
		}
		out = append(out, w)
	}
	return out
}

// edgeBit is an edge's place among hits.
func edgeBit(e tree.Edge) int {
	switch e.Kind {
	case tree.ByOL:
		return edgeOL
	case tree.ByUnable:
		return edgeUnable
	}
	return e.Branch
}

// missing are the edges of a step that no call takes, by their words.
func (h *hits) missing(s *tree.Step) []string {
	var out []string
	for _, w := range waysOf(s) {
		if (h.edges|h.twice)&w.bits == 0 {
			out = append(out, w.label)
		}
	}
	return out
}

func (r *Report) edges(s *tree.Step, taken *hits) {
	if taken == nil {
		taken = new(hits)
	}
	for _, w := range waysOf(s) {
		r.Edges++
		if taken.edges&w.bits == 0 && taken.twice&w.bits != 0 {
			r.EdgesTwice++
		}
	}
	if missing := taken.missing(s); len(missing) > 0 {
		r.Untaken = append(r.Untaken, Untaken{Step: s.String(), Reached: taken.edges|taken.twice != 0, Asked: taken.asked,
			House: s.Kind == tree.AskStep, Edges: missing})
	}
}
