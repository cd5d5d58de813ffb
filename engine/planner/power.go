package planner

import "stepdown/engine/house"

// A compressor that starts against the pressure it just made may stall:
// five minutes are counted before a jumper, which has no delay of its own, may
// run one (common practice).
const restSeconds = 300

// wants reports whether the target asks for cabinet c's feed to be v.
func (j *job) wants(c house.Place, v house.Power) bool {
	return j.t.Power(c) == v && !j.t.any.Has(c)
}

// power brings every feed to what is wanted: off before on, and the outdoor
// feed on before the indoor one, so that nothing is called when it closes.
func (j *job) power() Action {
	for _, c := range j.cabs {
		if !j.wants(c, house.LockedOut) {
			continue
		}
		if a := j.lockOut(j.together(c)...); a.Kind != Ready {
			return a
		}
	}
	if c := j.feed(); j.wants(c, house.Off) && j.s.on(c) {
		return j.do(powerOff, c, j.withPower(j.s, c, house.Off))
	}
	for i := len(j.cabs) - 1; i >= 0; i-- {
		if c := j.cabs[i]; j.wants(c, house.On) {
			if a := j.powerOn(c); a.Kind != Ready {
				return a
			}
		}
	}
	return Action{}
}

// powerOn puts the feed of cabinet c on.
func (j *job) powerOn(c house.Place) Action {
	switch {
	case j.s.Tripped.Has(c) && j.t.loose:
		return Action{}
	case j.s.Tripped.Has(c):
		return j.resetBreaker(c)
	}
	if j.s.knownOn(c) || j.s.Power(c) == house.On && (j.t.loose || j.forbidden(powerOn, c) != "") {
		return Action{}
	}
	if a := j.beforeSwitching(c); a.Kind != Ready {
		return a
	}
	if c == j.feed() {
		if a := j.beforeControl(); a.Kind != Ready {
			return a
		}
	}
	if j.s.CoverOpen(c) {
		if a := j.beforeLive(c); a.Kind != Ready {
			return a
		}
	}
	return j.do(powerOn, c, j.withPower(j.s, c, house.On))
}

// beforeLive is what a cabinet with its cover off needs before power: one
// acknowledgement a visit, and nothing called.
func (j *job) beforeLive(c house.Place) Action {
	if !j.s.Energised.Has(c) && j.has(RuleEnergisedCaution) {
		if why := j.forbidden(openCover, c); why != "" {
			return j.refuse(why)
		}
		after := j.s
		after.Energised.set(c, true)
		return j.caution(cautionEnergised, after)
	}
	return j.quieten()
}

// beforeControl is what comes before 24 V: the warning for whoever stands at
// the open outdoor strip, and a compressor's rest.
func (j *job) beforeControl() Action {
	if a := j.cautionControl(); a.Kind != Ready {
		return a
	}
	outdoor := house.AtOutdoor
	if runsCompressor(j.s.Jumper) && !j.s.Rested && j.has(RuleRest) &&
		(j.s.on(outdoor) || j.f.Equipment.Packaged()) {
		if j.s.on(j.feed()) { // not vouched for: make sure that it rests
			return j.do(powerOff, j.feed(), j.withPower(j.s, j.feed(), house.Off))
		}
		after := j.s
		after.Rested = true
		return j.do(rest, house.NoPlace, after)
	}
	return Action{}
}

// resetBreaker resets a tripped breaker, once.
func (j *job) resetBreaker(c house.Place) Action {
	if j.s.Reset.Has(c) && j.has(RuleOneReset) {
		return j.refuse("the breaker tripped again after one reset; it stays off")
	}
	if why := j.forbidden(resetBreaker, c); why != "" {
		return j.refuse(why)
	}
	after := j.s
	if !after.ResetAsked && j.has(RuleResetCaution) {
		after.ResetAsked = true
		return j.caution(cautionBreaker, after)
	}
	after.ResetAsked = false
	after.Reset.set(c, true)
	after.Tripped.set(c, false)
	return j.do(resetBreaker, c, after)
}

// feedOff makes sure that the indoor feed is off, for work at the wall base:
// locked out where that is wanted anyway, else at its breaker.
func (j *job) feedOff() Action {
	c := j.feed()
	if !j.s.on(c) {
		return Action{}
	}
	if j.wants(c, house.LockedOut) {
		return j.lockOut(j.together(c)...)
	}
	return j.do(powerOff, c, j.withPower(j.s, c, house.Off))
}
