package forecast

import (
	"sync"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// Faults is one row: the faults that are in the house together, one or two;
// the second is NoFault where there is one.
type Faults [2]house.Fault

// list is the row's faults as circuit takes them.
func (f Faults) list() []house.Fault {
	if f[1] == house.NoFault {
		return []house.Fault{f[0]}
	}
	return []house.Fault{f[0], f[1]}
}

// Sheet is the table for one kind of house: a row a fault, a column a goal. A
// fault has two rows where it shows one or the other of two things that never
// go together, and slow fuses are drawn on purpose: a short whose fuse is blown
// and one whose fuse holds, a float switch in R and one in Y, a valve stuck one
// way and the other.
type Sheet struct {
	kind    Kind
	eq      *circuit.Equipment
	workers int
	benches []*circuit.Bench
	rows    []house.Fault
	parts   []part // by row

	lock    sync.Mutex
	columns map[Goal]*Column
	goals   []Goal
}

func newSheet(k Kind, e *circuit.Equipment, benches []*circuit.Bench, o Options) (*Sheet, error) {
	s := &Sheet{kind: k, eq: e, workers: o.Workers, columns: map[Goal]*Column{}, benches: benches}
	for _, f := range e.Faults() {
		if h, err := s.benches[0].House(f); err != nil || !k.agrees(h.Draw()) {
			continue
		}
		parts, err := s.partsOf(f, o)
		if err != nil {
			return nil, err
		}
		for _, p := range parts {
			s.rows, s.parts = append(s.rows, f), append(s.parts, p)
		}
	}
	return s, nil
}

// Kind is the sort of house.
func (s *Sheet) Kind() Kind { return s.kind }

// Rows lists the faults that can be in a house of this kind, none first; a fault
// may have two rows, one after the other.
func (s *Sheet) Rows() []house.Fault { return s.rows }

// Share is the share of the houses with the fault of row r that the row stands
// for: 1 where the fault has no other row.
func (s *Sheet) Share(r int) float64 { return s.parts[r].share }

// Holds reports whether row r is that of a short whose fuse holds; the row before
// it is the one whose fuse is blown.
func (s *Sheet) Holds(r int) bool { return s.parts[r].holds }

// Columns gives a column for every goal. The rows that rows picks (nil: all)
// are worked out where they are not known yet, those of one setup together; the
// others may be empty still.
func (s *Sheet) Columns(rows []bool, goals ...Goal) ([]*Column, error) {
	s.lock.Lock()
	defer s.lock.Unlock()
	out, missing, need := s.missing(rows, goals)
	if len(missing) == 0 {
		return out, nil
	}
	return out, s.complete(missing, need)
}

// missing gives the columns of goals, those of them that lack a picked row, and
// the rows that any of those lacks.
func (s *Sheet) missing(rows []bool, goals []Goal) (out []*Column, missing []Goal, need []bool) {
	out, need = make([]*Column, len(goals)), make([]bool, len(s.rows))
	for i, g := range goals {
		key := g.Key()
		c := s.columns[key]
		if c == nil {
			c = &Column{Goal: key, rows: make([][]Piece, len(s.rows)), known: make([]bool, len(s.rows))}
			s.columns[key] = c
		}
		out[i] = c
		if c.lacks(rows, need) {
			missing = append(missing, key)
		}
	}
	return out, missing, need
}

// lacks marks the picked rows the column does not know yet.
func (c *Column) lacks(rows, need []bool) bool {
	any := false
	for r, known := range c.known {
		if !known && (rows == nil || rows[r]) {
			need[r], any = true, true
		}
	}
	return any
}

// complete works out the needed rows of the goals.
func (s *Sheet) complete(goals []Goal, need []bool) error {
	j := s.job(goals, need)
	if err := work(s.benches, s.workers, j); err != nil {
		return err
	}
	j.keep()
	return nil
}

// Together gives, for goals, what faults in the house at once show, over so many
// draws of the sheet only (0: all). It is not kept.
func (s *Sheet) Together(goals []Goal, rows []Faults, draws int) ([]*Column, error) {
	keys := make([]Goal, len(goals))
	for i, g := range goals {
		keys[i] = g.Key()
	}
	j := &job{sheet: s, goals: keys, rows: rows}
	if err := work(s.few(draws), s.workers, j); err != nil {
		return nil, err
	}
	return j.columns(), nil
}

// few are so many draws (0: all), corners and others alike: in leaps, since
// neighbours in the list have much in common.
func (s *Sheet) few(draws int) []*circuit.Bench {
	n := len(s.benches)
	if draws <= 0 || draws >= n {
		return s.benches
	}
	leap := 5
	if n%leap == 0 {
		leap = 7
	}
	out := make([]*circuit.Bench, draws)
	for i := range out {
		out[i] = s.benches[leap*i%n]
	}
	return out
}

// Goals lists the probes worth making in a house of this kind.
func (s *Sheet) Goals() []Goal {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.goals == nil {
		s.goals = Goals(s.eq)
	}
	return s.goals
}
