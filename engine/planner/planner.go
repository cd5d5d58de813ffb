package planner

import "stepdown/engine/house"

// Next is the one next thing on the way from s to what g needs, for this
// audience in this house: Ready once the probe can be made in the setup of s.
// After Refuse the house stays as it is.
func Next(s State, g Goal, who house.Audience, f house.Facts) Action {
	return Planner{}.Next(s, g, who, f)
}

// Next is the function of that name, by this planner's rules.
func (p Planner) Next(s State, g Goal, who house.Audience, f house.Facts) Action {
	j := p.job(s, who, f)
	if why := j.refused(g); why != "" {
		return j.refuse(why)
	}
	j.aim(g)
	return j.run()
}

// order is the order it is safe to do things in: hands come out before hands go
// in, one cover is closed before the next is opened and before power is on,
// power comes before calls, and cautions last, next to what they warn of.
var order = [...]func(*job) Action{
	(*job).knowThermostat, (*job).takeOut, (*job).putIn, (*job).moveFace, (*job).closeUp, (*job).openUp,
	(*job).power, (*job).thermostat, (*job).lastProofs,
}

// run gives the first thing still missing.
func (j *job) run() Action {
	for _, next := range order {
		if a := next(j); a.Kind != Ready {
			return a
		}
	}
	return Action{Kind: Ready, ID: "ready", After: j.s}
}

// refused tells why the goal is out of the question, or nothing.
func (j *job) refused(g Goal) string {
	t, e := g.Setup, j.f.Equipment
	if j.s.NotDead != 0 && j.has(RuleNotDead) {
		return "what should be dead was not proven dead; nobody goes back to it"
	}
	if j.has(RuleTechnician) {
		if cut := house.Reach(j.who, j.f, g.Probe, t); cut != house.NoCut {
			return cut.String()
		}
	}
	if e.Handling() != house.Modelled && j.has(RuleModelled) && needsTools(g) {
		return "this equipment is not metered or jumpered"
	}
	if t.Fuse == house.FuseNew && j.s.Fuse != house.FuseNew && j.s.NewFuseUsed && j.has(RuleOneFuse) {
		return "a second new fuse is not fitted before the short is found"
	}
	return j.refusedJumper(t)
}

// needsTools reports whether a goal takes more than eyes and the thermostat.
func needsTools(g Goal) bool {
	t := g.Setup
	return !g.Probe.IsLook() || g.Probe.At != house.NoPlace || t.Jumper != 0 || !t.Lifted.Empty() ||
		t.Fuse != house.FuseAsFound || t.PowerIndoor == house.LockedOut || t.PowerOutdoor == house.LockedOut
}

// jumperable are the letters that bring on a load. R is joined to nothing
// else; never to C, which is a short, or B, which may be a common.
var jumperable = house.LettersOf(house.Y, house.Y2, house.W, house.W2, house.G, house.O)

func (j *job) refusedJumper(t house.Setup) string {
	switch {
	case t.Jumper == 0:
		return ""
	case t.Jumper.Minus(jumperable) != 0 && j.has(RuleJumperLetters):
		return "R is joined only to a letter that brings on a load"
	case t.JumperAt != house.AtThermostat && t.JumperAt != house.AtIndoor:
		return "a jumper goes at the thermostat or indoors"
	case t.JumperAt == house.AtIndoor && !j.s.FloatClosed && j.hasFloat() && j.has(RuleFloat):
		return "the float switch was not shown closed: an indoor jumper could bypass it"
	}
	return ""
}

func (j *job) hasFloat() bool {
	e := j.f.Equipment
	return e == house.NoEquipment || e.Has(house.Float1, house.AtIndoor)
}

// knowThermostat asks what kind of thermostat it is before anybody touches it:
// one that switches line voltage looks much alike.
func (j *job) knowThermostat() Action {
	touch := j.t.place == house.AtThermostat || j.t.Thermostat != j.s.Thermostat ||
		j.atBase(j.t.Setup) || j.atBase(j.s.Setup)
	if !touch || j.s.LowVoltageStat || !j.has(RuleStatKind) {
		return Action{}
	}
	after := j.s
	after.LowVoltageStat = true
	return Action{Kind: Look, ID: house.StatKind.String(), Look: house.StatKind, After: after}
}

// thermostat sets mode, call and fan as wanted; off its base it calls nothing.
func (j *job) thermostat() Action {
	s, t := j.s, j.t
	if t.loose || s.Thermostat == house.Removed ||
		!s.StatUnknown && s.Mode == t.Mode && s.Calling == t.Calling && s.FanOn == t.FanOn {
		return Action{}
	}
	return j.setThermostat(t.Mode, t.Calling, t.FanOn)
}

func (j *job) setThermostat(mode house.Mode, calling, fan bool) Action {
	after := j.s
	after.Mode, after.Calling, after.FanOn, after.StatUnknown = mode, calling, fan, false
	return j.do(setThermostat, house.NoPlace, after)
}

// quieten makes sure that nothing is called: the thermostat is off, and no
// jumper carries power. A thermostat is no isolation; it only keeps a
// disconnect from being pulled, or closed, on a running load.
func (j *job) quieten() Action {
	if !j.s.statOff() && j.has(RuleThermostatOff) {
		return j.setThermostat(house.ModeOff, false, false)
	}
	return Action{}
}

// lastProofs are the proofs and cautions that come right before the leads.
func (j *job) lastProofs() Action {
	s, t := j.s, j.t
	after := s
	switch {
	case t.ohms && t.place == house.AtThermostat && !s.Dead.Has(house.AtThermostat) && j.has(RuleBaseDead):
		after.Dead.set(house.AtThermostat, true)
		return j.do(baseDead, house.AtThermostat, after)
	case t.ohms && j.split(t.place):
		return j.proveStrip()
	case t.ohms:
		return Action{}
	}
	if a := j.cautionControl(); a.Kind != Ready {
		return a
	}
	if t.ran && s.runsCall() && !s.Ran && j.has(RuleCountCall) {
		after.Ran = true
		return j.do(countCall, house.NoPlace, after)
	}
	if t.line && s.on(t.place) && !s.Line.Has(t.place) && j.has(RuleLineCaution) {
		after.Line.set(t.place, true)
		return j.caution(cautionLine, after)
	}
	return Action{}
}

// proveStrip proves the outdoor strip free of 24 V.
func (j *job) proveStrip() Action {
	if j.s.StripDead || !j.has(RuleStripDead) {
		return Action{}
	}
	after := j.s
	after.StripDead = true
	return j.do(stripDead, house.AtOutdoor, after)
}

// cautionControl warns of the 24 V that stays at the outdoor strip while only
// the disconnect is locked out.
func (j *job) cautionControl() Action {
	s, t := j.s, j.t
	if !j.split(t.place) || !s.locked(house.AtOutdoor) || s.ControlPower || !j.has(RuleControlCaution) ||
		!s.on(house.AtIndoor) && t.PowerIndoor != house.On {
		return Action{}
	}
	after := s
	after.ControlPower = true
	return j.caution(cautionControlPower, after)
}
