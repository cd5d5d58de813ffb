package forecast

import (
	"errors"
	"math"
	"sync"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
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
// and one whose fuse holds, a float switch in R and one in Y.
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
	out := make([]*Column, len(goals))
	var missing []Goal
	need := make([]bool, len(s.rows))
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
	if len(missing) == 0 {
		return out, nil
	}
	return out, s.complete(missing, need)
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
	var rows []Faults
	var parts []part
	var at []int
	for r, f := range s.rows {
		if need[r] {
			rows, parts, at = append(rows, Faults{f}), append(parts, s.parts[r]), append(at, r)
		}
	}
	made, err := s.fill(goals, rows, parts, len(s.benches))
	if err != nil {
		return err
	}
	for i, g := range goals {
		c := s.columns[g]
		for k, r := range at {
			if !c.known[r] {
				c.rows[r], c.known[r] = made[i].rows[k], true
			}
		}
	}
	return nil
}

// Together gives, for goals, what faults in the house at once show, over so many
// draws of the sheet only (0: all). It is not kept.
func (s *Sheet) Together(goals []Goal, rows []Faults, draws int) ([]*Column, error) {
	keys := make([]Goal, len(goals))
	for i, g := range goals {
		keys[i] = g.Key()
	}
	return s.over(s.few(draws), keys, rows, nil)
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

// chunk is how many draws are held at once.
const chunk = 8

// fill works columns out over the first draws of the sheet.
func (s *Sheet) fill(goals []Goal, rows []Faults, parts []part, draws int) ([]*Column, error) {
	return s.over(s.benches[:draws], goals, rows, parts)
}

// over works columns out, chunk by chunk of draws: the draws of a chunk are
// shared among workers, then added to the sketches in order. Rows stand for the
// draws of their parts, all of them where there are no parts.
func (s *Sheet) over(benches []*circuit.Bench, goals []Goal, rows []Faults, parts []part) ([]*Column, error) {
	sketches := make([]sketch, len(goals)*len(rows))
	values := make([][]float64, chunk)
	for i := range values {
		values[i] = make([]float64, len(sketches))
	}
	groups := bySetup(goals)
	for from := 0; from < len(benches); from += chunk {
		n := min(chunk, len(benches)-from)
		err := share(n, s.workers, func(i int) error {
			return predict(benches[from+i], s.kind.Symptom, groups, rows, values[i], func(r int) bool { return parts == nil || parts[r].has(from+i) })
		})
		if err != nil {
			return nil, err
		}
		for i := range n {
			for k, x := range values[i] {
				if !math.IsNaN(x) {
					probe := goals[k%len(goals)].Probe
					sketches[k].add(x, gap(probe, fewer(parts, k/len(goals))), probe.IsLook() || math.IsInf(x, 1))
				}
			}
		}
	}
	out := make([]*Column, len(goals))
	for g, goal := range goals {
		pieces := make([][]Piece, len(rows))
		for r := range rows {
			pieces[r] = sketches[r*len(goals)+g].pieces(goal.Probe, slack(parts, r))
		}
		out[g] = NewColumn(goal, pieces)
	}
	return out, nil
}

// group is the goals of one setup, by their place in the list.
type group struct {
	setup house.Setup
	index []int
	probe []house.Probe
}

func bySetup(goals []Goal) []group {
	var out []group
	at := map[house.Setup]int{}
	for i, g := range goals {
		k, ok := at[g.Setup]
		if !ok {
			k = len(out)
			at[g.Setup] = k
			out = append(out, group{setup: g.Setup})
		}
		out[k].index = append(out[k].index, i)
		out[k].probe = append(out[k].probe, g.Probe)
	}
	return out
}

// predict fills one draw's values, row by row: NaN where a probe cannot be
// made, or where the draw is none of the row's. The symptom is played first, so
// the fuse is as its people left it.
func predict(b *circuit.Bench, symptom house.Setup, groups []group, rows []Faults, values []float64, of func(row int) bool) error {
	goals := 0
	for _, g := range groups {
		goals += len(g.index)
	}
	h, err := b.House()
	if err != nil {
		return err
	}
	for r, faults := range rows {
		if !of(r) {
			for g := range goals {
				values[r*goals+g] = math.NaN()
			}
			continue
		}
		if err := h.Become(faults.list()...); err != nil {
			return err
		}
		if err := h.Play(symptom); err != nil {
			return err
		}
		for _, g := range groups {
			for i, p := range g.probe {
				x, err := shown(h, g.setup, p)
				if err != nil {
					return err
				}
				values[r*goals+g.index[i]] = x
			}
		}
	}
	return nil
}

// shown is what one house shows, on the axis; NaN where the probe is refused.
func shown(h *circuit.House, s house.Setup, p house.Probe) (float64, error) {
	var x float64
	var err error
	if p.IsLook() {
		var a house.Answer
		a, err = h.Look(s, p.Look)
		x = AtAnswer(a)
	} else {
		var r quantity.Reading
		r, err = h.Exact(s, p)
		x = At(p.Quantity, r)
	}
	var refused *circuit.Refusal
	if errors.As(err, &refused) {
		return math.NaN(), nil
	}
	return x, err
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
