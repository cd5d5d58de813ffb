package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// SlipKind is what a person gets wrong in a call.
type SlipKind uint8

// One step that cannot be made, one wrong reading or look, then what lasts for
// the whole call: the call is never made at the thermostat, the compressor
// delay runs all along, the thermostat is in the wrong mode, the meter stands
// on DC, one lead is dead.
const (
	NoSlip SlipKind = iota
	SlipUnable
	SlipWrong
	SlipNoCall
	SlipDelay
	SlipMode
	SlipDC
	SlipDeadLead
	slipKinds
)

var slipNames = [slipKinds]string{"no slip", "unable", "one wrong reading", "call not made", "compressor delay running",
	"wrong mode", "meter on DC", "dead lead"}

func (k SlipKind) String() string { return slipNames[k] }

// Persistent lists the slips that last for the whole call.
func Persistent() []SlipKind {
	return []SlipKind{SlipNoCall, SlipDelay, SlipMode, SlipDC, SlipDeadLead}
}

// Slip is one thing a person gets wrong. Step names the tree's step, and Nth
// how often a step of that name was asked before it; Pair names the reading of
// its batch; Reading or Answer is what is said in place of the truth. Fact is set
// in place of Step where a house fact is not known.
type Slip struct {
	Kind    SlipKind
	Step    string
	Nth     int
	Pair    string
	Fact    house.Fact
	Reading quantity.Reading
	Answer  house.Answer
}

// bend is the setup the house is really in when the person believes s.
func (s Slip) bend(setup house.Setup) house.Setup {
	switch s.Kind {
	case SlipNoCall:
		setup.Calling = false
	case SlipMode:
		switch setup.Mode {
		case house.ModeCool:
			setup.Mode = house.ModeHeat
		case house.ModeHeat, house.ModeEmergency:
			setup.Mode = house.ModeCool
		}
	}
	return setup
}

// misread is what the meter shows in place of r.
func (s Slip) misread(q quantity.Quantity, r quantity.Reading) quantity.Reading {
	volts := q == quantity.ACVolts || q == quantity.LowZVolts
	switch {
	case s.Kind == SlipDC && volts, s.Kind == SlipDeadLead && volts:
		return quantity.Of(0)
	case s.Kind == SlipDeadLead && q == quantity.Resistance:
		return quantity.Reading{OL: true}
	}
	return r
}
