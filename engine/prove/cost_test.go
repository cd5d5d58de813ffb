package prove

import (
	"math"
	"os"
	"testing"

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
