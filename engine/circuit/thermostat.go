package circuit

import (
	"fmt"

	"stepdown/engine/house"
)

// modeError refuses a mode the thermostat of this equipment does not have.
func (e *Equipment) modeError(m house.Mode) error {
	calls := e.Calls.Heat
	switch m {
	case house.ModeOff:
		return nil
	case house.ModeCool:
		calls = e.Calls.Cool
	case house.ModeEmergency:
		calls = e.Calls.Emergency
	}
	if calls == 0 {
		return fmt.Errorf("the thermostat of %s has no mode %q", e.ID, m)
	}
	return nil
}

// Outputs are the letters a healthy thermostat energises in a setup.
func (e *Equipment) Outputs(s house.Setup) house.Letters {
	if s.Thermostat == house.Removed {
		return 0
	}
	var out house.Letters
	if s.FanOn {
		out |= e.Calls.Fan
	}
	if s.Calling {
		switch s.Mode {
		case house.ModeCool:
			out |= e.Calls.Cool
		case house.ModeHeat:
			out |= e.Calls.Heat
		case house.ModeEmergency:
			out |= e.Calls.Emergency
		}
	}
	if e.Calls.Changeover != house.NoTerminal && s.Mode == e.Calls.EnergisedIn {
		out = out.Add(e.Calls.Changeover)
	}
	return out
}

// outputs are the letters this house's thermostat means to energise, its
// setting and its own faults counted, its supply not.
func (h *House) outputs(s house.Setup) house.Letters {
	if h.has(house.StatSetting) || h.has(house.StatDead) || h.has(house.StatBatteryDead) {
		return 0
	}
	if h.bench.draw.landing != nil {
		return h.live
	}
	e := h.bench.plan.eq
	if e.modeError(s.Mode) != nil {
		s.Mode, s.Calling = house.ModeOff, false
	}
	out := e.Outputs(s)
	if change := e.Calls.Changeover; change != house.NoTerminal && s.Thermostat == house.Mounted {
		out = out.Minus(house.LettersOf(change))
		if h.energised(s.Mode) {
			out = out.Add(change)
		}
	}
	if h.has(house.DelayRunning) {
		out = out.Minus(house.LettersOf(house.Y, house.Y2))
	}
	return out
}

// energised tells whether the thermostat's changeover terminal is to be live in
// a mode; a wrong setting turns cooling and heating about.
func (h *House) energised(m house.Mode) bool {
	in := h.bench.plan.eq.Calls.EnergisedIn
	if h.has(house.ChangeoverWrong) {
		in = house.ModeCool + house.ModeHeat - in
	}
	return m == in || m == house.ModeEmergency && in == house.ModeHeat && h.bench.draw.Choice(EmergencyValve) == "yes"
}

// contact tells whether a letter's contact is closed.
func (h *House) contact(t house.Terminal, wanted, powered bool) bool {
	switch {
	case h.stuck.Has(t):
		return true
	case h.failed.Has(t):
		return false
	}
	return wanted && powered
}

// seated tells whether the thermostat touches its base at all.
func (h *House) seated(s house.Setup) bool {
	return s.Thermostat == house.Mounted && !h.has(house.StatNotSeated)
}

// contactFault sorts a thermostat fault of one letter into stuck or failed.
func (h *House) contactFault(f house.Fault) {
	t := h.bench.plan.eq.letter(f)
	switch f {
	case house.StatYStuck, house.StatGStuck, house.StatWStuck, house.StatW2Stuck, house.StatChangeoverStuck:
		h.stuck = h.stuck.Add(t)
	case house.StatYOpen, house.StatY2Open, house.StatGOpen, house.StatWOpen, house.StatW2Open, house.StatChangeoverOpen:
		h.failed = h.failed.Add(t)
	}
}

// supplied tells from the solved network whether the thermostat's own supply
// is enough.
func (h *House) supplied(s house.Setup) bool {
	p := h.bench.plan
	switch {
	case !h.seated(s) || h.bench.draw.Choice(Supply) == "battery":
		return true
	case p.supply != none:
		return modulus(h.ac.voltage(&p.elements[p.supply])) >= p.draw.Value("stat.least-volts")
	}
	i := p.contacts[p.leakTo]
	if h.contact(p.leakTo, h.outputs(s).Has(p.leakTo), h.state.powered) {
		amperes := modulus(h.ac.voltage(&p.elements[i]) * h.y[i])
		return amperes >= p.draw.Value("stat.leak-least-amperes")
	}
	return modulus(h.ac.voltage(&p.elements[p.leak])) >= p.draw.Value("stat.leak-least-volts")
}
