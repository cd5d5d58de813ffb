package prove

import (
	"fmt"
	"sync"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
	"stepdown/engine/session"
	"stepdown/engine/tree"
)

// Options says what is proven and on how many houses.
type Options struct {
	Complaints []house.Complaint // none: all
	Equipment  house.Equipment   // none: all
	Audiences  []house.Audience  // none: all
	// Hidden are faults that show no complaint anywhere, with why that is so.
	Hidden map[house.Fault]string
	Draws  int // seeded draws of each equipment, beyond the corners
	Seed   uint64
	// Corners bounds how many of the corners are tried; 0 tries all.
	Corners int
	// Houses bounds how many houses of each equipment are tried, the nominal one
	// first, then the corners; 0 tries all.
	Houses  int
	Workers int
	// Prices and Weights are for the cost: minutes, and how likely each fault is
	// beside the others (1 where it is not said).
	Prices  policy.Minutes
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
	once    bool          // run is called once: what is worked out is let go
	cost    []CostRow     // of the runs so far, where it is asked for
	watch   func(*worker) // for tests
}

func newPhysics(b *session.Book, f *forecast.Forecast, o Options) *physics {
	p := &physics{book: b, f: f, options: o}
	if len(o.Audiences) == 0 {
		p.options.Audiences = house.Audiences()
	}
	ids := f.Catalog().IDs()
	stages := make([]*stage, len(ids))
	parallel(len(ids), o.Workers, func(i int) {
		if o.Equipment == house.NoEquipment || ids[i] == o.Equipment {
			stages[i] = newStage(b.Trees, f, ids[i], o)
		}
	})
	for _, s := range stages {
		if s != nil && len(s.acts) > 0 {
			p.stages = append(p.stages, s)
		}
	}
	return p
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

// run simulates every call and counts, one equipment after the other, so that
// the forecast of one at a time is held. What each worker counts joins in any
// order to the same sum.
func (p *physics) run() (*tally, error) {
	sum := newTally()
	done, total := 0, 0
	for _, s := range p.stages {
		total += len(s.draws)
	}
	for _, s := range p.stages {
		if err := s.open(p.f); err != nil {
			return nil, err
		}
		err := p.perform(s, sum, func() {
			done++
			if p.options.Progress != nil {
				p.options.Progress(done, total)
			}
		})
		if err != nil {
			return nil, err
		}
		if p.priced() {
			p.cost = append(p.cost, p.proveCost(s)...)
		}
		if p.once {
			s.close(p.f)
		}
	}
	return sum, nil
}

// perform holds every call in the houses of one equipment, which are dealt out
// to the workers in turn, and adds to the sum. Callers take turns from house to
// house as well, so that each mostly meets the same callers, whose courses it
// knows.
func (p *physics) perform(s *stage, sum *tally, done func()) error {
	var lock sync.Mutex
	var failed error
	hands := max(1, p.options.Workers)
	parallel(hands, hands, func(hand int) {
		w := p.worker(s)
		for draw := hand; draw < len(s.draws); draw += hands {
			err := w.house(draw)
			lock.Lock()
			if failed == nil {
				failed = err
			}
			done()
			lock.Unlock()
		}
		lock.Lock()
		defer lock.Unlock()
		sum.join(w.tally)
	})
	return failed
}

// worker is what one goroutine needs.
type worker struct {
	p       *physics
	tally   *tally
	judge   *judge
	goals   *goalBook
	v       *values
	walkers [3]*walker
	courses *courses
	judged  bool // what the calls come to is laid against what the house allows
}

func (p *physics) worker(s *stage) *worker {
	w := &worker{p: p, tally: newTally(), goals: newGoalBook(s.eq.ID), v: &values{}, courses: newCourses(), judged: true}
	w.judge = &judge{stage: s, lib: p.book.Trees, goals: w.goals, v: w.v, tally: w.tally,
		columns: map[*act][]*forecast.Column{}, allowed: map[allowedKey][]goalID{}, tellers: map[tellerKey][]int32{}}
	for _, who := range p.options.Audiences {
		w.walkers[who] = newWalker(p.book.Trees, who, w.goals, w.v)
		w.walkers[who].hits = w.tally.hits
	}
	if p.watch != nil {
		p.watch(w)
	}
	return w
}

// house holds every call in one drawn house, fault by fault.
func (w *worker) house(draw int) error {
	s := w.judge.stage
	bench, err := circuit.NewBench(s.draws[draw])
	if err != nil {
		return fmt.Errorf("%s, house %d: %w", s.eq.ID, draw, err)
	}
	*w.v = values{bench: bench, worlds: w.v.worlds}
	for i := range w.v.worlds {
		w.v.worlds[i].house = nil
	}
	for _, f := range s.faults {
		if !w.v.become(f) {
			continue
		}
		w.tally.Houses++
		w.judge.at = mark{equipment: s.eq.ID, draw: draw, fault: f}
		for _, a := range s.acts {
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
	w.judge.w.truth = caller.truth
	w.call(t, caller, NoSlip)
	for _, slip := range Persistent() {
		if w.v.slip(slip) {
			w.call(t, caller, slip)
		}
	}
}

// call holds one call with all that may go wrong in it once. A walk that is
// watched is not taken from another house.
func (w *worker) call(t *tree.Tree, caller profile, slip SlipKind) {
	k := w.judge.w
	if k.probed != nil || k.edged != nil {
		w.courses = newCourses()
	}
	c, err := w.courses.of(k, t, caller.known, slip, func(f house.Finding) bool { return w.judge.stage.findings[f].condemns })
	if err != nil && w.judge.errs == nil {
		w.judge.errs = err
	}
	if w.judged {
		w.judge.judge(c)
	}
}
