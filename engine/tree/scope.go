package tree

import "strings"

// readings tells, for each step, which names were read on every path to it.
type readings map[*Step]nameSet

// nameSet is a set of a tree's names, by slot.
type nameSet []uint64

func (t *Tree) noNames() nameSet { return make(nameSet, (len(t.names)+63)/64) }

func (t *Tree) allNames() nameSet {
	s := t.noNames()
	for i := range t.names {
		s.add(i)
	}
	return s
}

func (s nameSet) add(slot int)      { s[slot/64] |= 1 << (slot % 64) }
func (s nameSet) has(slot int) bool { return s[slot/64]&(1<<(slot%64)) != 0 }

func (s nameSet) intersect(o nameSet) {
	for i := range s {
		s[i] &= o[i]
	}
}

// everything is the answer where the graph is too broken to ask.
func everything(t *Tree) readings {
	all, out := t.allNames(), readings{}
	for _, s := range t.Steps {
		out[s] = all
	}
	return out
}

// readBefore works forwards over the tree: a step has what every edge into it
// brings, and an edge brings what its step had and, where the probe was made
// and gave a number or an answer, the step's own names. Other trees jump to
// the first step, which has nothing.
func (t *Tree) readBefore() readings {
	out := readings{}
	if t.First != nil {
		out[t.First] = t.noNames()
	}
	for _, s := range t.forwards() {
		for _, e := range s.Edges() {
			to := e.To.Step
			if to == nil || to == t.First {
				continue
			}
			brings := s.brings(e.Kind, out[s])
			if had, ok := out[to]; ok {
				had.intersect(brings)
			} else {
				out[to] = brings
			}
		}
	}
	all := t.allNames()
	for _, s := range t.Steps {
		if out[s] == nil { // unreachable, which is reported
			out[s] = all
		}
	}
	return out
}

func (s *Step) brings(by EdgeKind, had nameSet) nameSet {
	out := append(nameSet(nil), had...)
	if by == ByBranch {
		for _, n := range s.Names() {
			out.add(n.slot)
		}
	}
	return out
}

// pathWithout finds a way to a step on which a name is not read, as the names
// of its steps.
func (t *Tree) pathWithout(n *Name, to *Step) string {
	if t.First == nil {
		return ""
	}
	before := map[*Step]*Step{}
	for queue := []*Step{t.First}; len(queue) > 0 && queue[0] != to; queue = queue[1:] {
		for _, e := range queue[0].Edges() {
			next := e.To.Step
			if next == nil || next == t.First || queue[0] == n.Step && e.Kind == ByBranch {
				continue
			}
			if _, seen := before[next]; !seen {
				before[next] = queue[0]
				queue = append(queue, next)
			}
		}
	}
	words := []string{to.ID}
	for s := before[to]; s != nil; s = before[s] {
		words = append(words, s.ID)
	}
	// The way was walked back; a long one shows its first step and its last.
	const most = 6
	if len(words) > most {
		words = append(append(words[:most-2:most-2], "..."), words[len(words)-1])
	}
	for i, j := 0, len(words)-1; i < j; i, j = i+1, j-1 {
		words[i], words[j] = words[j], words[i]
	}
	return strings.Join(words, " > ")
}
