package drill

import (
	"math"
	"os"
	"strings"
	"sync"
	"testing"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/suspects"
)

// tables are worked out once for all tests.
var tables = sync.OnceValue(func() *forecast.Forecast { return forecast.New(catalog(), forecast.Options{}) })

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
	f := tables()
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
		if !best.Settled() || len(best.Steps) == 0 {
			t.Errorf("%s: %d findings left after %d probes", f, best.Left, len(best.Steps))
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
	if math.Abs(got.Minutes-want) > 1e-9 || len(got.Steps) != 3 || got.Settled() { // a sum of tenths
		t.Errorf("%v minutes in %d probes, wanted %v in 3", got.Minutes, len(got.Steps), want)
	}
}

// A hint tells something of what is left, costs, and following hints alone comes to the
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
		if h.GainBits <= 0 || len(h.Splits) == 0 {
			t.Errorf("hint %d tells nothing: %+v", n, h)
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

// No best path makes a probe twice in the same setup, whatever is hidden: here
// the first fault of each lesson.
func TestBestPathRepeatsNothing(t *testing.T) {
	c := coach(t, house.CoolGas)
	for _, l := range Lessons() {
		if l.Equipment != house.CoolGas {
			continue
		}
		for _, f := range l.Faults[:1] {
			best, err := c.Best(game(t, f))
			if err != nil {
				t.Fatal(err)
			}
			made := map[Step]bool{}
			for _, s := range best.Steps {
				key := Step{Goal: s.Goal.Key(), Rested: s.Rested}
				if made[key] {
					t.Errorf("%s: %s twice", f, s.Goal.Probe)
				}
				made[key] = true
			}
			if best.Left == 0 {
				t.Errorf("%s: the best path rules everything out", f)
			}
			if own, err := c.own(game(t, f)); err != nil || best.Minutes > own.Minutes || best.Left > own.Left {
				t.Errorf("%s: best %.1f min, %d left; chosen %.1f min, %d left, %v", f, best.Minutes, best.Left, own.Minutes, own.Left, err)
			}
		}
	}
}

// A right fault named without a probe is a guess and passes nothing; named at
// the end of the best path it is proven, settled or not.
func TestAGuessPassesNothing(t *testing.T) {
	c := coach(t, house.CoolGas)
	for _, f := range []house.Fault{house.OpenY, house.StatYOpen, house.FuseBlown} {
		g := game(t, f)
		best, err := c.Best(g)
		if err != nil {
			t.Fatal(err)
		}
		taken, err := c.Taken(g)
		if err != nil {
			t.Fatal(err)
		}
		if s := Mark(g.Name(f), taken, best, 0); s.Proven || s.Total > 20 {
			t.Errorf("%s guessed: %+v", f, s)
		}
		for _, s := range best.Steps {
			g.moves = append(g.moves, Move{Probe: s.Goal.Probe, Setup: s.Goal.Setup, Reading: s.Reading, Answer: s.Answer})
			if s.Rested {
				g.moves[len(g.moves)-1].Waited = true
			}
		}
		if taken, err = c.Taken(g); err != nil {
			t.Fatal(err)
		}
		if s := Mark(g.Name(f), taken, best, 0); !s.Proven || s.Total < Pass {
			t.Errorf("%s after the best path: %+v, left %d of %d", f, s, taken.Left, best.Left)
		}
	}
}

// openY is a technician's way to a broken Y conductor: the call is there at the
// wall, not at the board, and the board has power.
func openY(t *testing.T) *Game {
	t.Helper()
	g := game(t, house.OpenY)
	talk(t, g, `{"look":"outdoor-unit"}`, `{"measure":{"quantity":"volts","red":"Y","black":"C","at":"thermostat"}}`,
		`{"setup":{"power-indoor":"locked-out"}}`, `{"setup":{"cover-indoor":"open"}}`, `{"setup":{"power-indoor":"on"}}`,
		`{"measure":{"quantity":"volts","red":"R","black":"C","at":"indoor"}}`, `{"measure":{"quantity":"volts","red":"Y","black":"C","at":"indoor"}}`)
	return g
}

// Volts on Y at the wall and none on it at the board: an open Y conductor shows
// both, and an open float switch either in some house and both in none, since
// one conductor has one voltage at its two ends.
func TestReadingsCountTogether(t *testing.T) {
	c := coach(t, house.CoolGas)
	g := openY(t)
	p := c.priced(g)
	x := &together{path: p, game: g}
	for f, want := range map[house.Fault]bool{house.OpenY: false, house.FloatOpen: true, house.LimitOpen: true, house.ContactorCoilOpen: true} {
		if out, err := x.rulesOut(f); err != nil || out != want {
			t.Errorf("%s: ruled out %v, %v", f, out, err)
		}
	}
	best, err := c.Best(g)
	if err != nil {
		t.Fatal(err)
	}
	taken, err := c.Taken(g)
	if err != nil {
		t.Fatal(err)
	}
	if s := Mark(g.Name(house.OpenY), taken, best, 0); s.Total < Pass {
		t.Errorf("a proof at both ends of the conductor scores %d: %v", s.Total, s.Sum())
	}
}

// Whatever a house of the drill's own shows, its fault is not ruled out by it.
func TestTheTrueFaultIsNeverRuledOut(t *testing.T) {
	e := catalog().Equipment(house.CoolGas)
	for i, f := range e.Faults() {
		d := e.Nominal()
		for _, c := range turns {
			o := options[c][i%len(options[c])]
			var err error
			if e.Draws(c) {
				d, err = d.With(c, o)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
		g, err := New(d, f, house.DefaultSetup().With(house.CoolCall))
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range []string{
			`{"measure":{"quantity":"volts","red":"R","black":"C","at":"thermostat"}}`, `{"measure":{"quantity":"volts","red":"Y","black":"C","at":"thermostat"}}`,
			`{"measure":{"quantity":"volts","red":"W","black":"C","at":"thermostat"},"setup":{"mode":"heat"}}`,
			`{"measure":{"quantity":"ohms","red":"Y","black":"C","at":"thermostat"},"setup":{"power-indoor":"locked-out","power-outdoor":"locked-out","thermostat":"removed","mode":"off","calling":"no"}}`,
		} {
			g.Answer([]byte(line))
		}
		x := &together{path: (&Coach{}).priced(g), game: g}
		if out, err := x.rulesOut(f); err != nil || out {
			t.Errorf("%s: ruled out %v, %v", f, out, err)
		}
	}
}

// The score's sum, by hand: 100 - 2×3 - 5×2 - 15 = 69; a guess that the probes
// made 60 % sure of takes 40 more.
func TestScore(t *testing.T) {
	v := Verdict{Right: true, Slips: []Slip{{}}}
	s := Mark(v, Path{Minutes: 13.9, Left: 1}, Path{Minutes: 10.5, Left: 1}, 2)
	if s.Total != 69 {
		t.Errorf("%d of %+v", s.Total, s.Sum())
	}
	if guess := Mark(v, Path{Minutes: 13.9, Left: 2, Sure: 0.6}, Path{Minutes: 10.5, Left: 1, Sure: 1}, 2); guess.Total != 29 {
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
	if s := Mark(Verdict{Right: true}, Path{Minutes: 5, Left: 1}, Path{Minutes: 9, Left: 1}, 0); s.Total != 100 {
		t.Errorf("faster than the best path scores %d", s.Total)
	}
	if s := Mark(Verdict{Right: true}, Path{Left: 30, Sure: 0.02}, Path{Minutes: 9, Left: 1, Sure: 0.99}, 0); s.Total != 2 {
		t.Errorf("a guess scores %d", s.Total)
	}
	if s := Mark(Verdict{Right: true}, Path{Left: 3}, Path{Left: 3}, 0); s.Total != 100 {
		t.Errorf("what no probe can settle scores %d", s.Total)
	}
}

// Each lesson's faults can be in its equipment, ids are used once, and passing
// one leads to the next.
func TestLessons(t *testing.T) {
	c := catalog()
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

// A program is told what its verdict scores: what a person is told, nothing for
// the wrong fault, and no score at all where there is no coach.
func TestVerdictLineScores(t *testing.T) {
	c := coach(t, house.CoolGas)
	for _, x := range []struct {
		name  string
		coach *Coach
		least int // −1 where no score is given
		most  int
	}{{"open-y", c, Pass, 100}, {"open-c", c, 0, 0}, {"open-y", nil, -1, -1}} {
		out, done := openY(t).With(x.coach).Answer([]byte(`{"name":"` + x.name + `"}`))
		line, ok := out.(verdictLine)
		if !ok || !done {
			t.Fatalf("%s: %#v", x.name, out)
		}
		got := -1
		if line.Score != nil {
			got = *line.Score
		}
		if got < x.least || got > x.most {
			t.Errorf("%s scores %d, wanted %d to %d", x.name, got, x.least, x.most)
		}
	}
}
