package planner

import "stepdown/engine/house"

// Ending is how a call leaves the house. Restored: power on and Call repeated,
// of which mode, calling and fan count. Locked: left off and locked, for a
// short, scorch, a failed safety or an open question. A finding of line
// voltage on control stops everything: power off, and nothing else is touched.
type Ending struct {
	Finding house.Finding
	Locked  bool
	Call    house.Setup
}

// Leave is the next thing towards a house left safe: jumpers out, conductors
// landed, covers closed, then power and the original call, or the lock. It
// ends with Ready.
func Leave(s State, end Ending, who house.Audience, f house.Facts) Action {
	return Planner{}.Leave(s, end, who, f)
}

// Leave is the function of that name, by this planner's rules.
func (p Planner) Leave(s State, end Ending, who house.Audience, f house.Facts) Action {
	j := p.job(s, who, f)
	if end.Finding == house.LineVoltageCrossed && p.has(RuleLeaveStop) {
		return j.stop()
	}
	j.aimLeave(end)
	return j.run()
}

// aimLeave sets the target that ends a call.
func (j *job) aimLeave(end Ending) {
	s := j.s
	j.t.Setup = house.Setup{JumperAt: house.AtThermostat, Fuse: s.Fuse,
		Mode: end.Call.Mode, Calling: end.Call.Calling, FanOn: end.Call.FanOn}
	if s.Fuse == house.FuseOut || s.Fuse == house.FuseBreaker {
		j.t.Fuse = house.FuseAsFound
	}
	if !j.has(RuleLeaveJumpers) {
		j.t.Jumper, j.t.JumperAt = s.Jumper, s.JumperAt
	}
	if !j.has(RuleLeaveLanded) {
		j.t.Lifted = s.Lifted
	}
	j.t.leaving, j.t.loose = true, !j.has(RuleLeaveCall)
	j.t.any = s.Tripped // a tripped breaker is not for the way out
	for _, c := range j.cabs {
		if s.Power(c) != house.On && j.forbidden(powerOn, c) != "" {
			j.t.any.set(c, true) // nor is a feed that is not theirs
		}
	}
	if !j.has(RuleLeavePower) {
		j.t.any = PlacesOf(j.cabs...)
	}
	if end.Locked || end.Finding == house.LineVoltageCrossed || s.NotDead != 0 {
		j.aimLocked()
	}
}

// aimLocked leaves the house off: locked by a technician, by its breaker by a
// homeowner; a dispatcher's caller turns the thermostat off.
func (j *job) aimLocked() {
	t, s := &j.t, j.s
	if !j.has(RuleLeaveLocked) {
		return
	}
	t.Mode, t.Calling, t.FanOn = house.ModeOff, false, false
	t.any = PlacesOf(house.AtOutdoor)
	switch {
	case j.who == house.Tech:
		t.any, t.PowerIndoor, t.PowerOutdoor = 0, house.LockedOut, house.LockedOut
		if len(j.cabs) == 1 && j.cabs[0] == house.AtIndoor {
			t.PowerOutdoor = s.PowerOutdoor
		}
	case j.who == house.Homeowner && j.f.Equipment.Packaged():
		t.any, t.PowerIndoor, t.PowerOutdoor = 0, house.Off, house.Off
	case j.who == house.Homeowner:
		t.PowerIndoor = house.Off
	default:
		t.any = PlacesOf(j.cabs...)
	}
	// Where a lock did not make a cabinet dead, nothing it feeds is touched.
	t.left = s.NotDead
	if s.NotDead.Has(j.feed()) {
		t.left.set(house.AtThermostat, true)
		t.Thermostat = s.Thermostat
	}
}

// stop takes the power off and touches nothing else: with line voltage on the
// control circuit no screw, cover or thermostat is what it seems.
func (j *job) stop() Action {
	for _, c := range j.cabs {
		if !j.s.on(c) || j.who == house.Dispatcher {
			continue
		}
		v := house.Off
		if j.who == house.Tech {
			v = house.LockedOut
		}
		return j.do(stopPower, c, j.withPower(j.s, c, v))
	}
	return Action{Kind: Ready, ID: "ready", After: j.s}
}

// MakeSafe is the next thing after somebody could not do, or would not
// acknowledge, what was asked: no cabinet stays open unless it is locked out,
// proven dead and discharged. What could not be proven dead is closed and
// counts as not dead from then on: Next refuses everything, and Leave leaves
// it locked.
func MakeSafe(s State, who house.Audience, f house.Facts) Action {
	return Planner{}.MakeSafe(s, who, f)
}

// MakeSafe is the function of that name, by this planner's rules.
func (p Planner) MakeSafe(s State, who house.Audience, f house.Facts) Action {
	j := p.job(s, who, f)
	for _, c := range j.cabs {
		if !j.s.CoverOpen(c) || j.s.workable(c) || !p.has(RuleMakeSafe) {
			continue
		}
		a := j.closeCover(c, c)
		if a.ID == ids[closeCover][c] && j.s.Tried.Has(c) {
			a.After.NotDead.set(c, true)
		}
		return a
	}
	return Action{Kind: Ready, ID: "ready", After: j.s}
}

// Warn says what must be known about a house that is left for a while with a
// call still open; nothing where it stands as it was found.
func Warn(s State) []string {
	var out []string
	say := func(when bool, line string) {
		if when {
			out = append(out, line)
		}
	}
	say(s.CoverIndoor, "The indoor cover is off. Keep people away from it.")
	say(s.CoverOutdoor, "The outdoor cover is off. Keep people away from it.")
	say(s.CoverIndoor && s.on(house.AtIndoor) || s.CoverOutdoor && s.on(house.AtOutdoor),
		"It is live. Lock the power out before you leave it.")
	say(s.PowerIndoor == house.Off || s.PowerOutdoor == house.Off, "A breaker is off.")
	say(s.PowerIndoor == house.LockedOut || s.PowerOutdoor == house.LockedOut, "A lock and tag are on. Leave them on.")
	say(s.Thermostat == house.Removed, "The thermostat's face is off its base.")
	say(s.Jumper != 0, "A jumper is still in.")
	say(!s.Lifted.Empty(), "Conductors are still lifted: "+liftedWords(s.Lifted)+".")
	say(s.Fuse == house.FuseOut, "The control fuse is out.")
	say(s.Fuse == house.FuseBreaker, "A resettable breaker sits in the control fuse's place.")
	return out
}
