package planner

import "stepdown/engine/house"

// lockOut locks out the cabinets cs and tries their controls.
func (j *job) lockOut(cs ...house.Place) Action {
	if a := j.lock(cs...); a.Kind != Ready {
		return a
	}
	for _, c := range cs {
		if !j.s.Tried.Has(c) && j.has(RuleTryControls) {
			after := j.s
			after.Tried.set(c, true)
			return j.do(tryControls, c, after)
		}
	}
	return Action{}
}

// lock locks and tags every feed of the cabinets cs: the caution's word, the
// thermostat off, then feed by feed.
func (j *job) lock(cs ...house.Place) Action {
	if !j.has(RuleLock) {
		return Action{}
	}
	after := j.s
	for _, c := range cs {
		if !j.s.locked(c) && !j.s.Lockout.Has(c) {
			after.Lockout.set(c, true)
		}
	}
	if after != j.s && j.has(RuleLockoutCaution) {
		if why := j.forbidden(lockOut, cs[0]); why != "" {
			return j.refuse(why)
		}
		return j.caution(cautionLockout, after)
	}
	for _, c := range cs {
		if j.s.locked(c) {
			continue
		}
		if a := j.beforeSwitching(c); a.Kind != Ready {
			return a
		}
		if a := j.quieten(); a.Kind != Ready {
			return a
		}
		return j.do(lockOut, c, j.withPower(j.s, c, house.LockedOut))
	}
	return Action{}
}

// beforeSwitching sees to it that the outdoor disconnect is not moved while a
// call holds the contactor in: it would open or close under load.
func (j *job) beforeSwitching(c house.Place) Action {
	if !j.split(c) || !j.has(RuleQuietDisconnect) {
		return Action{}
	}
	if !j.s.statOff() {
		return j.setThermostat(house.ModeOff, false, false)
	}
	if j.s.Jumper != 0 && j.s.on(house.AtIndoor) {
		return j.do(powerOff, house.AtIndoor, j.withPower(j.s, house.AtIndoor, house.Off))
	}
	return Action{}
}

// together are the cabinets to lock out with c: those that the same plan needs
// locked out anyway, so that one lockout serves for all.
func (j *job) together(c house.Place) []house.Place {
	if len(j.cabs) == 1 {
		return j.cabs
	}
	w := j.wanted()
	outside := liftedAt(j.s.Lifted, house.AtOutdoor) != liftedAt(w.Lifted, house.AtOutdoor)
	if outside && j.has(RuleControlOffTouch) || j.wants(other(c), house.LockedOut) {
		return twoCabinets
	}
	return twoCabinets[c-house.AtIndoor : c-house.AtIndoor+1]
}

func other(c house.Place) house.Place { return house.AtIndoor + house.AtOutdoor - c }

// openDead opens cabinet c and makes it fit for hands: locked out, open,
// proven dead, discharged.
func (j *job) openDead(c house.Place) Action {
	if a := j.lockOut(j.together(c)...); a.Kind != Ready {
		return a
	}
	if !j.s.CoverOpen(c) {
		if a := j.quieten(); a.Kind != Ready {
			return a
		}
		return j.do(openCover, c, j.withCover(j.s, c, true))
	}
	after := j.s
	switch {
	case !j.s.Dead.Has(c) && j.has(RuleProveDead):
		after.Dead.set(c, true)
		return j.do(liveDeadLive, c, after)
	case !j.s.Discharged.Has(c) && j.has(RuleDischarge):
		after.Discharged.set(c, true)
		return j.do(discharge, c, after)
	}
	return Action{}
}

// openUp opens the cabinet the probe is made in. It always opens dead; for a
// live reading power follows after.
func (j *job) openUp() Action {
	c := j.t.place
	if c != house.AtIndoor && c != house.AtOutdoor || j.live(c) && j.t.Power(c) == house.On {
		return Action{}
	}
	return j.openDead(c)
}

// closeUp closes the covers nobody works behind, unless that cabinet stays
// locked out. A cover is never moved on a cabinet that may be live.
func (j *job) closeUp() Action {
	for _, c := range j.cabs {
		if c == j.t.place || !j.s.CoverOpen(c) || !j.has(RuleCloseFirst) || j.t.leaving && !j.has(RuleLeaveClosed) {
			continue
		}
		wanted := j.t.Power(c)
		if j.t.any.Has(c) {
			wanted = house.LockedOut
		}
		if j.t.CoverOpen(c) && j.s.locked(c) && wanted == house.LockedOut {
			continue
		}
		return j.closeCover(c, j.together(c)...)
	}
	return Action{}
}

// closeCover closes cabinet c once cs, c among them, are locked out.
func (j *job) closeCover(c house.Place, cs ...house.Place) Action {
	if j.has(RuleCloseLocked) {
		if a := j.lock(cs...); a.Kind != Ready {
			return a
		}
	}
	return j.do(closeCover, c, j.withCover(j.s, c, false))
}
