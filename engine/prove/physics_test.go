package prove

import (
	"bytes"
	"testing"

	"github.com/google/go-cmp/cmp"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/session"
)

// proven runs every proof over the embedded trees on a few houses.
func proven(t testing.TB, o Options) *Report {
	t.Helper()
	f := forecast.New(catalog(t), forecast.Options{Draws: 8, Seed: 1, Workers: o.Workers})
	r, err := Prove(embedded(t), f, nil, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestAnyNumberOfWorkers holds that the report is the same, byte for byte,
// however many goroutines share the work.
func TestAnyNumberOfWorkers(t *testing.T) {
	text := func(workers int) (string, string) {
		r := proven(t, Options{Complaints: []house.Complaint{house.NoCooling}, Equipment: house.CoolElectric, Houses: 4, Workers: workers})
		var plain, object bytes.Buffer
		if err := r.WriteText(&plain); err != nil {
			t.Fatal(err)
		}
		if err := r.WriteJSON(&object); err != nil {
			t.Fatal(err)
		}
		return plain.String(), object.String()
	}
	plain, object := text(1)
	for _, n := range []int{2, 5} {
		p, o := text(n)
		if d := cmp.Diff(plain, p); d != "" {
			t.Errorf("%d workers print something else (-one +more):\n%s", n, d)
		}
		if object != o {
			t.Errorf("%d workers write other JSON", n)
		}
	}
}

// TestReplayEndsTheSame holds again, as a whole conversation, the first call of
// every kind the proof missed: it must end as the proof said.
func TestReplayEndsTheSame(t *testing.T) {
	sequential(t)
	book := embedded(t)
	f := forecast.New(catalog(t), forecast.Options{Draws: 8, Seed: 1, Workers: 2})
	p := newPhysics(book, f, Options{Complaints: []house.Complaint{house.NoCooling}, Equipment: house.CoolGas, Houses: 2, Workers: 2})
	sum, err := p.run()
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range sum.misses {
		trail, err := Simulate(book, m.first.who, p.stageOf(m.first.equipment).caller(m.first, m.end.side.slip()))
		if err != nil {
			t.Errorf("%s: %v", m.text(), err)
			continue
		}
		if trail.End.ID != m.finding {
			t.Errorf("%s: held again it ends at %s", m.text(), trail.End.ID)
		}
		if r := trail.Replay(); len(r.Lines) == 0 || len(r.Lines) != len(trail.Events) {
			t.Errorf("%s: %d lines replay %d events", m.text(), len(r.Lines), len(trail.Events))
		}
	}
}

// TestHealthyHouse holds that a house with nothing wrong is never sold a part,
// whatever is asked about it and by whom, when everything is answered as it is.
func TestHealthyHouse(t *testing.T) {
	sequential(t)
	book, cat := embedded(t), catalog(t)
	for _, id := range cat.IDs() {
		e := cat.Equipment(id)
		for _, tr := range book.Trees.InOrder() {
			if !startsCalls(tr) || !fitsEquipment(tr, id) {
				continue
			}
			for _, who := range house.Audiences() {
				for n, d := range []int{0, 1, 5} {
					healthy(t, book, e.Corner(d), n, tr.ID, who)
				}
			}
		}
	}
}

func healthy(t *testing.T, book *session.Book, d circuit.Draw, n int, c house.Complaint, who house.Audience) {
	t.Helper()
	h, err := circuit.NewHouse(d, house.None)
	if err != nil {
		t.Fatal(err)
	}
	caller := profiles(d, n, who)[0]
	trail, err := Simulate(book, who, &Caller{House: h, Facts: caller.truth, Complaint: c})
	if err != nil {
		t.Errorf("%s %s %s: %v", d.Equipment.ID, c, who, err)
		return
	}
	switch trail.End.ID {
	case "none", "delay-running", "stat-setting", house.NotThisCircuit, house.Undecided:
	default:
		t.Errorf("%s %s %s: a healthy house ends at %s\n%v", d.Equipment.ID, c, who, trail.End.ID, lines(trail))
	}
}
