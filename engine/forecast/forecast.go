package forecast

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"sync"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// Options says how many houses stand for all of them.
type Options struct {
	// Draws is how many houses are drawn for each equipment, corners of the
	// ranges first, then seeded draws from within them. 0 takes DrawsUsual.
	Draws int
	Seed  uint64
	// Workers is how many goroutines share the work; 0 is one a core. The
	// table does not depend on it.
	Workers int
	// SlowFuse gives every so many-th house a fuse that holds any short, 0 none.
	// Fuses that hold one are few, and the houses drawn may have none of them.
	SlowFuse int
}

// SlowFuseUsual is enough for a conversation: eight houses of DrawsUsual, and the
// choices dealt out in turn fall on them alike.
const SlowFuseUsual = 3

// DrawsUsual is enough for a conversation: the corners reach the ends of the
// ranges, and the guard band covers what they miss.
const DrawsUsual = 24

// Forecast holds the drawn houses and the sheets made of them. It is safe for
// several goroutines.
type Forecast struct {
	catalog *circuit.Catalog
	options Options

	lock    sync.Mutex
	drawn   map[house.Equipment][]circuit.Draw
	benches map[Kind][]*circuit.Bench // of each kind of house, whatever its symptom
	sheets  map[Kind]*Sheet
}

// New starts a forecast; nothing is worked out until it is asked for.
func New(c *circuit.Catalog, o Options) *Forecast {
	if o.Draws <= 0 {
		o.Draws = DrawsUsual
	}
	if o.Workers <= 0 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	return &Forecast{catalog: c, options: o, drawn: map[house.Equipment][]circuit.Draw{},
		benches: map[Kind][]*circuit.Bench{}, sheets: map[Kind]*Sheet{}}
}

// Catalog is the equipment it forecasts.
func (f *Forecast) Catalog() *circuit.Catalog { return f.catalog }

// Sheet is the table for one kind of house. Sheets are kept.
func (f *Forecast) Sheet(k Kind) (*Sheet, error) {
	e := f.catalog.Equipment(k.Equipment)
	if e == nil {
		return nil, fmt.Errorf("equipment %s is not modelled", k.Equipment)
	}
	f.lock.Lock()
	defer f.lock.Unlock()
	if s := f.sheets[k]; s != nil {
		return s, nil
	}
	benches, err := f.factorised(k, e)
	if err != nil {
		return nil, err
	}
	s, err := newSheet(k, e, benches, f.options)
	if err != nil {
		return nil, err
	}
	f.sheets[k] = s
	return s, nil
}

// Forget lets go of what was worked out for an equipment; asked for again, it is
// worked out again.
func (f *Forecast) Forget(e house.Equipment) {
	f.lock.Lock()
	defer f.lock.Unlock()
	delete(f.drawn, e)
	for k := range f.benches {
		if k.Equipment == e {
			delete(f.benches, k)
		}
	}
	for k := range f.sheets {
		if k.Equipment == e {
			delete(f.sheets, k)
		}
	}
}

// factorised gives the drawn houses of a kind, each factorised once whatever
// the complaint.
func (f *Forecast) factorised(k Kind, e *circuit.Equipment) ([]*circuit.Bench, error) {
	k.Symptom = house.Setup{}
	if benches, ok := f.benches[k]; ok {
		return benches, nil
	}
	draws, ok := f.drawn[k.Equipment]
	if !ok {
		draws = draw(e, f.options)
		f.drawn[k.Equipment] = draws
	}
	benches := make([]*circuit.Bench, len(draws))
	err := share(len(draws), f.options.Workers, func(i int) (err error) {
		benches[i], err = circuit.NewBench(k.pinned(draws[i]))
		return err
	})
	if err == nil {
		f.benches[k] = benches
	}
	return benches, err
}

// draw gives the houses of an equipment: corners first, spread over the list
// of them where there are more, then draws from within the ranges. The meter's
// own error is left out: it is added to the intervals, whole.
func draw(e *circuit.Equipment, o Options) []circuit.Draw {
	corners := e.CornerCount()
	take := min(corners, (3*o.Draws+3)/4)
	out := make([]circuit.Draw, o.Draws)
	_ = share(o.Draws, o.Workers, func(i int) error {
		if i < take {
			out[i] = e.Corner(i * corners / take)
		} else {
			out[i] = e.Sample(rand.New(rand.NewPCG(o.Seed, uint64(e.ID)<<32|uint64(i))), 1)
		}
		out[i].MeterGain, out[i].MeterOffset = 0, 0
		out[i] = dealt(out[i], i)
		if o.slow(i) {
			out[i] = holding(out[i])
		}
		return nil
	})
	return out
}

// slow reports whether draw i is one given a fuse that holds.
func (o Options) slow(i int) bool { return o.SlowFuse > 0 && i%o.SlowFuse == o.SlowFuse/2 }

// holding is a draw whose fuse holds any short of the control circuit.
func holding(d circuit.Draw) circuit.Draw {
	const times = 10 // beyond what any of the transformers gives
	if changed, err := d.WithValue("fuse.blows-at-times", times); err == nil {
		return changed
	}
	return d
}

// turns are the choices that decide what many faults show; they are dealt out
// in turn, so that each option stands on as many houses as the other.
var turns = []struct {
	choice  circuit.Choice
	options [2]string
}{
	{circuit.FloatIn, [2]string{"R", "Y"}},
	{circuit.Sensing, [2]string{"no", "yes"}},
}

// dealt is draw i with those choices as its turn has them.
func dealt(d circuit.Draw, i int) circuit.Draw {
	for bit, t := range turns {
		if !d.Equipment.Draws(t.choice) {
			continue
		}
		if changed, err := d.With(t.choice, t.options[i>>bit&1]); err == nil {
			d = changed
		}
	}
	return d
}

// share splits 0 to n-1 among workers and waits for all. The error is that of
// the lowest index.
func share(n, workers int, do func(i int) error) error {
	errs := make([]error, n)
	var next int
	var lock sync.Mutex
	var wait sync.WaitGroup
	for range min(n, max(1, workers)) {
		wait.Go(func() {
			for {
				lock.Lock()
				i := next
				next++
				lock.Unlock()
				if i >= n {
					return
				}
				errs[i] = do(i)
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
