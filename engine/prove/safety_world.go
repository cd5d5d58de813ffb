package prove

import (
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// pair is a fact about each of the two cabinets: indoor, outdoor.
type pair struct{ indoor, outdoor bool }

func (p pair) at(c house.Place) bool {
	return c == house.AtIndoor && p.indoor || c == house.AtOutdoor && p.outdoor
}

func (p *pair) put(c house.Place, v bool) {
	switch c {
	case house.AtIndoor:
		p.indoor = v
	case house.AtOutdoor:
		p.outdoor = v
	}
}

// world is the guard's own account of the house: what the person was told to
// do and said was done. Nothing in it comes from the planner's account but
// the setup each action names as its result.
type world struct {
	set house.Setup
	// seen to: the feed was switched or checked in this sitting.
	seenTo pair
	// called: the thermostat was set in this sitting.
	called bool

	lockoutAsked, energised, lineAsked     pair
	controlAsked, faceAsked                bool
	jumperAsked, fuseAsked, breakerAsked   bool
	tried, proven, drained                 pair
	baseProven, stripProven                bool
	lowVoltage, floatClosed, rested, fused bool
	jumped, counted                        bool // a compressor jumper was in; the call ran five minutes since
	tripped, reset                         pair
	unproven                               pair // somebody could not prove it dead
}

// newWorld is a house at the start of a call.
func newWorld() world {
	return world{set: house.DefaultSetup(), seenTo: pair{true, true}}
}

// site is the house and the audience: what does not change during a walk.
type site struct {
	who   house.Audience
	facts house.Facts
}

func (x site) packaged() bool { return x.facts.Equipment.Packaged() }

// cabinets are where line voltage is.
func (x site) cabinets() []house.Place {
	switch e := x.facts.Equipment; {
	case e.Packaged():
		return []house.Place{house.AtOutdoor}
	case e == house.HeatOnly, e >= house.Communicating:
		return []house.Place{house.AtIndoor}
	}
	return []house.Place{house.AtIndoor, house.AtOutdoor}
}

// source is the cabinet that feeds the control circuit.
func (x site) source() house.Place {
	if x.packaged() {
		return house.AtOutdoor
	}
	return house.AtIndoor
}

// mayBeLive: the feed is on, or nobody has seen to it.
func (w world) mayBeLive(c house.Place) bool {
	return !w.seenTo.at(c) || w.set.Power(c) == house.On
}

func (w world) isLocked(c house.Place) bool {
	return w.seenTo.at(c) && w.set.Power(c) == house.LockedOut
}

// nothingCalled: the thermostat is known to ask for nothing.
func (w world) nothingCalled() bool {
	if w.set.Thermostat == house.Removed {
		return true
	}
	return w.called && !w.set.Calling && !w.set.FanOn && w.set.Mode == house.ModeOff
}

// liftedBehind: something is lifted from a screw at a place.
func liftedBehind(set house.Conductors, at house.Place) bool {
	for _, c := range set.List() {
		if c.At == at {
			return true
		}
	}
	return false
}

// split takes an action's id apart.
func splitID(id string) (verb string, at house.Place) {
	i := strings.LastIndexByte(id, '-')
	if i < 0 {
		return id, house.NoPlace
	}
	switch id[i+1:] {
	case "indoor":
		return id[:i], house.AtIndoor
	case "outdoor":
		return id[:i], house.AtOutdoor
	case "thermostat":
		if id != "set-thermostat" {
			return id[:i], house.AtThermostat
		}
	}
	return id, house.NoPlace
}

// after is the world once a was done, acknowledged or answered, with
// everything dropped that rested on what is no more.
func (w world) after(x site, a planner.Action) world {
	n := w
	switch a.Kind {
	case planner.Look:
		n.lowVoltage = true
		return n
	case planner.Caution:
		return n.acknowledge(x, a)
	case planner.Do:
	default:
		return n
	}
	n.set = a.After.Setup
	verb, at := splitID(a.ID)
	switch verb {
	case "set-thermostat":
		n.called = true
	case "power-on", "power-off", "lock-out", "stop-power":
		n.seenTo.put(at, true)
	case "try-controls":
		n.tried.put(at, true)
	case "live-dead-live":
		n.proven.put(at, true)
	case "discharge":
		n.drained.put(at, true)
	case "strip-dead":
		n.stripProven = true
	case "base-dead":
		n.baseProven = true
	case "rest":
		n.rested = true
	case "count-call":
		n.counted = true
	case "jumper-out":
		n.jumped = n.jumped || w.set.Jumper.Has(house.Y) || w.set.Jumper.Has(house.Y2)
	case "change-fuse":
		n.fused = n.fused || n.set.Fuse == house.FuseNew
	case "reset-breaker":
		n.breakerAsked = false
		n.reset.put(at, true)
		n.tripped.put(at, false)
	}
	n.lapse(w, x)
	return n
}

// acknowledge takes a caution's word for what it covers. Which cabinets a
// lockout covers is what the planner says it asked for.
func (w world) acknowledge(x site, a planner.Action) world {
	for _, c := range x.cabinets() {
		switch a.Caution {
		case "lockout":
			w.lockoutAsked.put(c, w.lockoutAsked.at(c) || a.After.Lockout.Has(c))
		case "energised-work":
			w.energised.put(c, w.energised.at(c) || w.set.CoverOpen(c) && a.After.Energised.Has(c))
		case "line-voltage":
			w.lineAsked.put(c, w.lineAsked.at(c) || w.set.CoverOpen(c) && a.After.Line.Has(c))
		}
	}
	switch a.Caution {
	case "control-power":
		w.controlAsked = true
	case "face-pull":
		w.faceAsked = true
	case "jumper":
		w.jumperAsked = true
	case "fuse":
		w.fuseAsked = true
	case "breaker":
		w.breakerAsked = true
	}
	return w
}

// lapse drops what rested on the world as it was in b and is no more.
func (w *world) lapse(b world, x site) {
	for _, c := range x.cabinets() {
		if !w.isLocked(c) {
			w.tried.put(c, false)
			w.proven.put(c, false)
			w.drained.put(c, false)
			if b.nothingCalled() && !w.nothingCalled() {
				w.lockoutAsked.put(c, false)
			}
		} else {
			w.lockoutAsked.put(c, false)
			w.lineAsked.put(c, false)
		}
		if !w.set.CoverOpen(c) {
			w.proven.put(c, false)
			w.drained.put(c, false)
			w.energised.put(c, false)
			w.lineAsked.put(c, false)
		}
	}
	w.baseProven = w.baseProven && w.isLocked(x.source())
	w.stripProven = w.stripProven && w.isLocked(house.AtIndoor) && w.proven.outdoor
	w.controlAsked = w.controlAsked && w.set.CoverOutdoor && w.isLocked(house.AtOutdoor)
	if w.mayBeLive(house.AtIndoor) && w.mayBeLive(house.AtOutdoor) {
		w.rested = false
	}
	w.counted = w.counted && w.calls(x) && w.set.Mode == b.set.Mode && w.set.FanOn == b.set.FanOn
	if b.set.Thermostat == house.Removed && w.set.Thermostat == house.Mounted {
		w.faceAsked = false
	}
	if b.set.Jumper != 0 && w.set.Jumper == 0 {
		w.jumperAsked = false
	}
}

// calls tells whether the thermostat's own call runs for certain.
func (w world) calls(x site) bool {
	source := w.set.Power(x.source())
	return w.called && w.set.Calling && w.set.Thermostat == house.Mounted && w.set.Jumper == 0 &&
		source == house.On && w.seenTo.at(x.source())
}

// gaveUp is the world while it is made safe: a cabinet that was locked out,
// tried and opened and is closed again unproven counts as not dead.
func (w world) gaveUp(x site, a planner.Action) world {
	verb, at := splitID(a.ID)
	if verb == "close-cover" && w.isLocked(at) && w.tried.at(at) && !(w.proven.at(at) && w.drained.at(at)) {
		w.unproven.put(at, true)
	}
	return w.after(x, a)
}

// paused is the world after the call was left and taken up again.
func (w world) paused() world {
	return world{set: w.set, lowVoltage: w.lowVoltage, jumped: w.jumped, fused: w.fused, tripped: w.tripped, reset: w.reset, unproven: w.unproven}
}

// read is the world after p was made, and what it showed of the float switch.
func (w world) read(p house.Probe, r quantity.Reading) world {
	if p.IsLook() {
		return w
	}
	if p.Red >= house.Pri1 || p.Black >= house.Pri1 {
		w.lineAsked.put(p.At, false)
	}
	base := p.At == house.AtThermostat && p.Black == house.C && (p.Red == house.R || p.Red == house.Rc)
	if base && (p.Quantity == quantity.ACVolts || p.Quantity == quantity.LowZVolts) {
		w.floatClosed = r.Value > 19
	}
	return w
}
