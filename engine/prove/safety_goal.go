package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// met says what of the goal is missing when a planner calls the house ready.
func (g guard) met() string {
	w, t, p := g.w, g.goal.Setup, g.goal.Probe
	if w.set.Fuse != t.Fuse || w.set.Lifted != t.Lifted || w.set.Jumper != t.Jumper ||
		t.Jumper != 0 && w.set.JumperAt != t.JumperAt {
		return "ready, but the fuse, the jumper or a conductor is not as asked"
	}
	mount := t.Thermostat
	if g.facts.Base != house.BaseExposed && g.atBase() {
		mount = house.Removed
	}
	if w.set.Thermostat != mount {
		return "ready, but the thermostat's face is not as asked"
	}
	for _, c := range g.cabinets() {
		if why := g.feedMet(c); why != "" {
			return why
		}
		if c != g.place(p.At) && !t.CoverOpen(c) && w.set.CoverOpen(c) && !g.packaged() {
			return "ready, but a cover stands open"
		}
	}
	return g.callMet()
}

func (g guard) feedMet(c house.Place) string {
	w, p := g.w, g.goal.Probe
	want := g.goal.Setup.Power(c)
	if g.packaged() {
		want = g.goal.Setup.PowerIndoor
	}
	here := g.place(p.At) == c
	behind := p.IsLook() && (p.At == house.AtIndoor || p.At == house.AtOutdoor)
	switch {
	case !p.IsLook() && p.Quantity == quantity.Resistance:
		return ""
	case behind && !p.Look.NeedsPower(), p.IsLook() && !p.Look.NeedsPower() && w.tripped.at(c):
		return ""
	case here && c == house.AtOutdoor && !g.packaged() && p.Red < house.Pri1 && p.Black < house.Pri1:
		return "" // the guard saw to it that it is locked out or a live visit
	case want == house.On && p.IsLook() && !p.Look.NeedsPower():
		if w.set.Power(c) != house.On {
			return "ready, but the power is off"
		}
	case want == house.On && g.who != house.Tech:
		if w.set.Power(c) != house.On {
			return "ready, but the power is off"
		}
	case want == house.On && (w.set.Power(c) != house.On || !w.seenTo.at(c)):
		return "ready, but the power is not on for certain"
	case want != house.On && w.mayBeLive(c):
		return "ready, but the power is not off"
	}
	return ""
}

func (g guard) callMet() string {
	w, t, p := g.w, g.goal.Setup, g.goal.Probe
	switch {
	case w.set.Thermostat == house.Removed:
		return ""
	case !p.IsLook() && p.Quantity == quantity.Resistance:
		if !w.nothingCalled() {
			return "ohms with a call on"
		}
		return ""
	case p.IsLook() && p.At == house.NoPlace && !p.Look.NeedsPower():
		return ""
	}
	calling := t.Calling && t.Mode != house.ModeOff
	if !w.called || w.set.Mode != t.Mode || w.set.FanOn != t.FanOn || w.set.Calling != calling {
		return "ready, but the call is not made"
	}
	return ""
}

// mayRefuse tells whether there is a reason to turn the goal down; a planner
// that refuses without one would be safe and useless.
func (g guard) mayRefuse() bool {
	w, t, p := g.w, g.goal.Setup, g.goal.Probe
	technician := t.Jumper != 0 || !t.Lifted.Empty() || t.CoverIndoor || t.CoverOutdoor ||
		t.PowerOutdoor != house.On || t.PowerIndoor == house.LockedOut || t.Fuse != house.FuseAsFound
	switch {
	case w.unproven != pair{}, g.whose(p) != "", !g.modelled():
		return true
	case g.who != house.Tech && (technician || w.set.PowerOutdoor != house.On && !g.packaged()):
		return true
	case g.who == house.Dispatcher && (t.Thermostat == house.Removed || t.PowerIndoor != house.On):
		return true
	case p.At == house.AtThermostat && !p.IsLook() && t.Thermostat == house.Mounted && g.facts.Base != house.BaseExposed:
		return true
	case t.Fuse == house.FuseNew && w.set.Fuse != house.FuseNew && w.fused:
		return true
	case t.Jumper != 0 && t.JumperAt == house.AtIndoor && !w.floatClosed:
		return true
	}
	for _, c := range g.cabinets() {
		if w.tripped.at(c) && (w.reset.at(c) || g.who != house.Tech) {
			return true
		}
	}
	return g.badLetters(t)
}

func (g guard) badLetters(s house.Setup) bool {
	return s.Jumper.Has(house.C) || s.Jumper.Has(house.B) || s.Jumper.Has(house.L) || s.Jumper.Has(house.E)
}

// left says what is wrong with the house at the end of a call.
func (g guard) left(end planner.Ending) string {
	w := g.w
	off := func(c house.Place) bool { return !w.mayBeLive(c) }
	if g.stop {
		for _, c := range g.cabinets() {
			if g.who != house.Dispatcher && !off(c) {
				return "left with power on and line voltage on control"
			}
		}
		return ""
	}
	if w.unproven == (pair{}) {
		switch {
		case w.set.Jumper != 0:
			return "left with a jumper in"
		case !w.set.Lifted.Empty():
			return "left with a conductor lifted"
		case w.set.Fuse == house.FuseOut || w.set.Fuse == house.FuseBreaker:
			return "left without its control fuse"
		case w.set.Thermostat == house.Removed:
			return "left without the thermostat's face"
		}
	}
	for _, c := range g.cabinets() {
		if w.set.CoverOpen(c) {
			return "left with a cover open"
		}
		locked := end.Locked || w.unproven != pair{}
		switch {
		case !locked && w.tripped.at(c), g.who == house.Dispatcher, g.who != house.Tech && c != g.source():
		case locked && g.who == house.Tech && !w.isLocked(c):
			return "left unlocked where it must be locked"
		case locked && !off(c):
			return "left on where it must be off"
		case !locked && (w.set.Power(c) != house.On || !w.seenTo.at(c)):
			return "left with the power off"
		}
	}
	want := end.Call
	if end.Locked || w.unproven != (pair{}) {
		want = house.DefaultSetup()
	}
	if w.set.Thermostat == house.Mounted && (!w.called || w.set.Mode != want.Mode || w.set.Calling != want.Calling || w.set.FanOn != want.FanOn) {
		return "left without the original call, or without OFF"
	}
	return ""
}

// safe says what is wrong with the house after it was made safe.
func (g guard) safe() string {
	for _, c := range g.cabinets() {
		if g.w.set.CoverOpen(c) && !(g.w.isLocked(c) && g.w.proven.at(c) && g.w.drained.at(c)) {
			return "made safe, and a cabinet stands open unproven"
		}
	}
	return ""
}
