package planner

import (
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Goal is a probe and the complete setup it needs; Probe is any one of a
// batch, since all of a batch share place and class.
type Goal struct {
	Setup house.Setup
	Probe house.Probe
	// Rested asks for the probe after the call has run through five counted
	// minutes, so that no compressor delay is running.
	Rested bool
}

// target is what the house must come to, with everything of a goal that the
// plan depends on; the probe itself is not looked at again.
type target struct {
	house.Setup
	place house.Place // the cabinet or wall base that hands or leads go to
	ohms  bool        // read with power off
	ran   bool        // read once the call has run through five counted minutes
	line  bool        // read at line voltage
	// loose: a look that tells the same whatever is called and whether or not
	// anybody has vouched for the power.
	loose bool
	air   bool // the air at a register is felt
	// leaving: the call ends, no probe follows.
	leaving bool
	any     Places // cabinets whose power makes no difference
	left    Places // places nobody may go back to: what is in there stays
}

// job is one call of Next: the state, the target and what holds for both.
type job struct {
	Planner
	s    State
	t    target
	who  house.Audience
	f    house.Facts
	cabs []house.Place // the house's cabinets
}

var (
	twoCabinets = []house.Place{house.AtIndoor, house.AtOutdoor}
	indoorOnly  = twoCabinets[:1]
	outdoorOnly = twoCabinets[1:]
)

func (p Planner) job(s State, who house.Audience, f house.Facts) *job {
	j := &job{Planner: p, s: s, who: who, f: f, cabs: twoCabinets}
	switch e := f.Equipment; {
	case e.Packaged():
		j.cabs = outdoorOnly
		j.join()
	case e != house.NoEquipment && !e.Has(house.Coil1, house.AtOutdoor):
		j.cabs = indoorOnly
	}
	return j
}

// join makes the keys of a packaged unit's one cabinet agree. They differ only
// where the equipment became known after work had begun; then nothing that
// was proven of either counts.
func (j *job) join() {
	s := &j.s
	if s.PowerIndoor == s.PowerOutdoor && s.CoverIndoor == s.CoverOutdoor {
		return
	}
	open := s.CoverIndoor || s.CoverOutdoor
	s.CoverIndoor, s.CoverOutdoor, s.PowerIndoor = open, open, s.PowerOutdoor
	s.Unknown = PlacesOf(house.AtIndoor, house.AtOutdoor)
	*s = j.settle(*s, *s)
}

// feed is the cabinet whose feed carries the control circuit.
func (j *job) feed() house.Place { return j.f.Equipment.Where(house.AtIndoor) }

// split reports whether c is an outdoor cabinet with a feed of its own, whose
// strip gets its 24 V from indoors.
func (j *job) split(c house.Place) bool {
	return c == house.AtOutdoor && !j.f.Equipment.Packaged()
}

// withPower is s with the feed of cabinet c vouched for at v.
func (j *job) withPower(s State, c house.Place, v house.Power) State {
	if c == house.AtIndoor || j.f.Equipment.Packaged() {
		s.PowerIndoor = v
		s.Unknown.set(house.AtIndoor, false)
	}
	if c == house.AtOutdoor {
		s.PowerOutdoor = v
		s.Unknown.set(house.AtOutdoor, false)
	}
	return s
}

// withCover is s with the cover of cabinet c open or closed.
func (j *job) withCover(s State, c house.Place, open bool) State {
	if c == house.AtIndoor || j.f.Equipment.Packaged() {
		s.CoverIndoor = open
	}
	if c == house.AtOutdoor {
		s.CoverOutdoor = open
	}
	return s
}

// aim turns a goal into the target for this house: what an author left open
// or asked for too freely is settled here, on the safe side.
func (j *job) aim(g Goal) {
	p := g.Probe
	j.t = target{Setup: g.Setup, place: j.f.Equipment.Where(p.At),
		ohms: p.Quantity == quantity.Resistance && !p.IsLook(), line: p.LineClass(),
		loose: p.IsLook() && p.At == house.NoPlace && !p.Look.NeedsPower(),
		air:   p.IsLook() && p.Look == house.Air}
	t := &j.t
	t.ran = (g.Rested || j.s.Jumped) && !t.ohms && (!p.IsLook() || p.Look.NeedsPower())
	if j.f.Equipment.Packaged() {
		t.PowerOutdoor, t.CoverOutdoor = t.PowerIndoor, t.CoverIndoor
	}
	if len(j.cabs) == 1 && j.cabs[0] == house.AtIndoor {
		t.PowerOutdoor, t.CoverOutdoor = j.s.PowerOutdoor, false
	}
	j.aimPower(p)
	if t.Mode == house.ModeOff {
		t.Calling = false
	}
	if t.ohms {
		t.Mode, t.Calling, t.FanOn = house.ModeOff, false, false
	}
	if t.Jumper == 0 {
		t.JumperAt = house.AtThermostat
	}
	// A covered base has no screws to work on while its face is on.
	if j.atBase(t.Setup) && j.f.Base != house.BaseExposed {
		t.Thermostat = house.Removed
	}
}

// atBase reports whether s has a jumper or a lifted conductor at the wall base.
func (j *job) atBase(s house.Setup) bool {
	return s.Jumper != 0 && s.JumperAt == house.AtThermostat ||
		liftedAt(s.Lifted, house.AtThermostat) != house.Conductors{}
}

// aimPower settles what each feed must be. Ohms want every feed locked out.
// Where hands or leads go behind a cover the feed is on or locked out, never
// merely off. Control readings and looks at the outdoor strip go with the
// disconnect locked out, and looks that need no power with the cabinet dead,
// unless a live visit to that cabinet is under way.
func (j *job) aimPower(p house.Probe) {
	t := &j.t
	for _, c := range j.cabs {
		live := j.live(c)
		want := t.Power(c)
		switch {
		case t.ohms && j.has(RuleOhmsLocked):
			want = house.LockedOut
		case c != t.place && p.IsLook() && p.At != house.NoPlace && !p.Look.NeedsPower():
			t.any.set(c, true)
		case c != t.place:
			if want == house.Off && j.split(c) {
				want = house.LockedOut
			}
		case want != house.On:
			want = house.LockedOut
		case p.IsLook() && !p.Look.NeedsPower() && !live,
			j.split(c) && !t.line && !live && j.has(RulePreferLocked):
			want = house.LockedOut
		}
		t.setPower(c, want, j.f.Equipment.Packaged())
	}
}

func (t *target) setPower(c house.Place, v house.Power, packaged bool) {
	if c == house.AtIndoor || packaged {
		t.PowerIndoor = v
	}
	if c == house.AtOutdoor {
		t.PowerOutdoor = v
	}
}

// live reports whether a live visit to cabinet c is under way.
func (j *job) live(c house.Place) bool {
	return j.s.knownOn(c) && j.s.CoverOpen(c) && j.s.Energised.Has(c)
}
