package house

import (
	"fmt"

	"stepdown/engine/quantity"
)

// Probe is one look or one reading. A look has Look set. A reading has a
// quantity, a place and two terminals; a clamp reading (amps) names its
// conductor in place of terminals. It is comparable.
type Probe struct {
	Look       Look
	Quantity   quantity.Quantity
	At         Place
	Red, Black Terminal
	Conductor  Conductor
}

// LookAt is the probe that makes look l.
func LookAt(l Look) Probe { return Probe{Look: l, At: l.At()} }

// Volts is an AC reading at high impedance, red on red, black on black.
func Volts(red, black Terminal, at Place) Probe {
	return Measure(quantity.ACVolts, red, black, at)
}

// Measure is a reading of quantity q between two terminals.
func Measure(q quantity.Quantity, red, black Terminal, at Place) Probe {
	return Probe{Quantity: q, At: at, Red: red, Black: black}
}

// Clamp is a current reading around one conductor.
func Clamp(c Conductor) Probe {
	return Probe{Quantity: quantity.Current, At: c.At, Conductor: c}
}

// IsLook reports whether p is a look.
func (p Probe) IsLook() bool { return p.Look != NoLook }

// LineClass reports whether either lead goes on a line-voltage terminal.
func (p Probe) LineClass() bool {
	return !p.IsLook() && (p.Red.Class() == Line || p.Black.Class() == Line)
}

// Cover is the place whose cover must be open for p, NoPlace where none.
func (p Probe) Cover() Place {
	if p.At == AtIndoor || p.At == AtOutdoor {
		return p.At
	}
	return NoPlace
}

func (p Probe) String() string {
	switch {
	case p.IsLook():
		return "look " + p.Look.String()
	case p.Quantity == quantity.Current:
		return fmt.Sprintf("amps %s", p.Conductor)
	}
	return fmt.Sprintf("%s %s-%s at %s", p.Quantity, p.Red, p.Black, p.At)
}

// Comparable is s with everything taken out that p cannot tell apart: covers
// always, the call where the thermostat is off its base, the outdoor feed for
// anything on the 24 V side, which is fed from indoors, and every feed for ohms,
// which are read with all there are locked out.
func (p Probe) Comparable(s Setup) Setup {
	s.CoverIndoor, s.CoverOutdoor = false, false
	if s.Jumper == 0 {
		s.JumperAt = AtThermostat
	}
	if s.Thermostat == Removed {
		s.Mode, s.Calling, s.FanOn = ModeOff, false, false
	}
	if p.Quantity == quantity.Resistance { // every feed there is was locked out
		s.PowerIndoor, s.PowerOutdoor = LockedOut, LockedOut
	}
	if p.feltIndoors() && s.PowerOutdoor != On && p.Quantity != quantity.Resistance {
		s.PowerOutdoor = On
	}
	return s
}

// feltIndoors reports whether the outdoor feed makes no difference to p.
func (p Probe) feltIndoors() bool {
	switch {
	case p.Look == OutdoorUnit, p.Look == Air, p.Look == BreakerOutdoor, p.LineClass() && p.At == AtOutdoor:
		return false
	}
	return true
}
