package forecast

import (
	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// Goal is one probe in one complete setup. It is comparable.
type Goal struct {
	Setup house.Setup
	Probe house.Probe
}

// Key is the goal with everything taken out that its probe cannot tell apart,
// so that one column serves all of them.
func (g Goal) Key() Goal { return Goal{g.Probe.Comparable(g.Setup), g.Probe} }

// Kind is a sort of house: its equipment, what is known of it, and the setup
// in which its people saw the fault, which is played first and may have blown
// the fuse. It is comparable.
type Kind struct {
	Equipment  house.Equipment
	StatSupply house.StatSupply
	BaseR      house.BaseR
	Letters    house.Letters
	Symptom    house.Setup
}

// KindOf is the kind that facts describe.
func KindOf(e house.Equipment, f house.Facts, symptom house.Setup) Kind {
	k := Kind{Equipment: e, Letters: f.Letters, Symptom: symptom}
	k.Symptom.CoverIndoor, k.Symptom.CoverOutdoor = false, false
	if f.StatSupply != house.SupplyUnknown {
		k.StatSupply = f.StatSupply
	}
	if f.BaseR != house.BaseRUnknown {
		k.BaseR = f.BaseR
	}
	return k
}

// pin is one choice that facts settle.
type pin struct {
	choice circuit.Choice
	option string
}

// pins lists what the facts settle about a house of this kind.
func (k Kind) pins(e *circuit.Equipment) []pin {
	var out []pin
	add := func(c circuit.Choice, option string) {
		if e.Draws(c) {
			out = append(out, pin{c, option})
		}
	}
	if k.StatSupply != house.SupplyUnasked {
		add(circuit.Supply, k.StatSupply.String())
	}
	if k.BaseR != house.BaseRUnasked {
		add(circuit.BaseR, k.BaseR.String())
	}
	if k.Letters != 0 {
		add(circuit.CommonWire, yesNo(k.Letters.Has(house.C)))
		add(circuit.FaultWire, yesNo(k.Letters.Has(house.L)))
		add(circuit.EScrew, yesNo(k.Letters.Has(house.E)))
	}
	return out
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// pinned is the draw with everything settled that the facts settle.
func (k Kind) pinned(d circuit.Draw) circuit.Draw {
	for _, p := range k.pins(d.Equipment) {
		if changed, err := d.With(p.choice, p.option); err == nil {
			d = changed
		}
	}
	return d
}

// agrees reports whether a drawn house is as the facts say, once a fault that
// needs, say, batteries has changed it.
func (k Kind) agrees(d circuit.Draw) bool {
	for _, p := range k.pins(d.Equipment) {
		if d.Choice(p.choice) != p.option {
			return false
		}
	}
	return true
}
