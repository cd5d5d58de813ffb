package tree

import "strings"

// readings tells, for each step, which names (by slot) were read on every path
// to it.
type readings map[*Step][]bool

// everything is the answer where the graph is too broken to ask.
func everything(t *Tree) readings {
	out := readings{}
	for _, s := range t.Steps {
		out[s] = make([]bool, len(t.names))
		for i := range out[s] {
			out[s][i] = true
		}
	}
	return out
}

// readBefore works forwards over the tree: a step has what each edge into it
// brings, and an edge brings what its step had and, where the probe was made
// and gave a number or an answer, the step's own names. A step that is entered
// from another tree is the first one, which has nothing.
func (t *Tree) readBefore() readings {
	out := readings{}
	for _, s := range t.Steps {
		if s == t.First || t.First == nil {
			out[s] = make([]bool, len(t.names))
		}
	}
	for _, s := range t.forwards() {
		for _, e := range s.Edges() {
			to := e.To.Step
			if to == nil || to == t.First {
				continue
			}
			brings := s.brings(e.Kind, out[s])
			if out[to] == nil {
				out[to] = brings
				continue
			}
			for i := range brings {
				out[to][i] = out[to][i] && brings[i]
			}
		}
	}
	for _, s := range t.Steps {
		if out[s] == nil { // unreachable, which is reported
			out[s] = everything(t)[s]
		}
	}
	return out
}

func (s *Step) brings(by EdgeKind, had []bool) []bool {
	out := append([]bool(nil), had...)
	if by == ByBranch {
		for _, n := range s.Names() {
			out[n.slot] = true
		}
	}
	return out
}

// pathWithout finds a way to a step on which a name is not read, as the names
// of its steps.
func (t *Tree) pathWithout(n *Name, to *Step) string {
	before := map[*Step]*Step{}
	queue := []*Step{t.First}
	for ; len(queue) > 0; queue = queue[1:] {
		s := queue[0]
		if s == to {
			break
		}
		for _, e := range s.Edges() {
			next := e.To.Step
			if next == nil || s == n.Step && e.Kind == ByBranch || next == t.First {
				continue
			}
			if _, seen := before[next]; !seen {
				before[next] = s
				queue = append(queue, next)
			}
		}
	}
	words := []string{to.ID}
	for s := before[to]; s != nil; s = before[s] {
		words = append([]string{s.ID}, words...)
	}
	const most = 6
	if len(words) > most {
		words = append([]string{words[0], "…"}, words[len(words)-most+2:]...)
	}
	return strings.Join(words, " > ")
}
