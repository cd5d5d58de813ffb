package drill

import (
	"math"
	"os"
	"strings"
	"testing"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/suspects"
)

// coach knows that a house does not cool.
func coach(t testing.TB, e house.Equipment) *Coach {
	t.Helper()
	w, problems := suspects.LoadWeights(os.DirFS("../../trees"), "weights.yaml")
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	symptom := suspects.Symptom{Setup: house.DefaultSetup().With(house.CoolCall), Look: house.Air}
	for _, id := range []string{"room", "none", "warm"} {
		a, err := house.Air.ParseAnswer(id)
		if err != nil {
			t.Fatal(err)
		}
		symptom.Shows = append(symptom.Shows, a)
	}
	f := forecast.New(catalog(t), forecast.Options{})
	facts := house.Facts{Equipment: e, EquipmentAsked: true}
	return &Coach{Engine: suspects.New(f, w), Minutes: w.Minutes, Case: suspects.Case{Facts: facts, Symptoms: []suspects.Symptom{symptom}}}
}

// The best path through a house ends at the hidden fault's finding, and no
// trainee who probes everything first is faster.
func TestBestPath(t *testing.T) {
	c := coach(t, house.CoolGas)
	for _, f := range []house.Fault{house.FuseBlown, house.ContactorCoilOpen, house.NoLineOutdoor} {
		g := game(t, f)
		best, err := c.Best(g)
		if err != nil {
			t.Fatal(err)
		}
		if !best.Settled || len(best.Steps) == 0 {
			t.Errorf("%s: settled %v after %d probes", f, best.Settled, len(best.Steps))
		}
		if len(g.Moves()) != 0 || g.Setup() != g.symptom {
			t.Errorf("%s: the trainee's house was touched", f)
		}
		again, err := c.Best(g)
		if err != nil || again.Minutes != best.Minutes {
			t.Errorf("%s: %v minutes, then %v, %v", f, best.Minutes, again.Minutes, err)
		}
	}
}

// A cover is paid once, a probe each time; worked out by hand from the prices.
func TestTakenIsPriced(t *testing.T) {
	c := coach(t, house.CoolGas)
	g := game(t, house.OpenY)
	talk(t, g, `{"look":"outdoor-unit"}`, `{"setup":{"power-indoor":"locked-out"}}`, `{"setup":{"cover-indoor":"open"}}`, `{"setup":{"power-indoor":"on"}}`,
		`{"measure":{"quantity":"volts","red":"Y","black":"C","at":"indoor"}}`, `{"measure":{"quantity":"volts","red":"R","black":"C","at":"indoor"}}`)
	m := c.Minutes
	want := m.Look + m.CoverIndoor + 2*m.Reading
	got, err := c.Taken(g)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Minutes-want) > 1e-9 || len(got.Steps) != 3 || got.Settled { // a sum of tenths
		t.Errorf("%v minutes in %d probes, wanted %v in 3", got.Minutes, len(got.Steps), want)
	}
}

// A hint splits what is left, costs, and following hints alone comes to the
// end.
func TestHints(t *testing.T) {
	c := coach(t, house.CoolGas)
	g := game(t, house.FuseBlown)
	for n := 0; ; n++ {
		if n > stepsMost {
			t.Fatal("the hints do not come to an end")
		}
		h, ok, err := c.Hint(g)
		if err != nil {
			t.Fatal(err)
		}
		if !ok {
			break
		}
		if len(h.Splits) < 2 {
			t.Errorf("hint %d splits nothing: %+v", n, h)
		}
		g.setup = h.Goal.Setup
		if err := g.circuit.Play(g.setup); err != nil {
			t.Fatal(err)
		}
		if h.Goal.Probe.IsLook() {
			_, err = g.Look(h.Goal.Probe.Look)
		} else {
			_, err = g.Measure(h.Goal.Probe)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if g.Hints() == 0 || !g.Name(house.FuseBlown).Right {
		t.Errorf("%d hints", g.Hints())
	}
}

// The score's sum, by hand: 100 - 2×3 - 5×2 - 15 = 69; ten less for a guess.
func TestScore(t *testing.T) {
	v := Verdict{Right: true, Slips: []Slip{{}}}
	s := Mark(v, Path{Minutes: 13.9, Settled: true}, Path{Minutes: 10.5}, 2)
	if s.Total != 69 {
		t.Errorf("%d of %+v", s.Total, s.Sum())
	}
	if guess := Mark(v, Path{Minutes: 13.9}, Path{Minutes: 10.5}, 2); guess.Total != 59 {
		t.Errorf("%d of %+v", guess.Total, guess.Sum())
	}
	sum := 0
	for _, l := range s.Sum() {
		sum += l.Points
	}
	if sum != s.Total {
		t.Errorf("the lines add up to %d, the score is %d", sum, s.Total)
	}
	if s := Mark(Verdict{}, Path{}, Path{}, 0); s.Total != 0 {
		t.Errorf("a wrong fault scores %d", s.Total)
	}
	if s := Mark(Verdict{Right: true, Slips: make([]Slip, 9)}, Path{Minutes: 500}, Path{}, 0); s.Total != 0 || !strings.Contains(s.Sum()[1].Text, "at the most") {
		t.Errorf("%+v", s)
	}
	if s := Mark(Verdict{Right: true}, Path{Minutes: 5, Settled: true}, Path{Minutes: 9}, 0); s.Total != 100 {
		t.Errorf("faster than the best path scores %d", s.Total)
	}
}

// Each lesson's faults can be in its equipment, ids are used once, and passing
// one leads to the next.
func TestLessons(t *testing.T) {
	c := catalog(t)
	ids := map[string]bool{}
	best := map[string]int{}
	for _, l := range Lessons() {
		e := c.Equipment(l.Equipment)
		for _, f := range l.Faults {
			if !e.Fits(f) {
				t.Errorf("%s: %s cannot be in %s", l.ID, f, l.Equipment)
			}
		}
		if ids[l.ID] || l.Title == "" {
			t.Errorf("%s is used twice, or has no title", l.ID)
		}
		ids[l.ID] = true
		if got := Next(best); got.ID != l.ID {
			t.Errorf("next is %s, not %s", got.ID, l.ID)
		}
		best[l.ID] = Pass
	}
	if got := Next(best); got.ID != "anything" {
		t.Errorf("after all: %s", got.ID)
	}
}
