package prove

import (
	"math/rand/v2"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/tree"
)

// TestWalkerAgrees holds the fast walk against whole conversations: on random
// houses, complaints and audiences the two come to the same end, on the main
// way, on every side way and under every slip that lasts.
func TestWalkerAgrees(t *testing.T) {
	sequential(t)
	book, cat := embedded(t), catalog(t)
	const seed = 7
	rng := rand.New(rand.NewPCG(seed, 0))
	ids := cat.IDs()
	tried := map[SlipKind]int{}
	for range 150 {
		e := cat.Equipment(ids[rng.IntN(len(ids))])
		c, ok := someTree(book.Trees, e.ID, rng)
		if !ok {
			continue
		}
		faults := e.Faults()
		f := faults[rng.IntN(len(faults))]
		d := e.Sample(rng, 1)
		who := house.Audiences()[rng.IntN(3)]
		known := house.Facts{Equipment: e.ID, EquipmentAsked: true}
		if rng.IntN(4) == 0 && who.MayNotKnow(e.ID) {
			known.Equipment = house.NoEquipment
		}
		base := []house.Base{house.BaseExposed, house.BaseCovered, house.BaseUnknown}[rng.IntN(3)]
		meter := []house.Meter{house.MeterNone, house.MeterHighImpedance, house.MeterBoth}[rng.IntN(3)]
		agree(t, book, d, f, c, who, known, base, meter, tried)
	}
	t.Logf("seed %d, calls compared: %v", seed, tried)
	for _, k := range append(Persistent(), NoSlip, SlipUnable, SlipWrong) {
		if tried[k] == 0 {
			t.Errorf("no call was compared under: %s", k)
		}
	}
}

func someTree(lib *tree.Library, e house.Equipment, rng *rand.Rand) (house.Complaint, bool) {
	var fitting []house.Complaint
	for _, t := range lib.InOrder() {
		if fits(t, e) && len(t.Complaints) > 0 {
			fitting = append(fitting, t.ID)
		}
	}
	if len(fitting) == 0 {
		return 0, false
	}
	return fitting[rng.IntN(len(fitting))], true
}

func agree(t *testing.T, book *session.Book, d circuit.Draw, f house.Fault, c house.Complaint, who house.Audience,
	known house.Facts, base house.Base, meter house.Meter, tried map[SlipKind]int) {
	t.Helper()
	bench, err := circuit.NewBench(d)
	if err != nil {
		t.Fatal(err)
	}
	v := &values{bench: bench}
	if !v.become(f) {
		t.Fatal("the fault does not fit")
	}
	w := newWalker(book.Trees, who, newGoalBook(d.Equipment.ID), v)
	w.truth = v.worlds[worldPlain].house.Draw().Facts()
	w.truth.Base, w.truth.Meter, w.truth.Equipment = base, meter, known.Equipment
	setups := symptomSetups(book.Trees.Trees[c])
	v.symptom(setups)
	w.ends = func(e *ending) {
		tried[e.side.kind]++
		s := e.side.slip()
		h, _ := bench.House(f)
		var later House
		if s.Kind == SlipDelay {
			later = h
			h, _ = bench.House(f, house.DelayRunning)
		}
		if f == house.DelayRunning && s.Kind != SlipNoCall && s.Kind != SlipMode {
			later, _ = bench.House(house.None)
		}
		trail, err := Simulate(book, who, &Caller{House: h, Later: later, Facts: w.truth, Complaint: c, Slip: s})
		if err != nil {
			t.Errorf("%s %s %s %s %+v: %v", d.Equipment.ID, f, c, who, s, err)
			return
		}
		if trail.End.ID != e.finding {
			t.Errorf("%s %s %s %s known %v truth %v %s %+v: the conversation ends at %s, the walk at %s\n%v",
				d.Equipment.ID, f, c, who, known.Equipment, w.truth, s.Kind, s, trail.End.ID, e.finding, lines(trail))
		}
	}
	w.call(book.Trees.Trees[c], known, NoSlip)
	for _, k := range Persistent() {
		if v.slip(k) {
			w.call(book.Trees.Trees[c], known, k)
		}
	}
}
