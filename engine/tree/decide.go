package tree

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
)

// What Decide gives in place of a branch.
const (
	BranchUnable = -1
	BranchOL     = -2
)

// Decide tells where a look or a measuring step leads on what e holds: the
// target and which branch, BranchOL or BranchUnable. A batch with a reading
// that cannot be made is unable. It is an error when something needed was not
// read, when none or two of the conditions hold, and when there is no unable
// edge to take.
func (s *Step) Decide(e *Env) (Target, int, error) {
	if e.tree != s.Tree {
		return Target{}, 0, fmt.Errorf("step %s is not of tree %s", s, e.tree.ID)
	}
	switch s.Kind {
	case LookStep:
		return s.decideLook(e.seen[s.slot])
	case AskStep:
		return Target{}, 0, fmt.Errorf("step %s asks about the house and is decided by Choose", s)
	}
	for i := range s.Pairs {
		switch e.state[s.slot+i] {
		case unread:
			return Target{}, 0, fmt.Errorf("step %s: %q was not read", s, s.Pairs[i].Name)
		case overLimit:
			return s.OL, BranchOL, nil
		case missing:
			if s.Unable.Kind == NoTarget {
				return Target{}, 0, fmt.Errorf("step %s says nothing for one who is unable", s)
			}
			return s.Unable, BranchUnable, nil
		}
	}
	branch, err := s.branch(e)
	if err != nil {
		return Target{}, 0, err
	}
	return s.Branches[branch].Then, branch, nil
}

func (s *Step) decideLook(a house.Answer) (Target, int, error) {
	for i := range s.Branches {
		if s.Branches[i].Answer == a {
			return s.Branches[i].Then, i, nil
		}
	}
	return Target{}, 0, fmt.Errorf("step %s: %s was not seen", s, s.Look)
}

// Choose tells where an ask leads on the answer with an id.
func (s *Step) Choose(id string) (Target, int, error) {
	if s.Kind != AskStep {
		return Target{}, 0, fmt.Errorf("step %s asks nothing about the house", s)
	}
	for i, b := range s.Branches {
		if b.Choice == id || b.Choice == "" {
			return b.Then, i, nil
		}
	}
	return Target{}, 0, fmt.Errorf("step %s: %q is no answer of %s", s, id, s.Fact)
}

// branch finds the one condition that holds.
func (s *Step) branch(e *Env) (int, error) {
	s.once.Do(func() { s.table = s.tabulate() })
	if t := s.table; t != nil {
		if b, ok := t.find(e); ok && b >= 0 {
			return b, nil
		}
	}
	return s.run(e) // says what is wrong
}

// run is branch by running every condition.
func (s *Step) run(e *Env) (int, error) {
	found := -1
	for i, b := range s.Branches {
		holds, err := b.When.Holds(e)
		switch {
		case err != nil:
			return 0, err
		case holds && found >= 0:
			return 0, fmt.Errorf("step %s: both %q and %q hold for %s", s, s.Branches[found].When.Text, b.When.Text, s.values(e))
		case holds:
			found = i
		}
	}
	if found < 0 {
		return 0, fmt.Errorf("step %s: no condition holds for %s", s, s.values(e))
	}
	return found, nil
}

// values writes what the conditions were run on.
func (s *Step) values(e *Env) string {
	var out []string
	for _, n := range s.Uses() {
		switch {
		case n.IsLook():
			out = append(out, n.ID+" "+n.Look().AnswerID(e.seen[n.slot]))
		default:
			out = append(out, n.ID+" "+plain(e.numbers[n.slot]))
		}
	}
	return strings.Join(out, ", ")
}
