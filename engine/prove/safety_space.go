package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// A planner can tell probes apart only by what they are to safety: a look at
// large or behind which cover, with or without power; a reading at which
// place, on ohms or not, at line voltage or not. classes holds one of each.
// Letters, conductors and calls are told apart only by being the same or not
// the same as in the house, by their place, and by whether they call a
// compressor or anything at all; two of each kind therefore stand for all. The
// tests hold both claims against the whole vocabulary.
func classes(e house.Equipment) []house.Probe {
	looks := []house.Look{house.Air, house.BreakerIndoor, house.DrainPan, house.StatKind,
		house.ContactorLook, house.FuseLook, house.BoardLight, house.ChangeoverRated}
	var out []house.Probe
	for _, l := range looks {
		if bare(e) || e.HasLook(l) {
			p := house.LookAt(l)
			p.At = e.Where(p.At)
			out = append(out, p)
		}
	}
	ohms := quantity.Resistance
	for _, p := range []house.Probe{
		house.Volts(house.R, house.C, house.AtThermostat),
		house.Measure(ohms, house.R, house.C, house.AtThermostat),
		house.Volts(house.R, house.C, e.Where(house.AtIndoor)),
		house.Measure(ohms, house.R, house.C, e.Where(house.AtIndoor)),
		house.Volts(house.Door1, house.Door2, e.Where(house.AtIndoor)),
		house.Volts(house.Coil1, house.Coil2, house.AtOutdoor),
		house.Measure(ohms, house.Coil1, house.Coil2, house.AtOutdoor),
		house.Volts(house.L1, house.L2, house.AtOutdoor),
	} {
		if bare(e) || e.Has(p.Red, p.At) && e.Has(p.Black, p.At) {
			out = append(out, p)
		}
	}
	return out
}

// bare: nothing is known of e's terminals.
func bare(e house.Equipment) bool { return e == house.NoEquipment || e.Handling() != house.Modelled }

// Spaces lists what WalkPlanner walks. The whole product of every key of a
// setup is far larger than what a planner can tell apart, so it is walked in
// slices: visits, the shortest, finds most mistakes soonest; then every combination of power, covers, face and call with every class
// of probe; then jumpers, lifted conductors and fuses, each in every value,
// with face and call; then all three together. Brief keeps to the first of
// these and to the smallest house.
func Spaces(brief bool) []Space {
	var out []Space
	for _, k := range sites {
		for _, who := range house.Audiences() {
			for _, s := range parts {
				if !k.walks(s, who, brief) {
					continue
				}
				if k.large && k.name != sites[0].name && s.name == "power" {
					s.probes = few // these differ from the first house at the base and in what is known
				}
				out = append(out, Space{Name: k.name + ", " + who.String() + ", " + s.name, Who: who, Facts: k.facts(),
					Goals: s.goals(k.equipment), Floats: s.jumpers, Trips: s.trips})
			}
		}
	}
	return out
}

// sites are the houses a planner can tell apart: two cabinets, one outdoors,
// one indoors, something declined or unknown; screws that show, or do not.
var sites = []siteKind{
	{"two cabinets, covered base", house.PumpCoolingValve, house.BaseCovered, true},
	{"two cabinets, exposed base", house.PumpCoolingValve, house.BaseExposed, true},
	{"packaged", house.PackagedPump, house.BaseCovered, false},
	{"indoor only", house.HeatOnly, house.BaseCovered, false},
	{"declined", house.MiniSplit, house.BaseCovered, false},
	{"unknown equipment", house.NoEquipment, house.BaseUnknown, true},
}

type siteKind struct {
	name      string
	equipment house.Equipment
	base      house.Base
	large     bool
}

func (k siteKind) facts() house.Facts {
	return house.Facts{Equipment: k.equipment, EquipmentAsked: true, Base: k.base, Meter: house.MeterBoth}
}

// walks: the largest walks are made once, in the first house.
func (k siteKind) walks(s slice, who house.Audience, brief bool) bool {
	switch {
	case s.name == "visits" || s.name == "trips" || who != house.Tech || k.name == "indoor only":
		return true
	case brief:
		return s.name == "power" && !k.large
	}
	return !k.large || s.name == "power" || k.name == sites[0].name
}

// slice is one part of the product of all setups.
type slice struct {
	name string
	// what varies beside the probe, the face and the call
	feeds, covers, jumpers, lifts, fuses, trips, together bool
	probes                                                func(house.Equipment) []house.Probe
}

var parts = []slice{
	{name: "visits", probes: func(e house.Equipment) []house.Probe { return classes(e)[4:] }},
	{name: "power", feeds: true, covers: true, probes: classes},
	{name: "jumpers", jumpers: true, probes: classes},
	{name: "lifts", lifts: true, probes: classes},
	{name: "fuses", fuses: true, probes: classes},
	{name: "trips", feeds: true, trips: true, probes: func(e house.Equipment) []house.Probe { return classes(e)[:2] }},
	{name: "together", together: true, probes: few},
}

// few are a look, live readings and ohms, where much else varies.
func few(e house.Equipment) []house.Probe {
	return []house.Probe{house.LookAt(house.Air), house.Volts(house.R, house.C, house.AtThermostat),
		house.Volts(house.R, house.C, e.Where(house.AtIndoor)),
		house.Measure(quantity.Resistance, house.R, house.C, e.Where(house.AtIndoor))}
}

func (s slice) goals(e house.Equipment) []planner.Goal {
	setups := []house.Setup{house.DefaultSetup()}
	vary := func(wanted bool, values ...func(*house.Setup)) {
		if !wanted {
			return
		}
		var out []house.Setup
		for _, setup := range setups {
			for _, v := range values {
				next := setup
				v(&next)
				out = append(out, next)
			}
		}
		setups = out
	}
	same := func(*house.Setup) {}
	vary(true, same, func(s *house.Setup) { s.Thermostat = house.Removed })
	calls := []func(*house.Setup){same, func(s *house.Setup) { s.Mode, s.Calling = house.ModeCool, true },
		func(s *house.Setup) { s.FanOn = true }}
	jumpers := []func(*house.Setup){same, jumper(house.AtThermostat, house.Y), jumper(house.AtThermostat, house.G),
		jumper(house.AtIndoor, house.Y), jumper(house.AtIndoor, house.G),
		jumper(house.AtThermostat, house.Y, house.G), jumper(house.AtThermostat, house.W), jumper(house.AtThermostat, house.C)}
	fuses := []func(*house.Setup){same, fuse(house.FuseNew), fuse(house.FuseBreaker), fuse(house.FuseOut)}
	if !e.Packaged() { // the small house takes the rarer values
		calls, jumpers, fuses = calls[:2], jumpers[:5], fuses[:3]
	}
	vary(!s.together, calls...)
	vary(s.feeds, feed(house.On, house.On), feed(house.On, house.LockedOut), feed(house.Off, house.On),
		feed(house.Off, house.Off), feed(house.LockedOut, house.On), feed(house.LockedOut, house.LockedOut))
	vary(s.covers, cover(false, false), cover(true, true))
	vary(!s.covers, cover(true, true)) // as it stands
	vary(s.jumpers, jumpers...)
	vary(s.lifts, lifts(e)...)
	vary(s.fuses, fuses...)
	vary(s.together, same, jumper(house.AtIndoor, house.Y), jumper(house.AtThermostat, house.Y))
	vary(s.together, lifts(e)[1:4]...)
	vary(s.together, same, fuse(house.FuseBreaker))
	var out []planner.Goal
	for _, setup := range setups {
		for _, p := range s.probes(e) {
			out = append(out, planner.Goal{Setup: setup, Probe: p})
		}
	}
	return out
}

func feed(in, out house.Power) func(*house.Setup) {
	return func(s *house.Setup) { s.PowerIndoor, s.PowerOutdoor = in, out }
}

func cover(in, out bool) func(*house.Setup) {
	return func(s *house.Setup) { s.CoverIndoor, s.CoverOutdoor = in, out }
}

func fuse(f house.Fuse) func(*house.Setup) { return func(s *house.Setup) { s.Fuse = f } }

func jumper(at house.Place, to ...house.Terminal) func(*house.Setup) {
	return func(s *house.Setup) { s.Jumper, s.JumperAt = house.LettersOf(to...), at }
}

// lifts are none, one and another at each place.
func lifts(e house.Equipment) []func(*house.Setup) {
	var sets []house.Conductors
	add := func(cs ...house.Conductor) { sets = append(sets, house.ConductorsOf(cs...)) }
	base := house.Conductor{Terminal: house.R, At: house.AtThermostat}
	board := house.Conductor{Terminal: house.R, At: house.AtIndoor, To: house.AtThermostat}
	other := house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor}
	coil := house.Conductor{Terminal: house.Coil1, At: house.AtOutdoor}
	switch {
	case e.Packaged():
		board = house.Conductor{Terminal: house.R, At: house.AtOutdoor, To: house.AtThermostat}
		other = coil
	case e == house.HeatOnly:
		coil, other = board, house.Conductor{Terminal: house.Sec1, At: house.AtIndoor}
	}
	add()
	add(board)
	add(coil)
	add(base)
	add(board, other)
	var out []func(*house.Setup)
	for _, set := range sets {
		out = append(out, func(s *house.Setup) { s.Lifted = set })
	}
	return out
}
