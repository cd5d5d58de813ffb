package forecast

import (
	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Goals lists the probes that are worth making on an equipment, each in the
// setups it is made in: looks, volts and current on every call, with the
// thermostat off its base and with a jumper, and ohms with the part's own
// conductor lifted. Who may make which is for house.Reach.
func Goals(e *circuit.Equipment) []Goal {
	l := lister{e: e, known: map[Goal]bool{}}
	l.still()
	for _, s := range l.calls() {
		l.calling(s)
	}
	l.pulled()
	for _, t := range l.jumperable() {
		l.jumpered(t)
	}
	l.ohms()
	l.shorts()
	return l.goals
}

type lister struct {
	e     *circuit.Equipment
	goals []Goal
	known map[Goal]bool
}

// add notes a probe in a setup, its cover open, where the equipment has it.
func (l *lister) add(s house.Setup, p house.Probe) {
	id := l.e.ID
	switch {
	case p.IsLook():
		if !id.HasLook(p.Look) {
			return
		}
	case p.Quantity == quantity.Current:
		if !id.Has(p.Conductor.Terminal, p.At) {
			return
		}
	case !id.Has(p.Red, p.At) || !id.Has(p.Black, p.At) || !id.SameWinding(p.Red, p.Black):
		return
	}
	at := p.Cover()
	if at != house.NoPlace {
		at = id.Where(at)
		p.At = at
	}
	s.CoverIndoor, s.CoverOutdoor = at == house.AtIndoor, at == house.AtOutdoor
	if at == house.AtOutdoor && !id.Packaged() && !p.IsLook() && !p.LineClass() && p.Quantity != quantity.Resistance {
		s.PowerOutdoor = house.LockedOut
	}
	g := Goal{s, p}
	if !l.known[g.Key()] {
		l.known[g.Key()] = true
		l.goals = append(l.goals, g)
	}
}

func (l *lister) looks(s house.Setup, looks ...house.Look) {
	for _, look := range looks {
		l.add(s, house.LookAt(look))
	}
}

func (l *lister) volts(s house.Setup, at house.Place, pairs ...house.Terminal) {
	for i := 0; i+1 < len(pairs); i += 2 {
		l.add(s, house.Volts(pairs[i], pairs[i+1], at))
	}
}

// hots are the R screws: one, or one a transformer.
func (l *lister) hots() []house.Terminal {
	if l.e.ID == house.SplitPower {
		return []house.Terminal{house.Rc, house.Rh}
	}
	return []house.Terminal{house.R}
}

// cold is the far side of a letter's transformer.
func (l *lister) cold(t house.Terminal) house.Terminal {
	if l.e.ID == house.SplitPower && (t == house.W || t == house.Rh) {
		return house.HeatSec2
	}
	return house.C
}

// letters are those that carry a call.
func (l *lister) letters() []house.Terminal {
	c := l.e.Calls
	return (c.Cool | c.Heat | c.Emergency | c.Fan).Add(c.Changeover).List()
}

// supply is R to C where there is one, the letters to C, and the fault line.
func (l *lister) supply(s house.Setup, at house.Place) {
	for _, r := range l.hots() {
		l.volts(s, at, r, l.cold(r))
	}
	for _, t := range append(l.letters(), house.L) {
		l.volts(s, at, t, l.cold(t))
	}
}

// still is the house as it stands, nothing called.
func (l *lister) still() {
	s := house.DefaultSetup()
	l.looks(s, house.Display, house.IndoorFan, house.OutdoorUnit, house.Air, house.BreakerIndoor, house.BreakerOutdoor,
		house.DrainPan, house.PanelIndoor, house.ChangeoverSetting, house.ChangeoverRated, house.BoardLight, house.FuseLook,
		house.ContactorLook, house.Burner)
	for _, at := range house.Places() {
		l.supply(s, at)
	}
	l.volts(s, house.AtIndoor, house.Sec1, house.Sec2, house.Fuse1, house.Fuse2, house.Pri1, house.Pri2, house.Feed1, house.Feed2,
		house.Door1, house.Door2, house.HeatSec1, house.HeatSec2, house.HeatPri1, house.HeatPri2)
	l.volts(s, house.AtOutdoor, house.L1, house.L2, house.T1, house.T2)
}

// calls are the setups of every call, and of a changeover without one.
func (l *lister) calls() []house.Setup {
	c := l.e.Calls
	var out []house.Setup
	for _, call := range []struct {
		mode house.Mode
		on   house.Letters
	}{{house.ModeCool, c.Cool}, {house.ModeHeat, c.Heat}, {house.ModeEmergency, c.Emergency}} {
		if call.on == 0 {
			continue
		}
		s := house.DefaultSetup()
		s.Mode = call.mode
		if c.Changeover != house.NoTerminal && call.mode == c.EnergisedIn {
			out = append(out, s)
		}
		s.Calling = true
		out = append(out, s)
	}
	if c.Fan != 0 {
		s := house.DefaultSetup()
		s.FanOn = true
		out = append(out, s)
	}
	return out
}

// calling is everything worth knowing on one call.
func (l *lister) calling(s house.Setup) {
	l.looks(s, house.Display, house.IndoorFan, house.OutdoorUnit, house.Air, house.Burner, house.FaultLight,
		house.ContactorLook, house.Stage2Look, house.BatteriesNew, house.FuseLook, house.BoardLight)
	for _, at := range house.Places() {
		l.supply(s, at)
	}
	l.volts(s, house.AtIndoor, house.Float1, house.Float2, house.Limit1, house.Limit2, house.Rollout1, house.Rollout2,
		house.Gas1, house.Gas2, house.Seq1, house.Seq2, house.Relay1, house.Relay2)
	l.volts(s, house.AtOutdoor, house.Pressure1, house.Pressure2, house.Coil1, house.Coil2, house.Coil1, house.GND,
		house.Coil2, house.GND, house.Valve1, house.Valve2, house.Stage2In, house.Stage2Out, house.L1, house.L2, house.T1, house.T2)
	l.add(s, house.Clamp(house.Conductor{Terminal: house.Coil1, At: house.AtOutdoor}))
}

// pulled is the thermostat off its base.
func (l *lister) pulled() {
	s := house.DefaultSetup()
	s.Thermostat = house.Removed
	l.looks(s, house.IndoorFan, house.OutdoorUnit, house.Air)
	l.supply(s, house.AtThermostat)
	l.supply(s, house.AtIndoor)
	for _, r := range l.hots() {
		l.add(s, house.Measure(quantity.LowZVolts, r, l.cold(r), house.AtThermostat))
	}
	for _, t := range l.letters() {
		l.add(s, house.Measure(quantity.LowZVolts, l.e.Hot(t), t, house.AtThermostat))
		l.add(s, house.Measure(quantity.LowZVolts, t, l.cold(t), house.AtThermostat))
	}
}

// jumperable are the letters R may be joined to for a test.
func (l *lister) jumperable() []house.Terminal {
	var out []house.Terminal
	for _, t := range l.letters() {
		if t != house.B {
			out = append(out, t)
		}
	}
	return out
}

// jumpered is R joined to a letter, at the base and at the board.
func (l *lister) jumpered(t house.Terminal) {
	s := house.DefaultSetup()
	s.Thermostat, s.Jumper, s.JumperAt = house.Removed, house.LettersOf(t), house.AtThermostat
	look := []house.Look{house.IndoorFan, house.OutdoorUnit, house.Air, house.Burner, house.ContactorLook}
	l.looks(s, look...)
	l.volts(s, house.AtThermostat, t, l.cold(t))
	l.volts(s, house.AtIndoor, t, l.cold(t), l.e.Hot(t), l.cold(t))
	l.volts(s, house.AtOutdoor, t, house.C)
	s.JumperAt = house.AtIndoor
	l.looks(s, look...)
	l.volts(s, house.AtIndoor, t, l.cold(t))
	l.volts(s, house.AtOutdoor, t, house.C)
}

// dark is the house locked out for ohms.
func dark() house.Setup {
	s := house.DefaultSetup()
	s.PowerIndoor, s.PowerOutdoor = house.LockedOut, house.LockedOut
	return s
}

// ohms is each part by itself, its own conductor off.
func (l *lister) ohms() {
	for _, part := range []struct {
		at         house.Place
		one, other house.Terminal
		lift       bool
	}{
		{house.AtIndoor, house.Fuse1, house.Fuse2, false}, {house.AtIndoor, house.Float1, house.Float2, false},
		{house.AtIndoor, house.Limit1, house.Limit2, false}, {house.AtIndoor, house.Rollout1, house.Rollout2, false},
		{house.AtIndoor, house.Sec1, house.Sec2, true}, {house.AtIndoor, house.Pri1, house.Pri2, false},
		{house.AtIndoor, house.Relay1, house.Relay2, true}, {house.AtIndoor, house.Seq1, house.Seq2, true},
		{house.AtOutdoor, house.Coil1, house.Coil2, true}, {house.AtOutdoor, house.Pressure1, house.Pressure2, false},
		{house.AtOutdoor, house.Valve1, house.Valve2, true}, {house.AtOutdoor, house.Stage2In, house.Stage2Out, true},
	} {
		s := dark()
		if part.lift {
			s.Lifted = house.ConductorsOf(house.Conductor{Terminal: part.one, At: l.e.ID.Where(part.at)})
		}
		l.add(s, house.Measure(quantity.Resistance, part.one, part.other, part.at))
	}
}

// shorts finds a short: ohms of each conductor from the board with the other
// ones of its screw off, and a resettable breaker in the fuse's place on every
// call.
func (l *lister) shorts() {
	board := l.e.Board()
	for _, t := range append(l.hots(), l.letters()...) {
		toStat := house.Conductor{Terminal: t, At: board, To: house.AtThermostat}
		out := house.Conductor{Terminal: t, At: board, To: house.AtOutdoor}
		s := dark()
		s.Thermostat = house.Removed
		s.Lifted = house.ConductorsOf(out)
		l.add(s, house.Measure(quantity.Resistance, t, l.cold(t), board))
		s.Lifted = house.ConductorsOf(toStat)
		l.add(s, house.Measure(quantity.Resistance, t, l.cold(t), board))
		s.Lifted = house.Conductors{}
		l.add(s, house.Measure(quantity.Resistance, t, l.cold(t), house.AtThermostat))
		l.add(s, house.Measure(quantity.Resistance, l.e.Hot(t), t, house.AtThermostat))
	}
	for _, s := range append(l.calls(), house.DefaultSetup()) {
		s.Fuse = house.FuseBreaker
		for _, r := range l.hots() {
			l.volts(s, board, r, l.cold(r))
		}
	}
}
