package prove

import (
	"math"
	"os"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
	"stepdown/engine/suspects"
)

// prices are those of the embedded weights.
func prices(t testing.TB) (policy.Minutes, map[house.Fault]float64) {
	t.Helper()
	w, problems := suspects.LoadWeights(os.DirFS("../../trees"), "weights.yaml")
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return policy.Minutes(w.Minutes), w.Fault
}

// TestCost holds what must hold between policies whatever the trees: nothing is
// cheaper than the optimum, and no policy asks less than the entropy bound.
func TestCost(t *testing.T) {
	o := Options{Complaints: []house.Complaint{house.NoCooling, house.DarkDisplay}, Equipment: house.CoolGas, Houses: 1, Workers: 2}
	o.Prices, o.Weights = prices(t)
	r := proven(t, o)
	if len(r.Cost) == 0 {
		t.Fatal("no cost")
	}
	t.Log(r.costText())
	for _, row := range r.Cost {
		const slack = 1e-9 // rounding
		if row.Exact && row.Best.Minutes > row.Split.Minutes+slack {
			t.Errorf("%s: the optimum takes %v minutes, the half-split rule %v", row.Complaint, row.Best.Minutes, row.Split.Minutes)
		}
		if row.AnyBest.Minutes <= 0 || row.AnyExact && row.AnyBest.Minutes > row.AnyChart.Minutes+slack {
			t.Errorf("%s: in any house the optimum takes %v minutes, the chart %v", row.Complaint, row.AnyBest.Minutes, row.AnyChart.Minutes)
		}
		for name, s := range map[string]Spent{"best": row.Best, "half-split": row.Split} {
			if s.Readings < row.Bound-slack {
				t.Errorf("%s: %s asks %v readings, the bound is %v", row.Complaint, name, s.Readings, row.Bound)
			}
		}
		if row.Tree.Readings <= 0 || math.IsNaN(row.Tree.Minutes) || row.Chart.Readings <= 0 {
			t.Errorf("%+v", row)
		}
	}
}

// TestBill holds the price of a call worked out by hand.
func TestBill(t *testing.T) {
	minutes := policy.Minutes{Look: 1, Reading: 2, Call: 10, CoverIndoor: 100, Face: 1000}
	cool := house.DefaultSetup().With(house.CoolCall)
	board := cool
	board.CoverIndoor = true
	got := bill(minutes, []goal{
		{cool, house.LookAt(house.Air)},                           // 1, call 10
		{cool, house.LookAt(house.Display)},                       // 1
		{board, house.Volts(house.R, house.C, house.AtIndoor)},    // 2, cover 100
		{board, house.Volts(house.Y, house.C, house.AtIndoor)},    // 2
		{house.DefaultSetup(), house.LookAt(house.PanelIndoor)},   // 1
		{cool, house.Volts(house.R, house.C, house.AtThermostat)}, // 2
	})
	if want := 1 + 10 + 1 + 2 + 100 + 2 + 1 + 2.0; got != want {
		t.Errorf("%v minutes, want %v", got, want)
	}
}

// TestConfused holds by hand what one house tells apart and another does not.
// Four faults read 1, 2, 9 and 20 here, and a fifth cannot be read. In other
// houses the first reads up to 2.5 and the second from 1.5: they are one. The
// third reads 8 to 10 and stays apart; the fourth reads 20 or, elsewhere, 24,
// where nobody else is.
func TestConfused(t *testing.T) {
	faults := []house.Fault{house.OpenR, house.OpenC, house.OpenY, house.OpenG, house.OpenW}
	rows := append([]house.Fault{house.None}, faults...)
	column := forecast.NewColumn(forecast.Goal{}, [][]forecast.Piece{
		{{Lo: 0, Hi: 30, Share: 1}}, // not among the faults: it joins nothing
		{{Lo: 0.5, Hi: 2.5, Share: 1}}, {{Lo: 1.5, Hi: 3, Share: 1}}, {{Lo: 8, Hi: 10, Share: 1}},
		{{Lo: 19, Hi: 21, Share: .5}, {Lo: 23, Hi: 25, Share: .5}}, nil,
	})
	all := stretches(rows, column, faults)
	if want := []stretch{{0.5, 3}, {8, 10}, {19, 21}, {23, 25}}; !slices.Equal(all, want) {
		t.Errorf("stretches %v, want %v", all, want)
	}
	shows := []float64{1, 2, 9, 20, math.NaN()}
	answers, distinct := confused([]float64{1, 2, 3, 4, 0}, shows, all)
	if want := []float64{1, 1, 3, 4, 0}; !slices.Equal(answers, want) || distinct != 4 {
		t.Errorf("answers %v, %d of them, want %v and 4", answers, distinct, want)
	}
	// A look a minute tells the first from the others, a reading of two all that
	// are apart. Here the reading is enough; in any house the look is needed too,
	// where the first two are left: two times in five.
	prior, class := []float64{1, 1, 1, 1, 1}, []int{0, 1, 2, 3, 4}
	here := &policy.Table{Prior: prior, Class: class, Tests: []policy.Test{policy.Answers(2, 1, 2, 3, 4, 0), policy.Answers(1, 1, 0, 0, 0, 0)}}
	anywhere := &policy.Table{Prior: prior, Class: class, Tests: []policy.Test{policy.Answers(2, answers...), here.Tests[1]}}
	for what, x := range map[string]struct {
		table *policy.Table
		want  float64
	}{"here": {here, 2}, "in any house": {anywhere, 2 + 2.0/5}} {
		if got, _, ok := x.table.Optimum(); !ok || math.Abs(got-x.want) > 1e-12 { // rounding
			t.Errorf("%s the optimum is %v minutes, want %v", what, got, x.want)
		}
	}
}

// TestAnyHouseIsNoCheaper draws readings and ranges around them, and a last test
// that tells all apart in any house, so that both come as far: who knows less of
// the house takes no fewer minutes, and no rule beats the optimum on what it is
// told.
func TestAnyHouseIsNoCheaper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "faults")
		here, anywhere := &policy.Table{Visits: []float64{3, 5}}, &policy.Table{Visits: []float64{3, 5}}
		var certain []float64
		for s := range n {
			here.Prior, here.Class = append(here.Prior, rapid.Float64Range(.01, 1).Draw(t, "prior")), append(here.Class, s)
			certain = append(certain, float64(s))
		}
		anywhere.Prior, anywhere.Class = here.Prior, here.Class
		for range rapid.IntRange(1, 4).Draw(t, "tests") {
			shows, rows := make([]float64, n), make([][]forecast.Piece, n)
			for s := range shows {
				shows[s] = float64(rapid.IntRange(0, 20).Draw(t, "reads"))
				rows[s] = []forecast.Piece{{Lo: shows[s] - float64(rapid.IntRange(0, 4).Draw(t, "under")), Hi: shows[s] + float64(rapid.IntRange(0, 4).Draw(t, "over")), Share: 1}}
			}
			faults := house.Faults()[:n]
			answers, _ := cluster(house.LookAt(house.Air), shows) // as they are
			merged, _ := confused(answers, shows, stretches(faults, forecast.NewColumn(forecast.Goal{}, rows), faults))
			minutes, needs := float64(rapid.IntRange(1, 5).Draw(t, "minutes")), uint64(rapid.IntRange(0, 3).Draw(t, "needs"))
			for table, a := range map[*policy.Table][]float64{here: answers, anywhere: merged} {
				test := policy.Answers(minutes, a...)
				test.Needs = needs
				table.Tests = append(table.Tests, test)
			}
			for a := range n {
				for b := range a {
					if rows[a][0].Lo <= rows[b][0].Hi && rows[b][0].Lo <= rows[a][0].Hi && merged[a] != merged[b] {
						t.Fatalf("%v and %v may read alike, yet are told apart", rows[a], rows[b])
					}
				}
			}
		}
		here.Tests, anywhere.Tests = append(here.Tests, policy.Answers(9, certain...)), append(anywhere.Tests, policy.Answers(9, certain...))
		least, _, ok := here.Optimum()
		most, _, too := anywhere.Optimum()
		const slack = 1e-9 // sums of a few dozen terms of order ten
		if ok && too && most < least-slack {
			t.Fatalf("%g minutes in any house, %g in this one", most, least)
		}
		for name, rule := range map[string]policy.Rule{"greedy": policy.Greedy, "rollout": policy.Rollout(0), "half-split": policy.HalfSplit} {
			if got := anywhere.Expect(rule).Minutes; too && got < most-slack {
				t.Fatalf("%s takes %g minutes, the optimum %g", name, got, most)
			}
		}
	})
}
