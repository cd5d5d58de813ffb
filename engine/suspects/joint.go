package suspects

import (
	"sync"

	"stepdown/engine/forecast"
)

// joints keeps what faults show together: every turn of a call asks for the same
// few once more, and a reading more. All calls of an engine share it.
type joints struct {
	lock  sync.Mutex
	known map[*forecast.Sheet]map[jointly]map[forecast.Faults][]forecast.Piece
	size  int
}

// jointly is one probe, shown by so many houses.
type jointly struct {
	goal  forecast.Goal
	draws int
}

// jointsMost is how many things shown are kept, a few megabytes; past it all are
// let go, and what is still asked for is worked out again.
const jointsMost = 100_000

func newJoints() *joints {
	return &joints{known: map[*forecast.Sheet]map[jointly]map[forecast.Faults][]forecast.Piece{}}
}

// show gives a column for each goal, of what each of rows shows in so many houses
// of a sheet (0: all of them).
func (j *joints) show(sheet *forecast.Sheet, goals []forecast.Goal, rows []forecast.Faults, draws int) ([]*forecast.Column, error) {
	j.lock.Lock()
	defer j.lock.Unlock()
	if j.size > jointsMost {
		clear(j.known)
		j.size = 0
	}
	shown := make([]map[forecast.Faults][]forecast.Piece, len(goals))
	for i, g := range goals {
		shown[i] = j.of(sheet, jointly{g.Key(), draws})
	}
	if err := j.complete(sheet, goals, rows, draws, shown); err != nil {
		return nil, err
	}
	out := make([]*forecast.Column, len(goals))
	for i, g := range goals {
		pieces := make([][]forecast.Piece, len(rows))
		for r, f := range rows {
			pieces[r] = shown[i][f]
		}
		out[i] = forecast.NewColumn(g.Key(), pieces)
	}
	return out, nil
}

// of is what is kept of one probe.
func (j *joints) of(sheet *forecast.Sheet, key jointly) map[forecast.Faults][]forecast.Piece {
	all := j.known[sheet]
	if all == nil {
		all = map[jointly]map[forecast.Faults][]forecast.Piece{}
		j.known[sheet] = all
	}
	one := all[key]
	if one == nil {
		one = map[forecast.Faults][]forecast.Piece{}
		all[key] = one
	}
	return one
}

// complete works out what is not known, the rows that lack the same goals
// together.
func (j *joints) complete(sheet *forecast.Sheet, goals []forecast.Goal, rows []forecast.Faults, draws int, shown []map[forecast.Faults][]forecast.Piece) error {
	lacking := map[string][]forecast.Faults{}
	var order []string
	lacks := make([]byte, len(goals))
	for _, f := range rows {
		any := false
		for i := range goals {
			_, known := shown[i][f]
			if lacks[i] = '0'; !known {
				lacks[i], any = '1', true
			}
		}
		if !any {
			continue
		}
		if _, ok := lacking[string(lacks)]; !ok {
			order = append(order, string(lacks))
		}
		lacking[string(lacks)] = append(lacking[string(lacks)], f)
	}
	for _, key := range order {
		if err := j.work(sheet, goals, key, lacking[key], draws, shown); err != nil {
			return err
		}
	}
	return nil
}

// work works out the rows for the goals that key marks.
func (j *joints) work(sheet *forecast.Sheet, goals []forecast.Goal, key string, rows []forecast.Faults, draws int, shown []map[forecast.Faults][]forecast.Piece) error {
	var need []forecast.Goal
	var at []int
	for i, lacks := range key {
		if lacks == '1' {
			need, at = append(need, goals[i]), append(at, i)
		}
	}
	columns, err := sheet.Together(need, rows, draws)
	if err != nil {
		return err
	}
	for k, column := range columns {
		for r, f := range rows {
			shown[at[k]][f] = column.Row(r)
		}
	}
	j.size += len(need) * len(rows)
	return nil
}
