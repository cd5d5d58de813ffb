package prove

import (
	"reflect"
	"testing"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/tree"
)

// TestCourses holds calls that are taken from another house which answered
// alike against the same calls walked in each house: every count, edge and
// counterexample is the same. The forecast is of one house, so that there are
// counterexamples. In a packaged unit one feed may be taken for two.
func TestCourses(t *testing.T) {
	sequential(t)
	for _, e := range []house.Equipment{house.CoolGas, house.PackagedGas} {
		t.Run(e.String(), func(t *testing.T) { sameCourses(t, e) })
	}
}

func sameCourses(t *testing.T, e house.Equipment) {
	t.Helper()
	const houses = 8
	book, f := embedded(t), forecast.New(catalog(t), forecast.Options{Draws: 1, Workers: 1})
	count := func(afresh bool) (*tally, int) {
		p := newPhysics(book, f, Options{Equipment: e, Houses: houses, Workers: 1,
			Complaints: []house.Complaint{house.NoCooling, house.WeakControlPower}})
		var courses *courses
		p.watch = func(w *worker) {
			courses = w.courses
			for _, k := range w.walkers {
				if afresh {
					k.edged = func(*tree.Step, int, SlipKind) {}
				}
			}
		}
		sum, err := p.run()
		if err != nil {
			t.Fatal(err)
		}
		return sum, courses.count
	}
	kept, walked := count(false)
	fresh, _ := count(true)
	if !reflect.DeepEqual(kept.Tally, fresh.Tally) {
		t.Errorf("counted\n%+v\nfrom courses kept, afresh\n%+v", kept.Tally, fresh.Tally)
	}
	if len(kept.misses) == 0 || len(kept.misses) != len(fresh.misses) {
		t.Errorf("%d kinds of counterexample from courses kept, %d afresh", len(kept.misses), len(fresh.misses))
	}
	for k, m := range fresh.misses {
		if got := kept.misses[k]; got == nil || got.count != m.count || got.first != m.first || got.faults != m.faults || got.best != m.best || got.left != m.left {
			t.Errorf("counterexample %v is %+v from courses kept, %+v afresh", k, got, m)
		}
	}
	if !reflect.DeepEqual(kept.hits, fresh.hits) {
		t.Error("courses kept take other edges than walks afresh")
	}
	held := 0
	for _, n := range kept.Calls {
		held += n * (1 + len(Persistent()))
	}
	t.Logf("%d courses walked for some %d calls in %d houses", walked, held, houses)
	if walked > held/2 {
		t.Errorf("%d courses were walked for some %d calls: too few were taken from another house", walked, held)
	}
}
