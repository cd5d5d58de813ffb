package rewire

import (
	"fmt"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// Plan is a landing with everything that goes with it, the same for every
// house it may be.
type Plan struct {
	To         []house.Terminal // the screw of each conductor; NoTerminal: capped
	Joined     [][2]house.Terminal
	Pump       bool       // the thermostat is set to heat pump
	Changeover house.Mode // the mode its changeover is energised in; ModeOff: none
	FanOnHeat  bool       // it calls the fan with heat
	GasBackup  bool       // the auxiliary is a furnace: never with the compressor
	Power      Power      // what feeds it
}

// key tells two plans apart.
func (p Plan) key() string { return fmt.Sprint(p) }

// placed is a plan and what it leaves out, or why there is none.
type placed struct {
	Plan
	lost []string // what will not work, though the rest does
	lack []string // why no landing is right
}

// place lands each conductor of a hypothesis on the base.
func place(h hypothesis, b Base) placed {
	e := h.eq
	calls := e.Calls
	var p placed
	p.To = make([]house.Terminal, len(h.is))
	p.Pump = calls.Changeover != house.NoTerminal
	p.Changeover = calls.EnergisedIn
	p.GasBackup = p.Pump && e.ID.Has(house.Gas1, house.AtIndoor)
	p.FanOnHeat = !p.Pump && calls.Heat.Has(house.G)
	for k, t := range h.is {
		p.To[k] = p.screw(e, b, t)
	}
	p.join(h, b)
	p.feed(h, b)
	return p
}

// screw is where the conductor from board screw t goes.
func (p *placed) screw(e *circuit.Equipment, b Base, t house.Terminal) house.Terminal {
	has := b.Letters.Has
	switch t {
	case spare:
		return house.NoTerminal
	case house.R, house.Rc, house.Rh:
		return p.hot(b, t)
	case house.O, house.B:
		switch {
		case b.OB:
			return house.O
		case has(t):
			return t
		}
		p.lackf("The base has no screw for %s: it cannot drive this reversing valve.", t)
	case house.W2:
		switch {
		case has(house.W2):
			return house.W2
		case has(house.W):
			return house.W
		case has(house.E):
			p.lackf("The base has E but no W2: the auxiliary heat would come on in emergency only.")
		default:
			p.lackf("The base has no screw for the auxiliary heat (W2).")
		}
	case house.C, house.L, house.Y2:
		if has(t) {
			return t
		}
		if t == house.Y2 {
			p.lost = append(p.lost, "The base has no Y2: the second stage never runs.")
		}
		if t == house.L {
			p.lost = append(p.lost, "The base has no L: the fault light goes. Nothing else changes.")
		}
	default:
		if has(t) {
			return t
		}
		p.lackf("The base has no screw for %s.", t)
	}
	return house.NoTerminal
}

// hot is the screw of an R conductor: one transformer feeds Rc, and Rh through
// the jumper; two keep their own.
func (p *placed) hot(b Base, t house.Terminal) house.Terminal {
	has := b.Letters.Has
	first := func(order ...house.Terminal) house.Terminal {
		for _, s := range order {
			if has(s) {
				return s
			}
		}
		return house.NoTerminal
	}
	switch t {
	case house.R:
		return first(house.R, house.Rc, house.Rh)
	case house.Rc:
		if has(house.Rc) || has(house.Rh) && has(house.R) {
			return first(house.Rc, house.R)
		}
	case house.Rh:
		if has(house.Rh) || has(house.Rc) && has(house.R) {
			return first(house.Rh, house.R)
		}
	}
	p.lackf("Two transformers need two R screws, and the base has one.")
	return house.NoTerminal
}

func (p *placed) lackf(format string, args ...any) {
	line := fmt.Sprintf(format, args...)
	for _, l := range p.lack {
		if l == line {
			return
		}
	}
	p.lack = append(p.lack, line)
}

// join sets the jumpers of the base.
func (p *placed) join(h hypothesis, b Base) {
	has := b.Letters.Has
	if h.eq.ID != house.SplitPower {
		var hots []house.Terminal
		for _, t := range []house.Terminal{house.R, house.Rc, house.Rh} {
			if has(t) {
				hots = append(hots, t)
			}
		}
		for i := 1; i < len(hots); i++ {
			p.Joined = append(p.Joined, [2]house.Terminal{hots[i-1], hots[i]})
		}
	}
	if p.Pump && has(house.E) && h.conductors().Has(house.W2) {
		aux := house.W2
		if !has(house.W2) {
			aux = house.W
		}
		if has(aux) {
			p.Joined = append(p.Joined, [2]house.Terminal{aux, house.E})
		}
	}
}

// feed says what the thermostat runs on.
func (p *placed) feed(h hypothesis, b Base) {
	common := h.conductors().Has(house.C) && b.Letters.Has(house.C)
	switch {
	case b.Power == PowerBattery, b.Power == PowerThroughLoad && !common:
		p.Power = b.Power
	case common:
		p.Power = PowerCommon
	case b.Power == PowerEither:
		p.Power = PowerBattery
	case !b.Letters.Has(house.C):
		p.Power = PowerCommon
		p.lackf("The thermostat needs a common, and its base has no C screw.")
	default:
		p.Power = PowerCommon
		p.lackf("The thermostat needs a common, and no conductor is the common.")
	}
}
