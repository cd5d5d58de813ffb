package suspects

import (
	"slices"
	"testing"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Ends a guard band apart are one end, the outermost; an interval of its own
// keeps its ends, and so does a single value.
func TestLevel(t *testing.T) {
	ohms := func(lo, hi float64) forecast.Piece {
		return forecast.Piece{Lo: forecast.At(quantity.Resistance, quantity.Of(lo)), Hi: forecast.At(quantity.Resistance, quantity.Of(hi)), Share: 1}
	}
	over := forecast.At(quantity.Resistance, quantity.Reading{OL: true})
	open := []forecast.Piece{{Lo: over, Hi: over, Share: 1}}
	goal := forecast.Goal{Setup: dark(), Probe: house.Measure(quantity.Resistance, house.R, house.C, house.AtThermostat)}
	c := forecast.NewColumn(goal, [][]forecast.Piece{{ohms(307, 3270)}, {ohms(272, 3687)}, {ohms(26.6, 245)}, open})
	e := New(nil, Weights{})
	got := e.level(c)
	for r, want := range [][]forecast.Piece{{ohms(272, 3687)}, {ohms(272, 3687)}, {ohms(26.6, 245)}, open} {
		if !slices.Equal(got.Row(r), want) {
			t.Errorf("row %d: %v, want %v", r, got.Row(r), want)
		}
	}
	if c.Holds(0, got.Row(0)[0].Lo) {
		t.Error("the forecast's own column was changed")
	}
	if e.level(c) != got {
		t.Error("worked out twice")
	}
}
