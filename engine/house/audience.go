package house

import "stepdown/engine/quantity"

// Audience is who sits at the keyboard, and so how far a call may go.
type Audience uint8

// A technician has a multimeter, training and a lockout kit; a homeowner has
// eyes and maybe a meter; a dispatcher has a phone.
const (
	Tech Audience = iota
	Homeowner
	Dispatcher
)

var audiences = newList[Audience]("audience", "tech", "homeowner", "dispatcher")

func (a Audience) String() string { return audiences.id(a) }

// ParseAudience reads an audience id.
func ParseAudience(word string) (Audience, error) { return audiences.parse(word) }

// Audiences lists the three.
func Audiences() []Audience { return audiences.all() }

func (a Audience) bit() reach { return 1 << a }

// Cut is why a probe cannot be made in this house by this audience.
type Cut uint8

// NoCut allows the probe.
const (
	NoCut Cut = iota
	CutAudience
	CutSetup
	CutTerminal
	CutLook
	CutBase
	CutNoMeter
	CutLowImpedance
)

var cutTexts = [...]string{"", "this probe is not for this audience", "this setup is not for this audience",
	"this house has no such terminal", "this equipment has no such thing to look at",
	"the face covers the screws", "there is no meter", "the meter has no low-impedance mode"}

func (c Cut) String() string { return cutTexts[c] }

// Reach tells whether audience a may make probe p in setup s of a house with
// facts f, and if not, why.
func Reach(a Audience, f Facts, p Probe, s Setup) Cut {
	if c := a.reachProbe(p); c != NoCut {
		return c
	}
	if !a.reachSetup(s) {
		return CutSetup
	}
	if p.IsLook() {
		if f.Equipment != NoEquipment && !f.Equipment.HasLook(p.Look) {
			return CutLook
		}
		return NoCut
	}
	if c := f.meterReach(p); c != NoCut {
		return c
	}
	if !f.hasEnds(p) {
		return CutTerminal
	}
	if p.At == AtThermostat && s.Thermostat == Mounted && f.Base != BaseExposed && f.Base != BaseUnasked {
		return CutBase
	}
	return NoCut
}

func (a Audience) reachProbe(p Probe) Cut {
	switch {
	case a == Tech:
		return NoCut
	case p.IsLook():
		if lookRows[p.Look].who&a.bit() == 0 {
			return CutAudience
		}
	case a == Dispatcher, p.At != AtThermostat,
		p.Quantity != quantity.ACVolts && p.Quantity != quantity.LowZVolts, p.LineClass():
		return CutAudience
	}
	return NoCut
}

// reachSetup: nobody but a technician jumpers, lifts, opens a cover, pulls a
// disconnect or swaps a fuse; a dispatcher's caller leaves the face on.
func (a Audience) reachSetup(s Setup) bool {
	if a == Tech {
		return true
	}
	if s.Jumper != 0 || !s.Lifted.Empty() || s.CoverIndoor || s.CoverOutdoor ||
		s.PowerOutdoor != On || s.PowerIndoor == LockedOut || s.Fuse != FuseAsFound {
		return false
	}
	return a == Homeowner || s.Thermostat == Mounted && s.PowerIndoor == On
}

func (f Facts) meterReach(p Probe) Cut {
	switch {
	case f.Meter == MeterNone:
		return CutNoMeter
	case p.Quantity == quantity.LowZVolts && f.Meter == MeterHighImpedance:
		return CutLowImpedance
	}
	return NoCut
}

func (f Facts) hasEnds(p Probe) bool {
	ends := []Terminal{p.Red, p.Black}
	if p.Quantity == quantity.Current {
		ends = []Terminal{p.Conductor.Terminal}
	}
	for _, t := range ends {
		if f.Equipment != NoEquipment && !f.Equipment.Has(t, p.At) {
			return false
		}
		if p.At == AtThermostat && !f.HasLetter(t) {
			return false
		}
	}
	return p.Quantity == quantity.Current || f.Equipment.SameWinding(p.Red, p.Black)
}

// MarshalText writes the id.
func (a Audience) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText reads an id.
func (a *Audience) UnmarshalText(text []byte) (err error) {
	*a, err = ParseAudience(string(text))
	return err
}

// MayNotKnow reports whether a may take a call without knowing the kind of
// system. Whoever opens covers sees that everything sits in one cabinet: its
// one disconnect takes the control power away too.
func (a Audience) MayNotKnow(e Equipment) bool { return a != Tech || !e.Packaged() }
