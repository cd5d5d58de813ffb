package circuit

import (
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Look is what somebody sees, hears or feels in a setup.
func (h *House) Look(s house.Setup, l house.Look) (house.Answer, error) {
	if !h.bench.plan.eq.ID.HasLook(l) || l == house.BoardLight && !h.hasBoardLight() {
		return house.NoAnswer, refuse(RefusedLook, "%s has nothing to look at for %s", h.bench.plan.eq.ID, l)
	}
	if err := h.ready(s); err != nil {
		return house.NoAnswer, err
	}
	word := h.see(s, l)
	if word == "" {
		return house.NoAnswer, refuse(RefusedLook, "there is no fuse in its holder to look at")
	}
	return l.ParseAnswer(word)
}

// see is the answer's word.
func (h *House) see(s house.Setup, l house.Look) string {
	d := h.bench.draw
	switch l {
	case house.StatKind:
		return "low-voltage"
	case house.Display:
		return h.seeDisplay(s)
	case house.IndoorFan:
		return either(h.blower(s), "running", "stopped")
	case house.OutdoorUnit:
		return h.seeOutdoorUnit(s)
	case house.Air:
		return h.seeAir(s)
	case house.BreakerIndoor:
		return h.seeBreaker(h.power(s, house.AtIndoor), house.NoLineIndoor)
	case house.BreakerOutdoor:
		if h.bench.plan.eq.ID.Packaged() {
			return h.seeBreaker(h.power(s, house.AtOutdoor), house.NoLineIndoor)
		}
		return h.seeBreaker(h.power(s, house.AtOutdoor), house.NoLineOutdoor)
	case house.DrainPan:
		if h.has(house.FloatOpen) {
			return d.Choice(PanShows)
		}
		return "dry"
	case house.PanelIndoor:
		if h.has(house.DoorSwitchOpen) {
			return d.Choice(DoorShows)
		}
		return "seated"
	case house.FaultLight:
		return either(h.faultLight(s), "on", "off")
	case house.ChangeoverSetting:
		return either(h.energised(house.ModeCool), "cooling", "heating")
	case house.ChangeoverRated:
		return either(h.bench.plan.eq.Calls.EnergisedIn == house.ModeCool, "cooling", "heating")
	case house.BatteriesNew:
		return either(h.has(house.StatBatteryDead), "fixed", "same")
	}
	return h.seeBehindCover(s, l)
}

func (h *House) seeBehindCover(s house.Setup, l house.Look) string {
	switch l {
	case house.Burner:
		switch {
		case h.burning():
			return "burning"
		case h.in("burner-control") && h.has(house.FurnaceBoardNoHeat):
			return h.bench.draw.Choice(NoHeatShows)
		case h.in("burner-control"):
			return "inducer-only"
		}
		return "nothing"
	case house.ContactorLook:
		switch {
		case h.chatters("contactor"):
			return "chattering"
		case h.in("contactor") || h.has(house.ContactorWelded):
			return "pulled-in"
		}
		return "released"
	case house.Stage2Look:
		return either(h.in("stage2"), "in", "out")
	case house.FuseLook:
		if s.Fuse == house.FuseOut {
			return ""
		}
		return either(h.state.blown, "blown", "good")
	case house.BoardLight:
		return h.seeBoardLight(s)
	}
	return ""
}

func either(b bool, yes, no string) string {
	if b {
		return yes
	}
	return no
}

// seeDisplay: a thermostat that loses its supply goes blank, also when it
// only loses it each time the call loads the transformer.
func (h *House) seeDisplay(s house.Setup) string {
	battery := h.bench.draw.Choice(Supply) == "battery"
	switch {
	case h.has(house.StatDead):
		return "blank"
	case h.has(house.StatBatteryDead):
		return h.bench.draw.Choice(BatteryShows)
	case battery:
	case !h.seated(s) || !h.keepsSupply():
		return "blank"
	}
	if h.has(house.DelayRunning) && s.Calling && s.Mode != house.ModeEmergency && h.seated(s) {
		return h.bench.draw.Choice(DelayShows)
	}
	return "lit"
}

// keepsSupply is false where the supply is gone in any state of a chatter.
func (h *House) keepsSupply() bool {
	for _, v := range h.visited[:h.cycle] {
		if !v.state.powered {
			return false
		}
	}
	return h.state.powered
}

// lineVolts is the voltage between two line terminals of a cabinet.
func (h *House) lineVolts(at house.Place, a, b house.Terminal) float64 {
	p := h.bench.plan
	red, black := p.terminal(a, at), p.terminal(b, at)
	if red == none || black == none {
		return 0
	}
	port := element{nodes: [4]int{red, black}, weight: [4]float64{1, -1}, ends: 2}
	return modulus(h.ac.rough(&port))
}

// runsAt is the share of its line voltage a motor still runs on.
const runsAt = 0.7

// blower tells whether the indoor blower runs: it needs line past the door
// switch and somebody to ask for it.
func (h *House) blower(s house.Setup) bool {
	p := h.bench.plan
	if h.has(house.BlowerNoResponse) {
		return false
	}
	line := h.lineVolts(house.AtIndoor, house.Pri1, house.Pri2) >= runsAt*h.nominalLine("feed")
	fan := h.in("fan-relay") || h.has(house.FanRelayWelded) || h.in("fan-input") && !h.has(house.BoardNoFanOutput)
	heat := h.burning() || h.strips()
	if p.eq.ID == house.SplitPower {
		furnace := h.lineVolts(house.AtIndoor, house.HeatPri1, house.HeatPri2) >= runsAt*h.nominalLine("feed2")
		return line && fan || furnace && heat
	}
	return line && (fan || heat)
}

func (h *House) nominalLine(feed string) float64 {
	p, ok := h.bench.plan.eq.Part(feed)
	if !ok {
		return 0
	}
	e := h.bench.plan.eq
	return e.values[e.index[p.Uses+".volts"]].Nominal
}

// burning: the control feeds the gas valve and the valve opens.
func (h *House) burning() bool { return h.in("gas-valve") && h.in("burner-control") }

// strips: the sequencer's contacts are closed.
func (h *House) strips() bool { return h.in("sequencer") || h.has(house.SequencerWelded) }

// compressor tells whether the outdoor unit runs whole.
func (h *House) compressor() bool {
	return !h.has(house.OutdoorBeyondContactor) && h.atCompressor()
}

// atCompressor tells whether line reaches the load side of the contactor.
func (h *House) atCompressor() bool {
	if h.chatters("contactor") && !h.has(house.ContactorWelded) {
		return false
	}
	return h.lineVolts(house.AtOutdoor, house.T1, house.T2) >= runsAt*240
}

func (h *House) seeOutdoorUnit(house.Setup) string {
	switch {
	case h.chatters("contactor") && !h.has(house.ContactorWelded):
		return "chattering"
	case h.atCompressor() && h.has(house.OutdoorBeyondContactor):
		return h.bench.draw.Choice(BeyondShows)
	case h.atCompressor():
		return "running"
	case h.hums():
		return "humming"
	}
	return "stopped"
}

// hums: a contactor whose coil carries current and whose armature stays out is
// heard: jammed, or too weak to pull in.
func (h *House) hums() bool {
	p := h.bench.plan
	i := p.armature("contactor")
	if i < 0 || h.in("contactor") || h.lifeless() {
		return false
	}
	const heardAmperes = 0.3
	e := p.armatures[i].element
	return modulus(h.ac.rough(&p.elements[e])*h.y[e]) >= heardAmperes
}

// cooling is the valve's position where there is one; an air conditioner has
// only the one.
func (h *House) coolingPosition() bool {
	e := h.bench.plan.eq
	if e.Calls.Changeover == house.NoTerminal {
		return true
	}
	energised := h.in("reversing-valve")
	if h.has(house.ValveStuck) {
		energised = h.bench.draw.Choice(ValveSticks) == "energised"
	}
	return energised == (e.Calls.EnergisedIn == house.ModeCool)
}

// seeAir is the air at a supply register: what the blower carries from flame,
// strips and refrigerant. A cooling coil before live strips comes out as room.
func (h *House) seeAir(s house.Setup) string {
	if !h.blower(s) {
		return "none"
	}
	cold := h.compressor() && h.coolingPosition()
	hot := h.burning() || h.strips() && h.stripLine()
	switch {
	case hot && cold:
		return "room"
	case hot || h.compressor() && !h.coolingPosition():
		return "warm"
	case cold:
		return "cool"
	}
	return "room"
}

// stripLine tells whether the strips have their line.
func (h *House) stripLine() bool {
	return h.lineVolts(house.AtIndoor, house.SecondFeed1, house.SecondFeed2) >= runsAt*h.nominalLine("feed2")
}

func (h *House) seeBreaker(p house.Power, dead house.Fault) string {
	switch {
	case p != house.On:
		return "off"
	case h.has(dead):
		return h.bench.draw.Choice(BreakerShows)
	}
	return "on"
}

// lampVolts lights the thermostat's fault light, which draws a few
// milliamperes as a meter's low-impedance mode does.
const lampVolts = 10

func (h *House) faultLight(s house.Setup) bool {
	p := h.bench.plan
	l, c := p.terminal(house.L, house.AtThermostat), p.terminal(house.C, house.AtThermostat)
	if l == none || !h.seated(s) || h.has(house.StatDead) || !h.keepsSupply() {
		return false
	}
	if c == none {
		c = ground
	}
	port := element{nodes: [4]int{l, c}, weight: [4]float64{1, -1}, ends: 2}
	return h.loaded(&port, LowImpedanceOhms) >= lampVolts
}

// hasBoardLight: furnace boards have one; an air handler with relays has none.
func (h *House) hasBoardLight() bool { return h.bench.plan.eq.has("burner-control") }

func (h *House) seeBoardLight(s house.Setup) string {
	hot := h.bench.plan.eq.Hot(house.W)
	r, err := h.Exact(s, house.Measure(quantity.ACVolts, hot, house.GND, house.AtIndoor))
	const boardLives = 15
	switch {
	case err != nil || r.Value < boardLives:
		return "off"
	case h.has(house.LimitOpen) || h.has(house.RolloutOpen) ||
		h.has(house.FurnaceBoardNoHeat) && h.in("burner-control") && h.bench.draw.Choice(NoHeatShows) == "inducer-only":
		return "flashing"
	}
	return "steady"
}
