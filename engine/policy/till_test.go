package policy

import (
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// minutes have a digit each, so that a sum tells what went into it.
var minutes = Minutes{Look: 1, Reading: 2, Call: 10, Face: 100, CoverIndoor: 1e3, CoverOutdoor: 1e4, Jumper: 1e5, Lift: 1e6,
	Lockout: 1e7, Fuse: 1e8, Wait: 1e9}

// A visit and a setup's own work are paid once; worked out by hand.
func TestTillPaysOnce(t *testing.T) {
	cool := house.DefaultSetup().With(house.CoolCall)
	open := cool
	open.CoverIndoor = true
	jumper := house.DefaultSetup()
	jumper.Thermostat, jumper.Jumper = house.Removed, house.LettersOf(house.Y2)
	volts := house.Volts(house.R, house.C, house.AtIndoor)
	till := NewTill(minutes, house.DefaultSetup(), false)
	for i, c := range []struct {
		setup  house.Setup
		probe  house.Probe
		rested bool
		want   float64
	}{
		{house.DefaultSetup(), house.LookAt(house.Display), false, 1}, // the house as it stands
		{cool, house.LookAt(house.Air), false, 1 + 10},
		{cool, house.LookAt(house.Display), false, 1},
		{open, volts, false, 2 + 1e3}, // the same call, its cover off
		{open, volts, true, 2 + 1e9},
		{open, house.Measure(quantity.Resistance, house.R, house.C, house.AtIndoor), true, 2 + 1e7},
		{jumper, house.LookAt(house.Air), false, 1 + 100 + 10 + 1e5}, // the five minutes are counted already
	} {
		if got := till.Now(c.setup, c.probe, c.rested); got != c.want {
			t.Errorf("%d: %v minutes, want %v", i, got, c.want)
		}
		till.Pay(c.setup, c.probe, c.rested)
		if again := till.Now(c.setup, c.probe, c.rested); again >= 10 {
			t.Errorf("%d: paid, and %v minutes still", i, again)
		}
	}
}

// What is open, locked out, called and counted where the till begins is paid.
func TestTillStandsInTheHouse(t *testing.T) {
	s := house.DefaultSetup().With(house.CoolCall)
	s.Thermostat, s.CoverIndoor, s.CoverOutdoor = house.Removed, true, true
	s.PowerIndoor, s.PowerOutdoor = house.LockedOut, house.LockedOut
	ohms := house.Measure(quantity.Resistance, house.R, house.C, house.AtIndoor)
	if got := NewTill(minutes, s, true).Now(s, ohms, true); got != 2 {
		t.Errorf("%v minutes, want the reading's own 2", got)
	}
}

// Past the last bit a setup's work is asked for each time.
func TestTillRunsOutOfBits(t *testing.T) {
	till := NewTill(minutes, house.DefaultSetup(), false)
	s := house.DefaultSetup()
	for n := range 200 {
		s.Jumper = house.Letters(n + 1)
		till.Pay(s, house.LookAt(house.Air), true)
	}
	if len(till.Visits) != visitsMost {
		t.Errorf("%d visits", len(till.Visits))
	}
	if got, want := till.Now(s, house.LookAt(house.Air), true), 1+10+1e5; got != want {
		t.Errorf("%v minutes, want %v", got, want)
	}
}
