package tree

import (
	"fmt"

	"github.com/expr-lang/expr/vm"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Env holds what was read and seen so far in one tree, by name. Numbers in it
// are always finite. It is not safe for two goroutines.
type Env struct {
	tree    *Tree
	state   []state
	numbers []float64
	seen    []house.Answer

	vars    map[string]any // for the conditions' programs, filled when one runs
	loaded  []bool
	machine vm.VM
}

type state uint8

const (
	unread state = iota
	number
	overLimit // OL
	missing   // this one cannot be read
)

// NewEnv is an Env with nothing read.
func (t *Tree) NewEnv() *Env {
	n := len(t.names)
	return &Env{
		tree:    t,
		state:   make([]state, n),
		numbers: make([]float64, n),
		seen:    make([]house.Answer, n),
		loaded:  make([]bool, n),
		vars:    make(map[string]any, n),
	}
}

// Reset forgets everything read, to use the Env again.
func (e *Env) Reset() {
	for i := range e.state {
		e.state[i], e.seen[i], e.loaded[i] = unread, 0, false
	}
}

// Read takes the reading of a step's named pair; the error says why it can be
// none.
func (e *Env) Read(s *Step, name string, r quantity.Reading) error {
	for i, p := range s.Pairs {
		if p.Name == name {
			return e.ReadPair(s, i, r)
		}
	}
	return fmt.Errorf("step %s reads no %q", s, name)
}

// ReadPair is Read by the pair's place in the step.
func (e *Env) ReadPair(s *Step, pair int, r quantity.Reading) error {
	if s.Tree != e.tree || s.Kind != MeasureStep || pair < 0 || pair >= len(s.Pairs) {
		return fmt.Errorf("step %s has no pair %d in tree %s", s, pair, e.tree.ID)
	}
	if err := r.Check(s.Quantity); err != nil {
		return err
	}
	i := s.slot + pair
	e.numbers[i], e.loaded[i] = r.Value, false
	switch {
	case r.OL:
		e.state[i] = overLimit
	case r.Missing:
		e.state[i] = missing
	default:
		e.state[i] = number
	}
	return nil
}

// See takes the answer of a look.
func (e *Env) See(s *Step, a house.Answer) error {
	if s.Tree != e.tree || s.Kind != LookStep || s.Look.AnswerID(a) == "" {
		return fmt.Errorf("step %s has no answer %d in tree %s", s, a, e.tree.ID)
	}
	e.seen[s.slot], e.loaded[s.slot] = a, false
	return nil
}

// Number gives the number a name stands for, and whether there is one.
func (e *Env) Number(n *Name) (float64, bool) {
	return e.numbers[n.slot], e.state[n.slot] == number
}

func (e *Env) has(n *Name) bool {
	if n.slot >= len(e.state) || e.tree.names[n.slot] != n {
		return false
	}
	return e.state[n.slot] == number || e.seen[n.slot] != house.NoAnswer
}

// load puts a name where a program finds it.
func (e *Env) load(n *Name) {
	if e.loaded[n.slot] {
		return
	}
	e.loaded[n.slot] = true
	if n.IsLook() {
		e.vars[n.ID] = n.Look().AnswerID(e.seen[n.slot])
		return
	}
	e.vars[n.ID] = e.numbers[n.slot]
}
