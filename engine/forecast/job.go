package forecast

import (
	"errors"
	"math"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Wanted is rows (nil: all) of a sheet that are wanted on some goals.
type Wanted struct {
	Sheet *Sheet
	Rows  []bool
	Goals []Goal
}

// Fill works out what is wanted of several sheets of one equipment together.
// Once a complaint was played most of a house reads as after any other, and
// what is read alike is worked out once. No sheet may be wanted twice.
func Fill(wanted ...Wanted) error {
	var jobs []*job
	for _, w := range wanted {
		w.Sheet.lock.Lock()
		defer w.Sheet.lock.Unlock()
		if _, missing, need := w.Sheet.missing(w.Rows, w.Goals); len(missing) > 0 {
			jobs = append(jobs, w.Sheet.job(missing, need))
		}
	}
	if len(jobs) == 0 {
		return nil
	}
	if err := work(jobs[0].sheet.benches, jobs[0].sheet.workers, jobs...); err != nil {
		return err
	}
	for _, j := range jobs {
		j.keep()
	}
	return nil
}

// job is goals to be worked out for some rows of a sheet. Rows stand for the
// draws of their parts, all of them where there are no parts.
type job struct {
	sheet    *Sheet
	goals    []Goal
	rows     []Faults
	parts    []part
	at       []int // the rows' places in the sheet
	sketches []sketch
	values   [chunk][]float64 // of each draw of a chunk
}

func (s *Sheet) job(goals []Goal, need []bool) *job {
	j := &job{sheet: s, goals: goals}
	for r, f := range s.rows {
		if need[r] {
			j.rows, j.parts, j.at = append(j.rows, Faults{f}), append(j.parts, s.parts[r]), append(j.at, r)
		}
	}
	return j
}

// has reports whether a row stands for a draw.
func (j *job) has(row, draw int) bool { return j.parts == nil || j.parts[row].has(draw) }

// keep gives the sheet what was worked out.
func (j *job) keep() {
	made := j.columns()
	for i, g := range j.goals {
		c := j.sheet.columns[g]
		for k, r := range j.at {
			if !c.known[r] {
				c.rows[r], c.known[r] = made[i].rows[k], true
			}
		}
	}
}

func (j *job) columns() []*Column {
	out := make([]*Column, len(j.goals))
	for g, goal := range j.goals {
		pieces := make([][]Piece, len(j.rows))
		for r := range j.rows {
			pieces[r] = j.sketches[r*len(j.goals)+g].pieces(goal.Probe, slack(j.parts, r))
		}
		out[g] = NewColumn(goal, pieces)
	}
	return out
}

// sketch adds what one draw of a chunk shows.
func (j *job) sketch(draw int) {
	for k, x := range j.values[draw] {
		if !math.IsNaN(x) {
			probe := j.goals[k%len(j.goals)].Probe
			j.sketches[k].add(x, gap(probe, fewer(j.parts, k/len(j.goals))), probe.IsLook() || math.IsInf(x, 1))
		}
	}
}

// chunk is how many draws are held at once.
const chunk = 8

// work works jobs out, chunk by chunk of draws: the draws of a chunk are shared
// among workers, then added to the sketches in order.
func work(benches []*circuit.Bench, workers int, jobs ...*job) error {
	for _, j := range jobs {
		j.sketches = make([]sketch, len(j.goals)*len(j.rows))
		for i := range j.values {
			j.values[i] = make([]float64, len(j.sketches))
		}
	}
	p := newPlan(jobs)
	for from := 0; from < len(benches); from += chunk {
		n := min(chunk, len(benches)-from)
		if err := share(n, workers, func(i int) error { return p.predict(benches[from+i], i, from+i) }); err != nil {
			return err
		}
		for i := range n {
			for _, j := range jobs {
				j.sketch(i)
			}
		}
	}
	return nil
}

// plan is the order in which jobs are worked out: fault by fault, setup by setup.
type plan struct {
	jobs   []*job
	lines  []line
	setups []house.Setup
	asked  [][][]asked // by setup and job
}

// line is faults in the house, and the rows of jobs that are theirs.
type line struct {
	faults Faults
	spots  []spot
}

type spot struct{ job, row int }

// asked is one probe of a job, by its place among the job's goals.
type asked struct {
	goal  int
	probe house.Probe
}

func newPlan(jobs []*job) *plan {
	p := &plan{jobs: jobs}
	lines, setups := map[Faults]int{}, map[house.Setup]int{}
	for n, j := range jobs {
		for r, f := range j.rows {
			i, ok := lines[f]
			if !ok {
				i = len(p.lines)
				lines[f] = i
				p.lines = append(p.lines, line{faults: f})
			}
			p.lines[i].spots = append(p.lines[i].spots, spot{n, r})
		}
		for g, goal := range j.goals {
			i, ok := setups[goal.Setup]
			if !ok {
				i = len(p.setups)
				setups[goal.Setup] = i
				p.setups, p.asked = append(p.setups, goal.Setup), append(p.asked, make([][]asked, len(jobs)))
			}
			p.asked[i][n] = append(p.asked[i][n], asked{g, goal.Probe})
		}
	}
	return p
}

// predict fills one draw's values: NaN where a probe cannot be made, or where
// the draw is none of the row's. The symptom is played first, so the fuse is as
// its people left it.
func (p *plan) predict(b *circuit.Bench, slot, draw int) error {
	for _, j := range p.jobs {
		for k := range j.values[slot] {
			j.values[slot][k] = math.NaN()
		}
	}
	h, err := b.House()
	if err != nil {
		return err
	}
	var spots []spot
	for _, l := range p.lines {
		spots = spots[:0]
		for _, s := range l.spots {
			if p.jobs[s.job].has(s.row, draw) {
				spots = append(spots, s)
			}
		}
		if len(spots) == 0 {
			continue
		}
		if err := h.Become(l.faults.list()...); err != nil {
			return err
		}
		if err := p.show(h, spots, slot); err != nil {
			return err
		}
	}
	return nil
}

// show fills the values of the rows whose faults are in the house.
func (p *plan) show(h *circuit.House, spots []spot, slot int) error {
	pasts := make([]circuit.Past, len(spots))
	for i, s := range spots {
		h.Reset()
		if err := h.Play(p.jobs[s.job].sheet.kind.Symptom); err != nil {
			return err
		}
		pasts[i] = h.Past()
	}
	for n, setup := range p.setups {
		for i, s := range spots {
			j := p.jobs[s.job]
			h.Return(pasts[i])
			for _, a := range p.asked[n][s.job] {
				x, err := shown(h, setup, a.probe)
				if err != nil {
					return err
				}
				j.values[slot][s.row*len(j.goals)+a.goal] = x
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
