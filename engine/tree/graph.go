package tree

import "stepdown/engine/house"

// EdgeKind is how a call leaves a step.
type EdgeKind uint8

// By an outcome of the probe, by OL on ohms, or by being unable.
const (
	ByBranch EdgeKind = iota
	ByOL
	ByUnable
)

// Edge is one way out of a step.
type Edge struct {
	From   *Step
	Kind   EdgeKind
	Branch int    // ByBranch: which
	Label  string // the answer, the condition, OL or unable
	To     Target
}

// Edges are the ways out of a step, branches first, in the order of the file.
func (s *Step) Edges() []Edge {
	var out []Edge
	for i, b := range s.Branches {
		out = append(out, Edge{From: s, Branch: i, Label: s.label(b), To: b.Then})
	}
	if s.OL.Kind != NoTarget {
		out = append(out, Edge{From: s, Kind: ByOL, Label: "OL", To: s.OL})
	}
	if s.Unable.Kind != NoTarget {
		out = append(out, Edge{From: s, Kind: ByUnable, Label: "unable", To: s.Unable})
	}
	return out
}

func (s *Step) label(b Branch) string {
	switch {
	case b.When != nil:
		return b.When.Text
	case s.Kind == LookStep:
		return s.Look.AnswerID(b.Answer)
	}
	return b.Choice
}

// Graph is a tree as nodes and edges, for drawing and for proofs.
type Graph struct {
	Steps    []*Step         // from the first one on, every edge pointing forwards
	Edges    []Edge          // by step, in the order of Steps
	Trees    []*Tree         // trees that are jumped to
	Findings []house.Finding // findings the tree itself ends with
}

// Graph gives the tree's own steps; those of the trees it jumps to are left
// out.
func (t *Tree) Graph() Graph {
	g := Graph{Steps: t.forwards()}
	var ends findingSet
	seen := map[*Tree]bool{}
	for _, s := range g.Steps {
		for _, e := range s.Edges() {
			g.Edges = append(g.Edges, e)
			switch e.To.Kind {
			case ToFinding:
				ends.add(e.To.Finding)
			case ToTree:
				if !seen[e.To.Tree] {
					seen[e.To.Tree] = true
					g.Trees = append(g.Trees, e.To.Tree)
				}
			}
		}
	}
	g.Findings = ends.list()
	return g
}

// forwards lists the steps reached from the first one, each after every step
// of the tree that leads to it. The tree has no cycle.
func (t *Tree) forwards() []*Step {
	var back []*Step
	seen := map[*Step]bool{}
	var visit func(*Step)
	visit = func(s *Step) {
		if s == nil || seen[s] {
			return
		}
		seen[s] = true
		edges := s.Edges()
		for i := len(edges) - 1; i >= 0; i-- {
			visit(edges[i].To.Step)
		}
		back = append(back, s)
	}
	visit(t.First)
	for i, j := 0, len(back)-1; i < j; i, j = i+1, j-1 {
		back[i], back[j] = back[j], back[i]
	}
	return back
}

// findingIndex numbers the closed list of findings.
var findingIndex = func() map[house.Finding]int {
	m := map[house.Finding]int{}
	for i, f := range house.Findings() {
		m[f] = i
	}
	return m
}()

// findingSet is a set of findings of the closed list.
type findingSet [2]uint64

func (s *findingSet) add(f house.Finding) {
	if i, ok := findingIndex[f]; ok {
		s[i/64] |= 1 << (i % 64)
	}
}

func (s *findingSet) union(o findingSet) { s[0], s[1] = s[0]|o[0], s[1]|o[1] }

func (s findingSet) list() []house.Finding {
	var out []house.Finding
	for i, f := range house.Findings() {
		if s[i/64]&(1<<(i%64)) != 0 {
			out = append(out, f)
		}
	}
	return out
}

// reachable fills in, for every step, the findings over every edge.
func (l *Library) reachable() {
	l.reach = map[*Step]findingSet{}
	var visit func(*Step) findingSet
	visit = func(s *Step) findingSet {
		if got, ok := l.reach[s]; ok {
			return got
		}
		var out findingSet
		for _, e := range s.Edges() {
			if e.To.Kind == ToFinding {
				out.add(e.To.Finding)
			} else if next := e.To.Next(); next != nil {
				out.union(visit(next))
			}
		}
		l.reach[s] = out
		return out
	}
	for _, t := range l.Trees {
		for _, s := range t.Steps {
			visit(s)
		}
	}
}
