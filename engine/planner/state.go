package planner

import (
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Places is a set of places.
type Places uint8

// PlacesOf makes a set.
func PlacesOf(places ...house.Place) Places {
	var s Places
	for _, p := range places {
		s |= 1 << p
	}
	return s
}

// Has reports whether p is in the set.
func (s Places) Has(p house.Place) bool { return s&(1<<p) != 0 }

// List gives the places in their usual order.
func (s Places) List() []house.Place {
	var out []house.Place
	for _, p := range house.Places() {
		if s.Has(p) {
			out = append(out, p)
		}
	}
	return out
}

func (s *Places) set(p house.Place, in bool) {
	if *s &^= 1 << p; in {
		*s |= 1 << p
	}
}

// State is the house as the call left it, and what was proven, acknowledged
// and counted on the way. It is comparable. In a packaged unit the indoor and
// the outdoor keys of the setup are one and move together.
type State struct {
	house.Setup

	// Unknown holds the cabinets whose power nobody has vouched for: treated
	// as live where hands go, and as off where a reading needs power.
	Unknown Places
	// StatUnknown is set while nobody in this sitting has set the thermostat.
	StatUnknown bool

	Tried      Places // locked out, controls tried, nothing started
	Dead       Places // proven dead: at a cabinet's incoming line, at the wall base from R
	Discharged Places // capacitors discharged and proven
	StripDead  bool   // the outdoor strip proven free of 24 V
	NotDead    Places // could not be proven dead: nobody goes back

	// Acknowledgements. A lockout's is used up by the lock it was asked for.
	Lockout, Energised, Line        Places
	ControlPower, FacePull, Jumpers bool
	Fuses, ResetAsked               bool

	Rested         bool // five minutes counted since a compressor may have run
	Jumped         bool // a jumper ran a compressor: the thermostat's delay starts afresh
	Ran            bool // the present call has run through five counted minutes
	LowVoltageStat bool // somebody looked: an ordinary low-voltage thermostat
	FloatClosed    bool // a reading showed the float switch closed
	NewFuseUsed    bool // one new fuse was fitted
	Tripped, Reset Places
}

// Start is a house nobody has touched yet: power on, covers closed, the
// thermostat as its people left it.
func Start() State {
	return State{Setup: house.DefaultSetup(), StatUnknown: true}
}

// Resume is s after a pause of unknown length. The house stays as it was
// recorded; its power is unknown, and what was proven, counted or
// acknowledged has lapsed.
func Resume(s State) State { return Planner{}.Resume(s) }

// Resume is the function of that name, by this planner's rules.
func (p Planner) Resume(s State) State {
	s.StatUnknown = true
	if p.has(RuleResumePower) {
		s.Unknown = PlacesOf(house.AtIndoor, house.AtOutdoor)
		s.Tried, s.Dead, s.Discharged, s.StripDead, s.Rested, s.Ran = 0, 0, 0, false, false, false
	}
	if p.has(RuleResumeAsked) {
		s.Lockout, s.Energised, s.Line = 0, 0, 0
		s.ControlPower, s.FacePull, s.Jumpers, s.Fuses, s.ResetAsked = false, false, false, false, false
	}
	if p.has(RuleResumeFloat) {
		s.FloatClosed = false
	}
	return s
}

// Forget takes back what an answer had told, as it stood in before. Everything
// done to the house since then stays done.
func (s State) Forget(before State) State {
	s.LowVoltageStat, s.FloatClosed = before.LowVoltageStat, before.FloatClosed
	s.Tripped = before.Tripped
	return s
}

// R to C at the wall base shows a float switch in R closed when it reads at
// least this, in V rms: the least a 24 V coil works at (85 % of rated, 20.4 V,
// TM 5-683), less a meter's error. Across the switch itself, locked out, it is
// closed below this many ohms: leads and contact, and less than any coil that
// lies in parallel (common practice).
const (
	floatClosedVolts = 20.0
	floatClosedOhms  = 3.0
)

// Read is s after probe p showed r. A batch read at line voltage uses up its
// caution; a reading may show the float switch closed or open.
func (s State) Read(p house.Probe, r quantity.Reading) State { return Planner{}.Read(s, p, r) }

// Read is State.Read, by this planner's rules.
func (pl Planner) Read(s State, p house.Probe, r quantity.Reading) State {
	if p.LineClass() && pl.has(RuleLapseLine) {
		s.Line.set(p.At, false)
	}
	v, ok := r.Number()
	switch {
	case !ok || p.IsLook():
	case p.At == house.AtThermostat && pairOf(p, house.R, house.C),
		p.At == house.AtThermostat && pairOf(p, house.Rc, house.C):
		if p.Quantity == quantity.ACVolts || p.Quantity == quantity.LowZVolts {
			s.FloatClosed = v >= floatClosedVolts
		}
	case pairOf(p, house.Float1, house.Float2) && p.Quantity == quantity.Resistance:
		s.FloatClosed = v < floatClosedOhms
	}
	if r.OL && pairOf(p, house.Float1, house.Float2) {
		s.FloatClosed = false
	}
	return s
}

// Marks are the readings of p, V rms or ohms, at which Read takes the house for
// another.
func Marks(p house.Probe) []float64 {
	switch {
	case p.IsLook():
	case p.At == house.AtThermostat && p.Quantity.Unit() == "V" && (pairOf(p, house.R, house.C) || pairOf(p, house.Rc, house.C)):
		return []float64{floatClosedVolts}
	case p.Quantity == quantity.Resistance && pairOf(p, house.Float1, house.Float2):
		return []float64{floatClosedOhms}
	}
	return nil
}

func pairOf(p house.Probe, a, b house.Terminal) bool {
	return p.Red == a && p.Black == b || p.Red == b && p.Black == a
}

// Saw is s after look l was answered a: the kind of thermostat, and a breaker
// that tripped.
func (s State) Saw(l house.Look, a house.Answer) State {
	at := house.NoPlace
	switch l {
	case house.StatKind:
		s.LowVoltageStat = l.AnswerID(a) == "low-voltage"
	case house.BreakerIndoor:
		at = house.AtIndoor
	case house.BreakerOutdoor:
		at = house.AtOutdoor
	}
	if at != house.NoPlace {
		s.Tripped.set(at, l.AnswerID(a) == "tripped")
	}
	return s
}

// on reports whether the feed of cabinet c may be on: on, or not vouched for.
func (s State) on(c house.Place) bool { return s.Power(c) == house.On || s.Unknown.Has(c) }

// knownOn reports whether the feed of cabinet c is on for certain.
func (s State) knownOn(c house.Place) bool { return s.Power(c) == house.On && !s.Unknown.Has(c) }

// locked reports whether the feed of cabinet c is locked out for certain.
func (s State) locked(c house.Place) bool {
	return s.Power(c) == house.LockedOut && !s.Unknown.Has(c)
}

// workable reports whether hands may go into cabinet c: locked out, open, proven
// dead and discharged.
func (s State) workable(c house.Place) bool {
	return s.locked(c) && s.CoverOpen(c) && s.Dead.Has(c) && s.Discharged.Has(c)
}

// statOff reports whether the thermostat calls nothing for certain.
func (s State) statOff() bool {
	return s.Thermostat == house.Removed ||
		!s.StatUnknown && s.Mode == house.ModeOff && !s.Calling && !s.FanOn
}

// runsCall reports whether the thermostat's own call runs for certain.
func (s State) runsCall() bool {
	return s.Calling && s.Thermostat == house.Mounted && s.Jumper == 0 && s.knownOn(house.AtIndoor) && !s.StatUnknown
}

// runsCompressor reports whether the jumper calls for a compressor.
func runsCompressor(j house.Letters) bool { return j.Has(house.Y) || j.Has(house.Y2) }

// liftMask holds, for each place, every conductor whose screw is there.
var liftMask = func() (mask [4]house.Conductors) {
	for _, c := range house.AllConductors() {
		mask[c.At] = mask[c.At].Add(c)
	}
	return mask
}()

// liftedAt is the part of set whose screws are at p.
func liftedAt(set house.Conductors, p house.Place) house.Conductors {
	m := liftMask[p]
	return house.Conductors{set[0] & m[0], set[1] & m[1]}
}

// settle is the state after an action that took b to a: whatever rested on a
// state of the house that is no more has lapsed.
func (p Planner) settle(b, a State) State {
	for _, c := range [...]house.Place{house.AtIndoor, house.AtOutdoor} {
		p.lapsePower(b, &a, c)
		if !a.CoverOpen(c) {
			p.lapseCover(&a, c)
		}
	}
	if a.StripDead && p.has(RuleLapseStrip) {
		a.StripDead = a.locked(house.AtIndoor) && a.Dead.Has(house.AtOutdoor)
	}
	if !a.locked(house.AtIndoor) && p.has(RuleLapseBase) {
		a.Dead.set(house.AtThermostat, false)
	}
	if p.has(RuleLapseControl) && !(a.CoverOutdoor && a.locked(house.AtOutdoor)) {
		a.ControlPower = false
	}
	if a.on(house.AtIndoor) && a.on(house.AtOutdoor) && p.has(RuleLapseRest) {
		a.Rested = false
	}
	if b.Thermostat == house.Removed && a.Thermostat == house.Mounted {
		a.FacePull = false
	}
	if b.Jumper != 0 && a.Jumper == 0 {
		a.Jumpers = false
		a.Jumped = a.Jumped || runsCompressor(b.Jumper)
	}
	if a.Ran && p.has(RuleLapseCount) {
		a.Ran = a.runsCall() && a.Mode == b.Mode && a.FanOn == b.FanOn
	}
	return a
}

// lapsePower drops what rested on cabinet c being locked out, or on.
func (p Planner) lapsePower(b State, a *State, c house.Place) {
	if a.locked(c) {
		if p.has(RuleLapseLockout) {
			a.Lockout.set(c, false)
		}
		a.Line.set(c, false)
		return
	}
	drop := func(r Rule, s *Places) {
		if p.has(r) {
			s.set(c, false)
		}
	}
	drop(RuleLapseTried, &a.Tried)
	drop(RuleLapseDead, &a.Dead)
	drop(RuleLapseCharge, &a.Discharged)
	// A lockout that was acknowledged and then not made lapses with the next
	// call, so that it never reaches into another piece of work.
	if b.statOff() && !a.statOff() {
		drop(RuleLapseLockout, &a.Lockout)
	}
}

// lapseCover drops what rested on the cover of cabinet c being open.
func (p Planner) lapseCover(a *State, c house.Place) {
	if p.has(RuleLapseCover) {
		a.Dead.set(c, false)
		a.Discharged.set(c, false)
	}
	if p.has(RuleLapseEnergised) {
		a.Energised.set(c, false)
	}
	a.Line.set(c, false)
}
