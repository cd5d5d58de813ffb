package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// guard judges one action of a planner. It says what is unsafe about it, or
// nothing.
type guard struct {
	site
	w    world
	goal planner.Goal // what the action is on the way to; unset while leaving
	free bool         // no goal: leaving, or making safe
	stop bool         // leaving because line voltage is on control
}

// judge says what is unsafe about a, or nothing.
func (g guard) judge(a planner.Action) string {
	switch a.Kind {
	case planner.Ready:
		return g.probe()
	case planner.Caution:
		return g.cautioned(a)
	case planner.Do:
		if g.stop {
			return g.stopped(a)
		}
		if why := g.oneThing(a); why != "" {
			return why
		}
		if why := g.reach(a); why != "" {
			return why
		}
		return g.act(a)
	}
	if a.After.Setup != g.w.set && !g.packaged() {
		return "the house changes though nobody does anything"
	}
	return ""
}

func (g guard) cautioned(a planner.Action) string {
	if a.After.Setup != g.w.set {
		return "the house changes on a caution"
	}
	switch {
	case g.who == house.Tech,
		g.who == house.Homeowner && (a.Caution == "face-pull" || a.Caution == "breaker"):
		return ""
	}
	return g.who.String() + " is cautioned about a technician's work: " + a.Caution
}

// oneThing: an action changes what its name says, at its place, and nothing
// else. In a packaged unit the indoor and outdoor keys are one cabinet's.
func (g guard) oneThing(a planner.Action) string {
	b, n := g.w.set, a.After.Setup
	verb, at := splitID(a.ID)
	want := b
	switch verb {
	case "set-thermostat":
		want.Mode, want.Calling, want.FanOn = n.Mode, n.Calling, n.FanOn
	case "pull-face":
		want.Thermostat = house.Removed
	case "mount-face":
		want.Thermostat = house.Mounted
	case "power-on":
		want = g.fed(b, at, house.On)
	case "power-off":
		want = g.fed(b, at, house.Off)
	case "lock-out":
		want = g.fed(b, at, house.LockedOut)
	case "open-cover":
		want = g.covered(b, at, true)
	case "close-cover":
		want = g.covered(b, at, false)
	case "jumper-in":
		want.Jumper, want.JumperAt = n.Jumper, n.JumperAt
		if b.Jumper != 0 || n.Jumper == 0 || g.place(n.JumperAt) != at {
			return "a jumper goes in over another, or elsewhere than said"
		}
	case "jumper-out":
		want.Jumper, want.JumperAt = 0, house.AtThermostat
		if g.place(b.JumperAt) != at {
			return "a jumper comes out elsewhere than it is"
		}
	case "lift", "land":
		want.Lifted = n.Lifted
		for _, c := range append(n.Lifted.Minus(b.Lifted).List(), b.Lifted.Minus(n.Lifted).List()...) {
			if c.At != at {
				return "conductors of two places in one go"
			}
		}
	case "change-fuse":
		want.Fuse = n.Fuse
	case "try-controls", "live-dead-live", "discharge", "strip-dead", "base-dead", "rest", "count-call", "reset-breaker":
	default:
		return "unknown action " + a.ID
	}
	if n != want {
		return a.ID + " changes something else as well"
	}
	if n == b && want != b {
		return a.ID + " changes nothing"
	}
	return ""
}

func (g guard) place(p house.Place) house.Place {
	if p == house.AtIndoor {
		return g.source()
	}
	return p
}

func (g guard) fed(s house.Setup, at house.Place, v house.Power) house.Setup {
	if at == house.AtIndoor || g.packaged() {
		s.PowerIndoor = v
	}
	if at == house.AtOutdoor {
		s.PowerOutdoor = v
	}
	return s
}

func (g guard) covered(s house.Setup, at house.Place, open bool) house.Setup {
	if at == house.AtIndoor || g.packaged() {
		s.CoverIndoor = open
	}
	if at == house.AtOutdoor {
		s.CoverOutdoor = open
	}
	return s
}

// reach: who may do what at all.
func (g guard) reach(a planner.Action) string {
	verb, at := splitID(a.ID)
	if !g.modelled() && !g.free {
		switch verb {
		case "jumper-in", "lift", "change-fuse", "open-cover", "base-dead":
			return "work inside equipment that is declined"
		}
	}
	own := false
	switch verb {
	case "set-thermostat":
		own = true
	case "pull-face", "mount-face":
		own = g.who == house.Homeowner
	case "power-on", "power-off", "reset-breaker":
		own = g.who == house.Homeowner && at == g.source()
	}
	if own || g.who == house.Tech {
		return ""
	}
	return g.who.String() + " is asked to do a technician's work: " + a.ID
}

// stopped: with line voltage on the control circuit only power goes off.
func (g guard) stopped(a planner.Action) string {
	if verb, _ := splitID(a.ID); verb != "stop-power" || g.who == house.Dispatcher {
		return "line voltage on control, and something is touched: " + a.ID
	}
	b, n := g.w.set, a.After.Setup
	b.PowerIndoor, b.PowerOutdoor, n.PowerIndoor, n.PowerOutdoor = 0, 0, 0, 0
	if b != n {
		return "a stop changes more than power"
	}
	return ""
}

// probe judges the moment a probe is made.
func (g guard) probe() string {
	if g.free {
		return ""
	}
	p, w := g.goal.Probe, g.w
	at := g.place(p.At)
	for _, c := range g.cabinets() {
		if w.set.CoverOpen(c) && c != at && !w.isLocked(c) {
			return "a cover stands open on a cabinet that may be live, and nobody is there"
		}
	}
	if why := g.whose(p); why != "" {
		return why
	}
	if at == house.AtThermostat && !p.IsLook() && !w.lowVoltage {
		return "leads on a thermostat nobody knows the kind of"
	}
	if !p.IsLook() && p.Quantity == quantity.Resistance {
		return g.ohms(at)
	}
	if w.jumped && !w.counted && w.calls(g.site) && (!p.IsLook() || p.Look.NeedsPower()) {
		return "a call is read after a compressor jumper before it ran five counted minutes"
	}
	if at != house.AtIndoor && at != house.AtOutdoor {
		return ""
	}
	return g.behindCover(p, at)
}

// behindCover judges looks and live readings behind the cover of cabinet c.
func (g guard) behindCover(p house.Probe, c house.Place) string {
	w := g.w
	line := !p.IsLook() && (p.Red >= house.Pri1 || p.Black >= house.Pri1)
	switch {
	case !w.set.CoverOpen(c):
		return "behind a closed cover"
	case w.mayBeLive(c) && !w.seenTo.at(c):
		return "behind a cover, power unknown"
	case w.mayBeLive(c) && !w.energised.at(c):
		return "live work without its acknowledgement"
	case !w.mayBeLive(c) && !(w.isLocked(c) && w.tried.at(c) && w.proven.at(c) && w.drained.at(c)):
		return "hands in a cabinet that is not locked out, proven dead and discharged"
	case line && w.mayBeLive(c) && !w.lineAsked.at(c):
		return "a reading at line voltage without its caution"
	case c == house.AtOutdoor && !g.packaged() && w.isLocked(c) && w.mayBeLive(house.AtIndoor) && !w.controlAsked &&
		(!p.IsLook() || p.Look.NeedsPower()):
		return "24 V at the outdoor strip without its caution"
	}
	return ""
}

// ohms: every feed locked out, and dead where the leads go.
func (g guard) ohms(at house.Place) string {
	w := g.w
	for _, c := range g.cabinets() {
		if !w.isLocked(c) || !w.tried.at(c) {
			return "ohms with a feed that is not locked out and tried"
		}
	}
	switch {
	case at == house.AtThermostat && !w.baseProven:
		return "ohms at a wall base not proven dead"
	case at == house.AtThermostat:
		return ""
	case !w.set.CoverOpen(at) || !w.proven.at(at) || !w.drained.at(at):
		return "ohms in a cabinet not open, proven dead and discharged"
	case at == house.AtOutdoor && !g.packaged() && !w.stripProven:
		return "ohms at an outdoor strip not proven free of 24 V"
	}
	return ""
}

// whose: who may make a probe, by a list of its own.
func (g guard) whose(p house.Probe) string {
	if !g.modelled() && (!p.IsLook() || p.At != house.NoPlace) {
		return "a probe on equipment that is declined"
	}
	if g.who == house.Tech {
		return ""
	}
	if p.IsLook() {
		switch p.Look {
		case house.ContactorLook, house.Stage2Look, house.FuseLook, house.BoardLight, house.ChangeoverRated:
			return "a look behind a cover by a " + g.who.String()
		}
		return ""
	}
	if g.who == house.Homeowner && p.At == house.AtThermostat && (p.Quantity == quantity.ACVolts || p.Quantity == quantity.LowZVolts) {
		return ""
	}
	return "a reading that is not for a " + g.who.String()
}
