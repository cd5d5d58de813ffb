package planner

import "stepdown/engine/house"

// wanted is the setup the target asks for behind the covers and at the wall
// base, with what lies in a cabinet nobody may go back into left as it is.
func (j *job) wanted() house.Setup {
	w := j.t.Setup
	if j.t.left == 0 {
		return w
	}
	for _, p := range j.t.left.List() {
		w.Lifted = w.Lifted.Union(liftedAt(j.s.Lifted, p))
		if j.s.Jumper != 0 && j.f.Equipment.Where(j.s.JumperAt) == p {
			w.Jumper, w.JumperAt = j.s.Jumper, j.s.JumperAt
		}
		if p == j.feed() {
			w.Fuse = j.s.Fuse
		}
	}
	return w
}

// takeOut takes jumpers out and lands conductors the target does not want,
// cabinets first, since they have to be locked out for it.
func (j *job) takeOut() Action {
	s, w := j.s, j.wanted()
	extra := s.Lifted.Minus(w.Lifted)
	jumper := s.Jumper != 0 && (s.Jumper != w.Jumper || s.JumperAt != w.JumperAt)
	for _, p := range [...]house.Place{house.AtIndoor, house.AtOutdoor, house.AtThermostat} {
		if jumper && j.f.Equipment.Where(s.JumperAt) == p {
			after := s
			after.Jumper, after.JumperAt = 0, house.AtThermostat
			return j.touch(p, jumperOut, after)
		}
		if gone := liftedAt(extra, p); !gone.Empty() {
			after := s
			after.Lifted = s.Lifted.Minus(gone)
			return j.touch(p, land, after)
		}
	}
	return Action{}
}

// putIn changes the fuse, lifts conductors and fits the jumper.
func (j *job) putIn() Action {
	s, w := j.s, j.wanted()
	if s.Fuse != w.Fuse {
		return j.changeFuse(w.Fuse)
	}
	more := w.Lifted.Minus(s.Lifted)
	for _, p := range [...]house.Place{house.AtIndoor, house.AtOutdoor, house.AtThermostat} {
		if add := liftedAt(more, p); !add.Empty() {
			after := s
			after.Lifted = s.Lifted.Union(add)
			return j.touch(p, lift, after)
		}
	}
	if s.Jumper == w.Jumper {
		return Action{}
	}
	after := s
	if !s.Jumpers && j.has(RuleJumperCaution) {
		after.Jumpers = true
		return j.caution(cautionJumper, after)
	}
	after.Jumper, after.JumperAt = w.Jumper, w.JumperAt
	return j.touch(j.f.Equipment.Where(w.JumperAt), jumperIn, after)
}

func (j *job) changeFuse(to house.Fuse) Action {
	after := j.s
	if fits := to == house.FuseNew || to == house.FuseBreaker; fits && !j.s.Fuses && j.has(RuleFuseCaution) {
		after.Fuses = true
		return j.caution(cautionFuse, after)
	}
	after.Fuse = to
	after.NewFuseUsed = after.NewFuseUsed || to == house.FuseNew
	return j.touch(j.feed(), changeFuse, after)
}

// touch does v at p once p is fit for hands.
func (j *job) touch(p house.Place, v verb, after State) Action {
	if why := j.forbidden(v, p); why != "" {
		return j.refuse(why)
	}
	var a Action
	if p == house.AtThermostat {
		a = j.readyBase()
	} else {
		a = j.readyCabinet(p)
	}
	if a.Kind != Ready {
		return a
	}
	return j.do(v, p, after)
}

// readyCabinet makes cabinet c fit for hands; outdoors that takes the 24 V
// from indoors away as well.
func (j *job) readyCabinet(c house.Place) Action {
	if !j.has(RuleDeadTouch) {
		return Action{}
	}
	if a := j.openDead(c); a.Kind != Ready || !j.split(c) {
		return a
	}
	return j.proveStrip()
}

// readyBase makes the wall base fit for hands: its feed off, its screws bare.
func (j *job) readyBase() Action {
	if j.has(RuleFeedOffBase) {
		if a := j.feedOff(); a.Kind != Ready {
			return a
		}
	}
	if j.s.Thermostat == house.Mounted && j.f.Base != house.BaseExposed {
		return j.pullFace()
	}
	return Action{}
}

// moveFace pulls or mounts the thermostat's face.
func (j *job) moveFace() Action {
	switch {
	case j.s.Thermostat == j.t.Thermostat:
		return Action{}
	case j.t.Thermostat == house.Removed:
		return j.pullFace()
	}
	if a := j.faceFeed(mountFace); a.Kind != Ready {
		return a
	}
	after := j.s
	after.Thermostat = house.Mounted
	return j.do(mountFace, house.NoPlace, after)
}

func (j *job) pullFace() Action {
	after := j.s
	if why := j.forbidden(pullFace, house.NoPlace); why != "" {
		return j.refuse(why)
	}
	if j.who == house.Homeowner && !j.s.FacePull && j.has(RuleFaceCaution) {
		after.FacePull = true
		return j.caution(cautionFacePull, after)
	}
	if a := j.faceFeed(pullFace); a.Kind != Ready {
		return a
	}
	after.Thermostat = house.Removed
	return j.do(pullFace, house.NoPlace, after)
}

// faceFeed: a homeowner moves the face with the air handler's breaker off.
func (j *job) faceFeed(v verb) Action {
	if j.who == house.Tech || !j.has(RuleFeedOffFace) {
		return Action{}
	}
	if why := j.forbidden(v, house.NoPlace); why != "" {
		return j.refuse(why)
	}
	return j.feedOff()
}
