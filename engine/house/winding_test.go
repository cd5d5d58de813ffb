package house

import (
	"testing"

	"stepdown/engine/quantity"
)

// What a tree asks, and the screws it comes to where two transformers serve a
// house: the air handler's feeds Rc, C, Y and G, the furnace's Rh and W, which
// returns to its own common.
var twoTransformers = []struct {
	red, black Terminal
	at         Place
	real       [2]Terminal
	asked      bool
}{
	{R, C, AtThermostat, [2]Terminal{Rc, C}, true},
	{R, Y, AtThermostat, [2]Terminal{Rc, Y}, true},
	{G, R, AtThermostat, [2]Terminal{G, Rc}, true},
	{R, W, AtThermostat, [2]Terminal{Rh, W}, true},
	{W, R, AtThermostat, [2]Terminal{W, Rh}, true},
	{W, C, AtThermostat, [2]Terminal{W, C}, false}, // the furnace's common does not run there
	{Rh, C, AtThermostat, [2]Terminal{Rh, C}, false},
	{Rh, Y, AtThermostat, [2]Terminal{Rh, Y}, false},
	{Rc, Rh, AtThermostat, [2]Terminal{Rc, Rh}, false},
	{R, C, AtIndoor, [2]Terminal{Rc, C}, true},
	{R, W, AtIndoor, [2]Terminal{Rh, W}, true},
	{W, C, AtIndoor, [2]Terminal{W, HeatSec2}, true},
	{C, W, AtIndoor, [2]Terminal{HeatSec2, W}, true},
	{Rh, C, AtIndoor, [2]Terminal{Rh, HeatSec2}, true},
	{R, Limit1, AtIndoor, [2]Terminal{Rh, Limit1}, true},
	{R, Float1, AtIndoor, [2]Terminal{Rc, Float1}, true},
	{Y, W, AtIndoor, [2]Terminal{Y, W}, false},
	{Limit1, Limit2, AtIndoor, [2]Terminal{Limit1, Limit2}, true},
	{Y, C, AtOutdoor, [2]Terminal{Y, C}, true},
	{R, C, AtOutdoor, [2]Terminal{Rc, C}, false}, // no R runs out
}

func TestOneLetterForTwoTransformers(t *testing.T) {
	for _, c := range twoTransformers {
		asked := Volts(c.red, c.black, c.at)
		real := asked.On(SplitPower)
		if got := [2]Terminal{real.Red, real.Black}; got != c.real {
			t.Errorf("%s is read as %s to %s, want %s to %s", asked, real.Red, real.Black, c.real[0], c.real[1])
		}
		f := Facts{Equipment: SplitPower, EquipmentAsked: true}
		if cut := Reach(Tech, f, real, DefaultSetup()); (cut == NoCut) != c.asked {
			t.Errorf("%s: cut %d", real, cut)
		}
		if one := asked.On(CoolGas); one != asked {
			t.Errorf("with one transformer %s became %s", asked, one)
		}
		if again := real.On(SplitPower); again != real {
			t.Errorf("%s is read as %s when asked by its own screws", real, again)
		}
	}
}

func TestPlaceOfAProbeOnAPackagedUnit(t *testing.T) {
	if p := Volts(R, C, AtIndoor).On(PackagedGas); p != Volts(R, C, AtOutdoor) {
		t.Errorf("read at %s", p)
	}
	if p := LookAt(FuseLook).On(PackagedGas); p.At != AtOutdoor {
		t.Errorf("looked at %s", p.At)
	}
}

func TestConductorOfTheCoolingTransformer(t *testing.T) {
	r, rc := Conductor{R, AtIndoor, AtThermostat}, Conductor{Rc, AtIndoor, AtThermostat}
	s := DefaultSetup()
	s.Lifted = ConductorsOf(r, Conductor{Terminal: Coil1, At: AtOutdoor})
	if got := s.On(SplitPower).Lifted; got != ConductorsOf(rc, Conductor{Terminal: Coil1, At: AtOutdoor}) {
		t.Errorf("lifted %v", got)
	}
	if s.On(CoolGas) != s {
		t.Error("lifted otherwise with one transformer")
	}
	if p := Clamp(r).On(SplitPower); p != Clamp(rc) {
		t.Errorf("clamped on %s", p.Conductor)
	}
}

// An open conductor beside one of the other transformer, which is out of phase,
// picks up from it: only what a winding holds may be called too high there.
func TestTooHighNeedsOneSupply(t *testing.T) {
	split := Facts{Equipment: SplitPower}
	seemsTwo := Facts{Letters: LettersOf(Rc, Rh, C, Y, G, W)}
	seemsOne := Facts{Letters: LettersOf(R, C, Y, G, W)}
	lowz := func(red, black Terminal) Probe { return Measure(quantity.LowZVolts, red, black, AtThermostat) }
	for _, c := range []struct {
		f    Facts
		p    Probe
		want bool
	}{
		{split, Volts(Rc, C, AtThermostat), true},
		{split, Volts(Rh, HeatSec2, AtIndoor), true},
		{split, Volts(Fuse2, Sec2, AtIndoor), true},
		{split, Volts(Fuse1, Fuse2, AtIndoor), false},
		{split, Volts(Rh, W, AtThermostat), false},
		{split, Volts(Y, C, AtThermostat), false},
		{split, lowz(Y, C), true},
		{split, lowz(W, C), false},
		{seemsTwo, Volts(R, C, AtThermostat), true},
		{seemsTwo, Volts(W, C, AtThermostat), false},
		{seemsTwo, lowz(W, C), false},
		{seemsOne, Volts(W, C, AtThermostat), true},
		{Facts{}, Volts(Y, C, AtThermostat), false}, // it may be either
		{Facts{}, Volts(R, C, AtThermostat), true},
		{Facts{Equipment: CoolGas}, Volts(W, C, AtThermostat), true},
		{Facts{Equipment: CoolGas}, Volts(Rc, Rh, AtThermostat), false},
	} {
		if got := c.f.OneSupply(c.p); got != c.want {
			t.Errorf("%s of %v, letters %v: %t", c.p, c.f.Equipment, c.f.Letters, got)
		}
	}
}

// Down the cable the current of one transformer lifts the common of both.
func TestRightAtTheSupply(t *testing.T) {
	split, one := Facts{Equipment: SplitPower}, Facts{Equipment: CoolGas}
	for _, c := range []struct {
		f    Facts
		p    Probe
		want bool
	}{
		{split, Volts(Rc, C, AtIndoor), true},
		{split, Volts(Rc, C, AtThermostat), false},
		{split, Volts(Y, C, AtIndoor), false},
		{one, Volts(R, C, AtThermostat), true},
	} {
		if got := c.f.AtSupply(c.p); got != c.want {
			t.Errorf("%s of %v: %t", c.p, c.f.Equipment, got)
		}
	}
}

func TestConductorInWords(t *testing.T) {
	for _, c := range []struct {
		e    Equipment
		id   string
		want string
	}{
		{CoolGas, "Y@indoor>thermostat", "Y, furnace to thermostat"},
		{CoolElectric, "Y@indoor>outdoor", "Y, indoor unit to outdoor unit"},
		{CoolGas, "G@thermostat", "G at the thermostat"},
		{CoolGas, "coil-1@outdoor", "coil-1 at the outdoor unit"},
		{PackagedGas, "Y@outdoor>thermostat", "Y, packaged unit to thermostat"},
		{SplitPower, "R@indoor>thermostat", "Rc, indoor unit to thermostat"},
	} {
		k, err := ParseConductor(c.id)
		if err != nil {
			t.Fatal(err)
		}
		if got := k.Words(c.e); got != c.want {
			t.Errorf("%s on %s: %s, want %s", c.id, c.e, got, c.want)
		}
	}
}
