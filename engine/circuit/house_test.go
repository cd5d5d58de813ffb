package circuit

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

func nominal(t testing.TB, id house.Equipment, faults ...house.Fault) *House {
	h, err := NewHouse(loadAll(t).Equipment(id).Nominal(), faults...)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// TestWhatCannotBeReadIsRefused: an end the house lacks, a closed cover, ohms
// with power on and a mode the thermostat lacks are errors, never a zero.
func TestWhatCannotBeReadIsRefused(t *testing.T) {
	open := house.DefaultSetup()
	open.CoverIndoor, open.CoverOutdoor = true, true
	locked := lockedOut(open)
	noHeat := calling(house.ModeEmergency)
	fan := fanOn()
	for _, c := range []struct {
		name string
		id   house.Equipment
		s    house.Setup
		p    house.Probe
		code string
	}{
		{"a letter it lacks", house.CoolGas, open, house.Volts(house.O, house.C, house.AtThermostat), RefusedTerminal},
		{"a part it lacks", house.CoolGas, open, house.Volts(house.Valve1, house.Valve2, house.AtOutdoor), RefusedTerminal},
		{"Rc on a single base", house.CoolGas, open, house.Volts(house.Rc, house.C, house.AtThermostat), RefusedTerminal},
		{"the furnace's common at the base", house.SplitPower, open, house.Volts(house.Rh, house.HeatSec2, house.AtThermostat), RefusedTerminal},
		{"closed cover", house.CoolGas, off, house.Volts(house.R, house.C, house.AtIndoor), RefusedCover},
		{"ohms with power on", house.CoolGas, open, ohms(house.R, house.C, house.AtIndoor), RefusedPower},
		{"no emergency heat", house.CoolGas, noHeat, house.Volts(house.R, house.C, house.AtThermostat), RefusedMode},
		{"no cooling", house.HeatOnly, cool, house.Volts(house.R, house.C, house.AtThermostat), RefusedMode},
		{"no fan switch", house.HeatOnly, fan, house.Volts(house.R, house.C, house.AtThermostat), RefusedMode},
		{"no such conductor", house.CoolGas, open, house.Clamp(house.Conductor{Terminal: house.O, At: house.AtThermostat}), RefusedTerminal},
		{"a look is no reading", house.CoolGas, open, house.LookAt(house.Display), RefusedProbe},
		{"ground at the base", house.CoolGas, open, house.Volts(house.R, house.GND, house.AtThermostat), RefusedTerminal},
	} {
		_, err := nominal(t, c.id).Read(c.s, c.p)
		var refused *Refusal
		if !errors.As(err, &refused) || refused.Code != c.code {
			t.Errorf("%s: got %v, want %s", c.name, err, c.code)
		}
	}
	if _, err := nominal(t, house.CoolGas).Read(locked, ohms(house.R, house.C, house.AtIndoor)); err != nil {
		t.Error("ohms with every feed locked out:", err)
	}
	if _, err := nominal(t, house.CoolElectric).Look(off, house.BoardLight); err == nil {
		t.Error("an air handler with relays has no board light")
	}
	out := off
	out.Fuse = house.FuseOut
	if _, err := nominal(t, house.CoolGas).Look(out, house.FuseLook); err == nil {
		t.Error("a fuse that is out cannot be looked at")
	}
	b, _ := NewBench(loadAll(t).Equipment(house.CoolGas).Nominal())
	if _, err := b.House(house.ValveStuck); err == nil {
		t.Error("an air conditioner has no valve to stick")
	}
}

// TestPackagedPlacesAreOne: indoor means the one cabinet of a packaged unit.
func TestPackagedPlacesAreOne(t *testing.T) {
	h := nominal(t, house.PackagedPump)
	s := cool
	s.CoverIndoor = true
	for _, q := range []house.Probe{house.Volts(house.Y, house.C, house.AtIndoor), house.Volts(house.Y, house.C, house.AtOutdoor)} {
		if r, err := h.Read(s, q); err != nil || r.Value < 25 {
			t.Errorf("%s: %v, %v", q, r, err)
		}
	}
	for _, at := range []house.Place{house.AtIndoor, house.AtOutdoor} {
		lifted := s
		lifted.Lifted = house.ConductorsOf(house.Conductor{Terminal: house.Y, At: at, To: house.AtThermostat})
		a, err := h.Look(lifted, house.OutdoorUnit)
		if err != nil || house.OutdoorUnit.AnswerID(a) != "stopped" {
			t.Errorf("Y lifted at %s: %s, %v", at, house.OutdoorUnit.AnswerID(a), err)
		}
	}
	dead := s
	dead.PowerIndoor = house.LockedOut
	a, err := h.Look(dead, house.BreakerOutdoor)
	if err != nil || house.BreakerOutdoor.AnswerID(a) != "off" {
		t.Errorf("the one breaker: %s, %v", house.BreakerOutdoor.AnswerID(a), err)
	}
}

// TestMeter: display and exact reading differ by no more than the stated
// accuracy and the last digit; the low-impedance mode loads; slips slip.
func TestMeter(t *testing.T) {
	cat := loadAll(t)
	d := cat.Equipment(house.CoolGas).Nominal()
	s := cool
	s.CoverIndoor, s.CoverOutdoor = true, true
	p := house.Volts(house.R, house.C, house.AtIndoor)
	for _, gain := range []float64{-1, 0, 1} {
		d.MeterGain, d.MeterOffset = gain, gain
		h, err := NewHouse(d)
		if err != nil {
			t.Fatal(err)
		}
		exact, _ := h.Exact(s, p)
		shown, err := h.Read(s, p)
		if err != nil {
			t.Fatal(err)
		}
		guard := MeterAccuracy(p.Quantity).Guard(exact.Value)
		near(t, "display", shown.Value, exact.Value+gain*guard, 0.05+1e-9)
	}
	h := nominal(t, house.CoolGas)
	for slip, want := range map[Slip]float64{NoSlip: 26.6, DialOnDC: 0, DeadLead: 0} {
		r, err := h.ReadSlipped(s, p, slip)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "slipped", r.Value, want, 0.06)
	}
	dc, err := h.Read(s, house.Measure(quantity.DCVolts, house.R, house.C, house.AtIndoor))
	if err != nil || dc.Value != 0 {
		t.Errorf("DC on an AC circuit: %v, %v", dc, err)
	}
	lock := lockedOut(s)
	lock.Thermostat = house.Removed
	if r, _ := h.Read(lock, ohms(house.R, house.Y, house.AtThermostat)); r.OL || r.Value > 30 {
		t.Errorf("R to Y through coil and secondary: %v", r)
	}
	if r, _ := nominal(t, house.CoolGas, house.OpenY).Read(lock, ohms(house.R, house.Y, house.AtThermostat)); !r.OL {
		t.Errorf("an open Y: %v", r)
	}
	if r, _ := h.ReadSlipped(lock, ohms(house.R, house.Y, house.AtThermostat), DeadLead); !r.OL {
		t.Errorf("ohms with a dead lead: %v", r)
	}
}

// TestClampFollowsKirchhoff: what goes out on R comes back on C.
func TestClampFollowsKirchhoff(t *testing.T) {
	h := nominal(t, house.CoolGas)
	amps := func(c house.Conductor) float64 {
		r, err := h.Exact(cool, house.Clamp(c))
		if err != nil {
			t.Fatal(err)
		}
		return r.Value
	}
	y := amps(house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor})
	near(t, "Y out and C back", amps(house.Conductor{Terminal: house.C, At: house.AtIndoor, To: house.AtOutdoor}), y, 1e-4)
	near(t, "at the coil", amps(house.Conductor{Terminal: house.Coil1, At: house.AtOutdoor}), y, 1e-4)
	lifted := cool
	lifted.Lifted = house.ConductorsOf(house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor})
	if r, err := h.Exact(lifted, house.Clamp(house.Conductor{Terminal: house.Coil1, At: house.AtOutdoor})); err != nil || r.Value > 1e-6 {
		t.Errorf("lifted: %v, %v", r, err)
	}
}

// TestFiftyHertz: a coil draws more at 50 Hz, its reactance being less.
func TestFiftyHertz(t *testing.T) {
	d := loadAll(t).Equipment(house.CoolGas).Nominal()
	amps := func(hertz float64) float64 {
		d.Hertz = hertz
		h, err := NewHouse(d)
		if err != nil {
			t.Fatal(err)
		}
		r, err := h.Exact(cool, house.Clamp(house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor}))
		if err != nil {
			t.Fatal(err)
		}
		return r.Value
	}
	// 10 Ω with 63.2 Ω of reactance at 60 Hz: 64 Ω; at 50 Hz 53.6 Ω, plus about
	// 2.9 Ω of transformer and wire either time.
	near(t, "ratio", amps(50)/amps(60), 65.1/54.9, 0.01)
}

// TestCornersAreAnOrthogonalArray: any two values meet in all four pairs of
// their ends equally often, where no corner had to be moved; and every corner
// is a house that works.
func TestCornersAreAnOrthogonalArray(t *testing.T) {
	e := loadAll(t).Equipment(house.HeatOnly)
	rows := e.CornerCount()
	pairs := [][2]string{{"cable.celsius", "gas-valve.ohms"}, {"fuse.amperes", "line-120.volts"}, {"stat.leak-ohms", "transformer.series-ohms"}}
	for _, pair := range pairs {
		met := map[[2]bool]int{}
		for r := range rows {
			d := e.corner(r, 1)
			high := func(name string) bool {
				return d.Value(name) > e.values[e.index[name]].Nominal || e.values[e.index[name]].Nominal == e.values[e.index[name]].Low && d.Value(name) != e.values[e.index[name]].Low
			}
			met[[2]bool{high(pair[0]), high(pair[1])}]++
		}
		for _, n := range met {
			if len(met) != 4 || n != rows/4 {
				t.Errorf("%v meet unevenly: %v", pair, met)
			}
		}
	}
	for _, d := range e.Corners() {
		if !d.Healthy() {
			t.Error("a corner does not work")
		}
	}
}

// TestSamplesWork: drawn houses answer every call, and a seed draws the same
// house twice.
func TestSamplesWork(t *testing.T) {
	cat := loadAll(t)
	for _, id := range cat.IDs() {
		e := cat.Equipment(id)
		a, b := rand.New(rand.NewPCG(5, 6)), rand.New(rand.NewPCG(5, 6))
		for range 4 {
			d, again := e.Sample(a, 1), e.Sample(b, 1)
			if !d.Healthy() || !slices.Equal(d.values, again.values) || d.choices != again.choices {
				t.Errorf("%s: a sample does not work or does not repeat", id)
			}
		}
	}
	weak, err := cat.Equipment(house.CoolGas).Nominal().WithValue("line-120.volts", 70)
	if err != nil || weak.Healthy() {
		t.Error("70 V of line is no healthy house", err)
	}
}

// TestALeakThatHoldsTheHeatIsNotHealthy: 26.9 V through a leak of 5 kohm into a
// furnace input of 1.5 kohm leaves 6.2 V on it. One that drops out at 5 V burns
// on when the call has ended; one that does at 8 V lets go.
func TestALeakThatHoldsTheHeatIsNotHealthy(t *testing.T) {
	d := loadAll(t).Equipment(house.CoolGas).Nominal()
	var err error
	for choice, option := range map[Choice]string{Supply: "through-load", LeakInto: "W"} {
		if d, err = d.With(choice, option); err != nil {
			t.Fatal(err)
		}
	}
	for _, drop := range []float64{5, 8} {
		for name, x := range map[string]float64{"stat.leak-ohms": 5000, "burner-control.ohms": 1500, "burner-control.drop-out-volts": drop} {
			if d, err = d.WithValue(name, x); err != nil {
				t.Fatal(err)
			}
		}
		if want := drop > 6.2; d.Healthy() != want {
			t.Errorf("a control that drops out at %v V: healthy %v, wanted %v", drop, !want, want)
		}
	}
}

// TestEveryFaultShowsSomewhere: each fault changes some reading or look of some
// call, beyond the meter's own guard, or no call could ever tell it.
func TestEveryFaultShowsSomewhere(t *testing.T) {
	cat := loadAll(t)
	for _, id := range cat.IDs() {
		e := cat.Equipment(id)
		for _, f := range e.Faults() {
			if f != house.None && !shows(t, e, f) {
				t.Errorf("%s: %s changes nothing", id, f)
			}
		}
	}
}

func shows(t *testing.T, e *Equipment, f house.Fault) bool {
	d := e.Nominal().forced(f)
	b, err := NewBench(d)
	if err != nil {
		t.Fatal(err)
	}
	good, err1 := b.House(house.None)
	bad, err2 := b.House(f)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	setups := append(healthyCalls(e), pulled())
	for _, s := range setups {
		for _, l := range house.Looks() {
			x, err1 := good.Look(s, l)
			y, err2 := bad.Look(s, l)
			if err1 == nil && err2 == nil && x != y {
				return true
			}
		}
		for _, p := range everyTerminal(good, quantity.ACVolts, true) {
			x, err1 := good.Exact(s, p)
			y, err2 := bad.Exact(s, p)
			if err1 == nil && err2 == nil && math.Abs(x.Value-y.Value) > MeterAccuracy(p.Quantity).Guard(x.Value) {
				return true
			}
		}
	}
	return false
}

// TestNothingIsAllocated: putting a fault in, settling two setups and reading
// allocates nothing once the buffers have grown.
func TestNothingIsAllocated(t *testing.T) {
	e := loadAll(t).Equipment(house.TwoStagePump)
	b, err := NewBench(e.Nominal())
	if err != nil {
		t.Fatal(err)
	}
	h, err := b.House(house.None)
	if err != nil {
		t.Fatal(err)
	}
	faults, setups := e.Faults(), threeSetups(e)
	p := house.Volts(house.Y, house.C, house.AtIndoor)
	round := func() {
		for _, f := range faults {
			if h.Become(f) != nil || h.Play(setups[0]) != nil {
				t.Fatal(f)
			}
			for _, s := range setups {
				if _, err := h.Exact(s, p); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	round()
	// The fault list of Become is variadic and a Setup travels by value, so
	// nothing is left to allocate.
	if n := testing.AllocsPerRun(5, round); n > 0 {
		t.Errorf("%g allocations in %d faults", n, len(faults))
	}
}
