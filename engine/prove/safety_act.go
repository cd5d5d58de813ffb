package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/planner"
)

// act judges a do by what must hold before the hands move.
func (g guard) act(a planner.Action) string {
	verb, at := splitID(a.ID)
	switch verb {
	case "set-thermostat":
		if g.w.set.Thermostat != house.Mounted {
			return "a thermostat off its base is set"
		}
	case "pull-face", "mount-face":
		return g.face(verb)
	case "power-on":
		return g.powerOn(at)
	case "power-off":
		if at != g.source() {
			return "the outdoor feed is opened and not locked"
		}
	case "lock-out":
		return g.lockOut(at)
	case "try-controls":
		if !g.w.isLocked(at) {
			return "the controls are tried before the lock is on"
		}
	case "open-cover", "close-cover":
		return g.cover(verb, at)
	case "live-dead-live", "discharge", "strip-dead", "base-dead":
		return g.proof(verb, at)
	case "jumper-in", "jumper-out", "lift", "land", "change-fuse":
		return g.touch(verb, at, a.After.Setup)
	case "rest":
		if g.w.mayBeLive(g.source()) {
			return "a rest is counted while the compressor may run"
		}
	case "count-call":
		if !g.w.calls(g.site) {
			return "minutes are counted while nothing is called"
		}
	case "reset-breaker":
		return g.resets(at)
	}
	return ""
}

func (g guard) resets(at house.Place) string {
	switch {
	case g.w.reset.at(at):
		return "a breaker is reset a second time"
	case !g.w.breakerAsked:
		return "a breaker is reset without its caution"
	}
	return ""
}

func (g guard) face(verb string) string {
	w := g.w
	switch {
	case !w.lowVoltage:
		return "the face of a thermostat nobody knows the kind of"
	case g.who != house.Tech && w.mayBeLive(g.source()):
		return "the face is moved with the breaker on"
	case g.who != house.Tech && verb == "pull-face" && !w.faceAsked:
		return "the face is pulled without its caution"
	case verb == "mount-face" && g.facts.Base != house.BaseExposed && g.atBase():
		return "a face is mounted over a jumper or a loose conductor"
	}
	return ""
}

// atBase: something of ours is at the wall base.
func (g guard) atBase() bool {
	s := g.w.set
	return s.Jumper != 0 && s.JumperAt == house.AtThermostat || liftedBehind(s.Lifted, house.AtThermostat)
}

func (g guard) lockOut(c house.Place) string {
	w := g.w
	switch {
	case !w.lockoutAsked.at(c):
		return "a lockout without its caution"
	case !w.nothingCalled():
		return "a feed is locked out with a call on"
	case c == house.AtOutdoor && !g.packaged() && w.set.Jumper != 0 && w.mayBeLive(house.AtIndoor):
		return "the disconnect is pulled with a jumper calling"
	}
	return ""
}

func (g guard) cover(verb string, c house.Place) string {
	w := g.w
	switch {
	case !w.isLocked(c):
		return "a cover is moved on a cabinet not locked out"
	case verb == "open-cover" && (w.unproven.at(c) || !g.free && w.unproven != pair{}):
		return "back to a cover after a cabinet was not proven dead"
	case verb == "close-cover":
		return ""
	case !w.tried.at(c):
		return "a cover comes off before the controls were tried"
	case !w.nothingCalled():
		return "a cover comes off with a call on"
	}
	return ""
}

func (g guard) proof(verb string, c house.Place) string {
	w := g.w
	if verb == "base-dead" {
		for _, c := range g.cabinets() {
			if !w.isLocked(c) {
				return "the wall base is proven dead with a feed not locked out"
			}
		}
		if !w.lowVoltage {
			return "leads on a thermostat nobody knows the kind of"
		}
		return ""
	}
	switch {
	case !w.isLocked(c) || !w.tried.at(c) || !w.set.CoverOpen(c):
		return "a proof in a cabinet not locked out, tried and open"
	case verb == "live-dead-live":
		return ""
	case !w.proven.at(c):
		return "hands on capacitors or the strip before the line was proven dead"
	case verb == "strip-dead" && (!w.isLocked(house.AtIndoor) || !w.drained.at(c)):
		return "the strip is proven dead with its feed not locked out"
	}
	return ""
}

// touch judges hands on screws.
func (g guard) touch(verb string, at house.Place, n house.Setup) string {
	w := g.w
	if at == house.AtThermostat {
		switch {
		case w.unproven.at(g.source()):
			return "wires at the wall base of a house whose feed was not proven dead"
		case w.mayBeLive(g.source()):
			return "a wire at the wall base is moved with the power on"
		case !w.lowVoltage:
			return "wires of a thermostat nobody knows the kind of"
		case w.set.Thermostat == house.Mounted && g.facts.Base != house.BaseExposed:
			return "wires behind a mounted face"
		}
	} else {
		switch {
		case w.unproven.at(at):
			return "hands go into a cabinet that was not proven dead"
		case !w.isLocked(at) || !w.tried.at(at) || !w.set.CoverOpen(at) || !w.proven.at(at) || !w.drained.at(at):
			return "hands in a cabinet not locked out, proven dead and discharged"
		case at == house.AtOutdoor && !g.packaged() && (!w.isLocked(house.AtIndoor) || !w.stripProven):
			return "hands on the outdoor strip with 24 V not proven gone"
		}
	}
	switch verb {
	case "jumper-in":
		return g.jumper(n)
	case "change-fuse":
		return g.fuse(n)
	}
	return ""
}

func (g guard) jumper(n house.Setup) string {
	for _, t := range n.Jumper.List() {
		switch t {
		case house.Y, house.Y2, house.W, house.W2, house.G, house.O:
		default:
			return "R is joined to " + t.String()
		}
	}
	switch {
	case !g.w.jumperAsked:
		return "a jumper without its caution"
	case n.JumperAt == house.AtOutdoor:
		return "a jumper at the outdoor strip"
	case n.JumperAt == house.AtIndoor && !g.w.floatClosed && g.facts.Equipment != house.HeatOnly:
		return "an indoor jumper past a float switch not shown closed"
	case !g.modelled():
		return "a jumper on equipment that is declined"
	}
	return ""
}

func (g guard) modelled() bool {
	e := g.facts.Equipment
	return e < house.Communicating
}

func (g guard) fuse(n house.Setup) string {
	switch {
	case n.Fuse == house.FuseNew && g.w.fused:
		return "a second new fuse"
	case n.Fuse != house.FuseOut && n.Fuse != house.FuseAsFound && !g.w.fuseAsked:
		return "a fuse without its caution"
	}
	return ""
}

// powerOn judges a feed going on.
func (g guard) powerOn(c house.Place) string {
	w := g.w
	for _, other := range g.cabinets() {
		if other == c && w.set.CoverOpen(c) {
			if why := g.powerOpen(c); why != "" {
				return why
			}
		}
	}
	switch {
	case w.unproven != pair{}:
		return "power goes on after a cabinet was not proven dead"
	case w.tripped.at(c):
		return "power goes on past a tripped breaker"
	case c == house.AtOutdoor && !g.packaged() && !w.nothingCalled():
		return "the disconnect is closed on a call"
	case c == house.AtOutdoor && !g.packaged() && w.set.Jumper != 0 && w.mayBeLive(house.AtIndoor):
		return "the disconnect is closed on a jumper"
	case c == g.source() && g.compressor() && !w.rested:
		return "a jumper starts a compressor that was not rested"
	}
	return ""
}

// compressor: the jumper calls for one that has power, or may have.
func (g guard) compressor() bool {
	calls := g.w.set.Jumper.Has(house.Y) || g.w.set.Jumper.Has(house.Y2)
	return calls && (g.packaged() || g.w.mayBeLive(house.AtOutdoor))
}

// powerOpen judges a feed going on with the cover off.
func (g guard) powerOpen(c house.Place) string {
	w, p := g.w, g.goal.Probe
	line := !p.IsLook() && (p.Red >= house.Pri1 || p.Black >= house.Pri1)
	switch {
	case g.free || g.place(p.At) != c:
		return "power goes on in an open cabinet nobody reads in"
	case g.who != house.Tech:
		return "an open live cabinet, and no technician"
	case !w.energised.at(c):
		return "power goes on in an open cabinet without the acknowledgement"
	case !w.isLocked(c) || !w.proven.at(c) || !w.drained.at(c):
		return "power goes on in a cabinet that was not opened dead"
	case !w.nothingCalled():
		return "power goes on in an open cabinet with a call on"
	case c == house.AtOutdoor && !g.packaged() && !line:
		return "the outdoor cabinet is live for a reading that does not need it"
	}
	return ""
}
