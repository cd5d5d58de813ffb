package circuit

import (
	"math"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// A tree's one R and C read on a house with two transformers what the screws
// they stand for read, and lifting R lifts the cooling transformer's.
func TestOneLetterReadsItsOwnTransformer(t *testing.T) {
	h := nominal(t, house.SplitPower)
	s := house.DefaultSetup()
	s.Mode, s.Calling, s.CoverIndoor = house.ModeHeat, true, true
	for _, c := range []struct{ asked, real house.Probe }{
		{house.Volts(house.R, house.C, house.AtThermostat), house.Volts(house.Rc, house.C, house.AtThermostat)},
		{house.Volts(house.R, house.W, house.AtThermostat), house.Volts(house.Rh, house.W, house.AtThermostat)},
		{house.Volts(house.R, house.Y, house.AtIndoor), house.Volts(house.Rc, house.Y, house.AtIndoor)},
		{house.Volts(house.W, house.C, house.AtIndoor), house.Volts(house.W, house.HeatSec2, house.AtIndoor)},
		{house.Volts(house.Rh, house.C, house.AtIndoor), house.Volts(house.Rh, house.HeatSec2, house.AtIndoor)},
	} {
		got, err := h.Exact(s, c.asked)
		want, other := h.Exact(s, c.real)
		if err != nil || other != nil || got != want {
			t.Errorf("%s reads %v (%v), %s reads %v (%v)", c.asked, got, err, c.real, want, other)
		}
	}
	if r, err := h.Exact(s, house.Volts(house.W, house.C, house.AtIndoor)); err != nil || r.Value < 20 {
		t.Errorf("W on a heat call reads %v (%v)", r, err)
	}
	if _, err := h.Exact(s, house.Volts(house.W, house.HeatSec2, house.AtThermostat)); err == nil {
		t.Error("the furnace's common is read at the wall")
	}
	s = lockedOut(house.DefaultSetup())
	s.Fuse, s.Thermostat = house.FuseOut, house.Removed
	short := make(map[string]quantity.Reading)
	const tolerance = 1e-9 // ohm: one circuit, solved with more or fewer changes
	for _, name := range []string{"", "R", "Rc", "Rh"} {
		s.Lifted = house.Conductors{}
		if name != "" {
			c, err := house.ParseConductor(name + "@indoor>thermostat")
			if err != nil {
				t.Fatal(err)
			}
			s.Lifted = house.ConductorsOf(c)
		}
		shorted, err := NewHouse(h.bench.draw, house.ShortRC)
		if err != nil {
			t.Fatal(err)
		}
		if short[name], err = shorted.Exact(s, ohms(house.R, house.C, house.AtIndoor)); err != nil {
			t.Fatal(err)
		}
	}
	lifts := math.Abs(short[""].Value-short["Rh"].Value) < tolerance && !short[""].OL
	if !lifts || short["R"] != short["Rc"] || !short["R"].OL {
		t.Errorf("ohms R to C with a short in the cable, by what is lifted: %v", short)
	}
}
