package tree

import (
	"math"
	"sort"

	"stepdown/engine/house"
)

// cellsMax bounds a step's table; a step with more cells runs its programs
// each time.
const cellsMax = 4096

// table is a step's branches by cell. The constants a name is compared with
// cut its range into points and the open gaps between them; within one cell no
// comparison changes, so the programs are run once on a witness of each.
type table struct {
	axes   []axis
	branch []int16 // by cell; cellNone, cellMany
}

const (
	cellNone = -1
	cellMany = -2
)

type axis struct {
	slot int
	look bool
	cuts []float64
	size int
}

// Axis is one name's part of the cells of a step: a witness for each point and
// gap between the constants it is compared with, ascending, or each answer of
// a look.
type Axis struct {
	Name    *Name
	Cuts    []float64      // a reading's constants
	Numbers []float64      // a reading's witnesses, 2*len(Cuts)+1 of them
	Answers []house.Answer // a look's answers
}

// Axes gives, for each name the step's conditions compare, its witnesses. Every
// condition has one value over each cell, a cell being one witness an axis.
func (s *Step) Axes() []Axis {
	var out []Axis
	for _, n := range s.Uses() {
		a := Axis{Name: n}
		if n.IsLook() {
			a.Answers = n.Look().Answers()
		} else {
			a.Cuts = s.cuts(n)
			a.Numbers = witnesses(a.Cuts)
		}
		out = append(out, a)
	}
	return out
}

// cuts are the constants any condition of the step compares a name with.
func (s *Step) cuts(n *Name) []float64 {
	var out []float64
	for _, b := range s.Branches {
		for _, x := range b.When.cuts[n] {
			if !contains(out, x) {
				out = append(out, x)
			}
		}
	}
	sort.Float64s(out)
	return out
}

// witnesses gives a number below the first cut, at it, between it and the
// next, and so on to one above the last.
func witnesses(cuts []float64) []float64 {
	if len(cuts) == 0 {
		return []float64{0}
	}
	out := []float64{cuts[0] - math.Max(1, math.Abs(cuts[0]))}
	for i, x := range cuts {
		out = append(out, x)
		if i+1 < len(cuts) {
			out = append(out, x+(cuts[i+1]-x)/2)
		} else {
			out = append(out, x+math.Max(1, math.Abs(x)))
		}
	}
	return out
}

// tabulate runs the programs on every cell; nil where there are too many.
func (s *Step) tabulate() *table {
	axes := s.Axes()
	t := &table{axes: make([]axis, len(axes))}
	cells := 1
	for i, a := range axes {
		size := len(a.Numbers) + len(a.Answers)
		t.axes[i] = axis{slot: a.Name.slot, look: a.Name.IsLook(), cuts: a.Cuts, size: size}
		if cells *= size; cells > cellsMax {
			return nil
		}
	}
	t.branch = make([]int16, cells)
	e := s.Tree.NewEnv()
	for cell := range t.branch {
		at := cell
		for i := len(axes) - 1; i >= 0; i-- {
			a := axes[i]
			e.put(a, at%t.axes[i].size)
			at /= t.axes[i].size
		}
		t.branch[cell] = s.only(e)
	}
	return t
}

// put sets a name to one of its witnesses.
func (e *Env) put(a Axis, i int) {
	slot := a.Name.slot
	e.loaded[slot] = false
	if a.Name.IsLook() {
		e.seen[slot] = a.Answers[i]
		return
	}
	e.state[slot], e.numbers[slot] = number, a.Numbers[i]
}

// only is the one branch that holds, cellNone or cellMany.
func (s *Step) only(e *Env) int16 {
	found := int16(cellNone)
	for i, b := range s.Branches {
		holds, err := b.When.Holds(e)
		switch {
		case err != nil || holds && found >= 0:
			return cellMany
		case holds:
			found = int16(i)
		}
	}
	return found
}

// find gives the branch of the cell e is in; false where something was not
// read.
func (t *table) find(e *Env) (int, bool) {
	cell := 0
	for _, a := range t.axes {
		at := 0
		switch {
		case a.look:
			if e.seen[a.slot] == house.NoAnswer {
				return 0, false
			}
			at = int(e.seen[a.slot]) - 1
		case e.state[a.slot] != number:
			return 0, false
		default:
			at = cellOf(a.cuts, e.numbers[a.slot])
		}
		cell = cell*a.size + at
	}
	return int(t.branch[cell]), true
}

// cellOf numbers the gaps even and the points odd.
func cellOf(cuts []float64, x float64) int {
	for i, c := range cuts {
		switch {
		case x < c:
			return 2 * i
		case x == c:
			return 2*i + 1
		}
	}
	return 2 * len(cuts)
}
