package prove

import (
	"fmt"
	"sync"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/tree"
)

// Options says what is proven and on how many houses.
type Options struct {
	Complaints []house.Complaint // none: all
	Equipment  house.Equipment   // none: all
	Audiences  []house.Audience  // none: all
	Draws      int               // seeded draws of each equipment, beyond the corners
	Seed       uint64
	// Houses bounds how many houses of each equipment are tried, the nominal one
	// first, then the corners; 0 tries all.
	Houses  int
	Workers int
	// Prices and Weights are for the cost: minutes, and how likely each fault is
	// beside the others (1 where it is not said).
	Prices  Prices
	Weights map[house.Fault]float64
	// Progress is told how many houses of how many are done.
	Progress func(done, total int)
}

// physics simulates every call on every house.
type physics struct {
	book    *session.Book
	f       *forecast.Forecast
	options Options
	stages  []*stage
	watch   func(*worker) // for tests
}

func newPhysics(b *session.Book, f *forecast.Forecast, o Options) (*physics, error) {
	p := &physics{book: b, f: f, options: o}
	if len(o.Audiences) == 0 {
		p.options.Audiences = house.Audiences()
	}
	ids := f.Catalog().IDs()
	stages := make([]*stage, len(ids))
	errs := make([]error, len(ids))
	parallel(len(ids), o.Workers, func(i int) {
		if o.Equipment != house.NoEquipment && ids[i] != o.Equipment {
			return
		}
		s := newStage(b.Trees, f, ids[i], o)
		for _, a := range s.acts {
			if err := a.open(f, ids[i]); err != nil && errs[i] == nil {
				errs[i] = err
			}
		}
		stages[i] = s
	})
	for i, s := range stages {
		if errs[i] != nil {
			return nil, errs[i]
		}
		if s != nil && len(s.acts) > 0 {
			p.stages = append(p.stages, s)
		}
	}
	return p, nil
}

// parallel shares 0 to n-1 among workers and waits.
func parallel(n, workers int, do func(int)) {
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(max(1, workers), max(1, n)) {
		wait.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
}

// unit is one house: what is shared out.
type unit struct {
	stage *stage
	draw  int
}

// run simulates every call and counts. What each worker counts joins in any
// order to the same sum.
func (p *physics) run() (*tally, error) {
	var units []unit
	for _, s := range p.stages {
		for d := range s.draws {
			units = append(units, unit{s, d})
		}
	}
	var lock sync.Mutex
	sum := newTally()
	var failed error
	done := 0
	workers := make(chan *worker, max(1, p.options.Workers))
	for range cap(workers) {
		workers <- p.worker()
	}
	parallel(len(units), p.options.Workers, func(i int) {
		w := <-workers
		err := w.house(units[i])
		workers <- w
		lock.Lock()
		defer lock.Unlock()
		if err != nil && failed == nil {
			failed = err
		}
		done++
		if p.options.Progress != nil {
			p.options.Progress(done, len(units))
		}
	})
	close(workers)
	for w := range workers {
		sum.join(w.tally)
	}
	return sum, failed
}

// worker is what one goroutine needs.
type worker struct {
	p       *physics
	tally   *tally
	judge   *judge
	goals   *goalBook
	v       *values
	walkers [3]*walker
}

func (p *physics) worker() *worker {
	w := &worker{p: p, tally: newTally(), goals: newGoalBook(), v: &values{}}
	w.judge = &judge{lib: p.book.Trees, goals: w.goals, v: w.v, tally: w.tally,
		columns: map[*act][]*forecast.Column{}, allowed: map[allowedKey][]goalID{}, tellers: map[tellerKey][]int32{}}
	for _, who := range p.options.Audiences {
		w.walkers[who] = newWalker(p.book.Trees, who, w.goals, w.v)
		w.walkers[who].ends = w.judge.end
		w.walkers[who].hits = w.tally.hits
	}
	if p.watch != nil {
		p.watch(w)
	}
	return w
}

// house holds every call in one drawn house, fault by fault.
func (w *worker) house(u unit) error {
	bench, err := circuit.NewBench(u.stage.draws[u.draw])
	if err != nil {
		return fmt.Errorf("%s, house %d: %w", u.stage.eq.ID, u.draw, err)
	}
	*w.v = values{bench: bench, worlds: w.v.worlds}
	for i := range w.v.worlds {
		w.v.worlds[i].house = nil
	}
	w.judge.stage = u.stage
	for _, f := range u.stage.faults {
		if !w.v.become(f) {
			continue
		}
		w.tally.Houses++
		w.judge.at = mark{equipment: u.stage.eq.ID, draw: u.draw, fault: f}
		for _, a := range u.stage.acts {
			w.complaint(a)
		}
	}
	return w.judge.errs
}

// complaint holds every call about one complaint.
func (w *worker) complaint(a *act) {
	j := w.judge
	w.v.symptom(a.setups)
	j.plays(a)
	j.shown = a.shown(w.v, w.goals)
	j.at.complaint = a.tree.ID
	if j.shown {
		w.tally.matrix[matrixKey{j.at.equipment, j.at.fault, a.tree.ID}] = true
	}
	d := w.v.worlds[worldPlain].house.Draw()
	for _, who := range w.p.options.Audiences {
		for i, caller := range profiles(d, j.at.draw, who) {
			j.at.who, j.at.profile, j.at.caller, j.at.turn = who, i, caller, 0
			j.w, j.bestOf = w.walkers[who], false
			w.calls(a.tree, caller)
		}
	}
}

// calls holds one caller's call, as asked and otherwise.
func (w *worker) calls(t *tree.Tree, caller profile) {
	k := w.judge.w
	k.truth = caller.truth
	k.call(t, caller.known, NoSlip)
	for _, slip := range Persistent() {
		if w.v.slip(slip) {
			k.call(t, caller.known, slip)
		}
	}
}
