package circuit

import (
	"fmt"
	"math"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// rig builds houses for the signatures, each from a network a mutation may have
// changed, and collects what does not hold.
type rig struct {
	t      testing.TB
	cat    *Catalog
	change func(*plan)
	fails  []string
}

// pick is one choice of a house under test.
type pick struct {
	choice Choice
	option string
}

func (r *rig) house(id house.Equipment, f house.Fault, picks ...pick) *House {
	d := r.cat.Equipment(id).Nominal()
	for _, p := range picks {
		d.set(p.choice, p.option)
	}
	return r.of(d, f)
}

func (r *rig) of(d Draw, f house.Fault) *House {
	b, err := newBench(d, r.change)
	if err != nil {
		r.t.Fatal(err)
	}
	h, err := b.House(f)
	if err != nil {
		r.t.Fatal(err)
	}
	return h
}

func (r *rig) read(h *House, s house.Setup, p house.Probe) float64 {
	x, err := h.Exact(s, p)
	if err != nil {
		r.fails = append(r.fails, fmt.Sprintf("%s in %s: %v", p, s, err))
		return math.NaN()
	}
	if x.OL {
		return 1e12
	}
	return x.Value
}

// between notes a reading outside a range.
func (r *rig) between(what string, got, low, high float64) {
	if !(low <= got && got <= high) {
		r.fails = append(r.fails, fmt.Sprintf("%s: %.4g is not within %.4g to %.4g", what, got, low, high))
	}
}

func (r *rig) volts(what string, h *House, s house.Setup, a, b house.Terminal, at house.Place, low, high float64) {
	r.between(what, r.read(h, s, house.Volts(a, b, at)), low, high)
}

func (r *rig) looks(what string, h *House, s house.Setup, l house.Look, want string) {
	a, err := h.Look(s, l)
	if err != nil {
		r.t.Fatal(err)
	}
	if got := l.AnswerID(a); got != want {
		r.fails = append(r.fails, fmt.Sprintf("%s: %s looks %s, not %s", what, l, got, want))
	}
}

func calling(m house.Mode) house.Setup {
	s := house.DefaultSetup()
	s.Mode, s.Calling = m, true
	return s
}

func pulled() house.Setup {
	s := house.DefaultSetup()
	s.Thermostat = house.Removed
	return s
}

func fanOn() house.Setup {
	s := house.DefaultSetup()
	s.FanOn = true
	return s
}

func lockedOut(s house.Setup) house.Setup {
	s.PowerIndoor, s.PowerOutdoor = house.LockedOut, house.LockedOut
	return s
}

var (
	cool = calling(house.ModeCool)
	heat = calling(house.ModeHeat)
	off  = house.DefaultSetup()
)

// lowZ is a reading in the low-impedance mode.
func lowZ(a, b house.Terminal, at house.Place) house.Probe {
	return house.Measure(quantity.LowZVolts, a, b, at)
}

func ohms(a, b house.Terminal, at house.Place) house.Probe {
	return house.Measure(quantity.Resistance, a, b, at)
}

// signature is one thing a technician knows the circuit to do.
type signature struct {
	name  string
	why   string // the reason, and how it is known
	holds func(*rig)
}

func (r *rig) run(list []signature) []string {
	for _, s := range list {
		before := len(r.fails)
		s.holds(r)
		for i := before; i < len(r.fails); i++ {
			r.fails[i] = s.name + ": " + r.fails[i] + " (" + s.why + ")"
		}
	}
	return r.fails
}

func TestSignatures(t *testing.T) {
	cat := loadAll(t)
	for _, list := range [][]signature{contactSignatures, wireSignatures, coilSignatures, supplySignatures} {
		for _, s := range list {
			t.Run(s.name, func(t *testing.T) {
				r := &rig{t: t, cat: cat}
				for _, fail := range r.run([]signature{s}) {
					t.Error(fail)
				}
			})
		}
	}
}

var contactSignatures = []signature{
	{name: "thermostat off its base", why: "through a good coil R–Y reads almost everything, through a 10 kΩ joint too on 10 MΩ; low impedance tells them apart: computed",
		holds: func(r *rig) {
			good := r.house(house.CoolGas, house.None)
			r.volts("R–Y, good", good, pulled(), house.R, house.Y, house.AtThermostat, 26.5, 26.95)
			r.between("R–Y low impedance, good", r.read(good, pulled(), lowZ(house.R, house.Y, house.AtThermostat)), 26.3, 26.95)
			bad := r.house(house.CoolGas, house.None)
			bad.overrides = append(bad.overrides, held(bad.bench.plan.runs[0][house.Y].far, 10e3))
			r.volts("R–Y, 10 kΩ joint", bad, pulled(), house.R, house.Y, house.AtThermostat, 26.4, 26.9)
			r.between("R–Y low impedance, 10 kΩ joint", r.read(bad, pulled(), lowZ(house.R, house.Y, house.AtThermostat)), 5.5, 6.6)
		}},
	{name: "contact closed and failed open", why: "voltage across a switch says it is open; zero does not prove it closed: an open-licence college electrical text, unit E-4, read",
		holds: func(r *rig) {
			good, open := r.house(house.CoolGas, house.None), r.house(house.CoolGas, house.StatYOpen)
			r.volts("R–Y closed", good, cool, house.R, house.Y, house.AtThermostat, 0, 0.1)
			r.volts("R–Y failed open", open, cool, house.R, house.Y, house.AtThermostat, 26, 26.9)
			r.volts("Y–C failed open", open, cool, house.Y, house.C, house.AtThermostat, 0, 0.2)
			r.volts("G–C beside it", open, cool, house.G, house.C, house.AtThermostat, 26, 26.9)
			none := r.house(house.CoolGas, house.FuseBlown)
			r.volts("R–Y with no power", none, cool, house.R, house.Y, house.AtThermostat, 0, 0.1)
			jumped := pulled()
			jumped.Jumper = house.LettersOf(house.Y)
			r.looks("jumped", open, jumped, house.OutdoorUnit, "running")
		}},
	{name: "stuck contact against bridged cable", why: "both run without a call; pulling the face stops only the contact: practice",
		holds: func(r *rig) {
			stuck, bridged := r.house(house.CoolGas, house.StatYStuck), r.house(house.CoolGas, house.CrossedRY)
			r.looks("stuck", stuck, off, house.OutdoorUnit, "running")
			r.looks("stuck, pulled", stuck, pulled(), house.OutdoorUnit, "stopped")
			r.looks("bridged", bridged, off, house.OutdoorUnit, "running")
			r.looks("bridged, pulled", bridged, pulled(), house.OutdoorUnit, "running")
		}},
	{name: "one lead moved along", why: "fixed lead on common: voltage before and after a switch is closed, before and not after is open: practice",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.PressureSwitchOpen)
			r.volts("before", h, cool, house.Pressure1, house.C, house.AtOutdoor, 25.5, 26.9)
			r.volts("after", h, cool, house.Pressure2, house.C, house.AtOutdoor, 0, 0.1)
			g := r.house(house.CoolGas, house.None)
			r.volts("before, closed", g, cool, house.Pressure1, house.C, house.AtOutdoor, 25.5, 26.9)
			r.volts("after, closed", g, cool, house.Pressure2, house.C, house.AtOutdoor, 25.5, 26.9)
		}},
	{name: "delay and lockout", why: "Y is withheld while G and the valve are on; a lockout feeds L and cuts the coil off: practice",
		holds: func(r *rig) {
			d := r.house(house.PumpCoolingValve, house.DelayRunning)
			r.volts("Y–C in the delay", d, cool, house.Y, house.C, house.AtIndoor, 0, 0.2)
			r.volts("G–C in the delay", d, cool, house.G, house.C, house.AtIndoor, 25, 26.9)
			r.volts("O–C in the delay", d, cool, house.O, house.C, house.AtIndoor, 25, 26.9)
			r.looks("delay", d, cool, house.Display, "waiting")
			l := r.house(house.PumpCoolingValve, house.LockoutOutdoor, pick{FaultWire, "yes"})
			r.volts("L–C locked out", l, cool, house.L, house.C, house.AtThermostat, 24, 26.9)
			r.volts("coil locked out", l, cool, house.Coil1, house.C, house.AtOutdoor, 0, 0.1)
			r.volts("Y–C locked out", l, cool, house.Y, house.C, house.AtOutdoor, 25, 26.9)
			r.looks("lockout", l, cool, house.FaultLight, "on")
			r.looks("no call", l, off, house.FaultLight, "off")
		}},
}

var wireSignatures = []signature{
	{name: "Y open in either run", why: "the run is open between the last place with voltage and the first without: practice",
		holds: func(r *rig) {
			a, b := r.house(house.CoolGas, house.OpenY), r.house(house.CoolGas, house.OpenYOutdoor)
			r.volts("open to the thermostat, at the base", a, cool, house.Y, house.C, house.AtThermostat, 26, 26.9)
			r.volts("open to the thermostat, at the board", a, cool, house.Y, house.C, house.AtIndoor, 0, 0.2)
			r.volts("open outdoors, at the board", b, cool, house.Y, house.C, house.AtIndoor, 26, 26.9)
			r.volts("open outdoors, at the strip", b, cool, house.Y, house.C, house.AtOutdoor, 0, 0.2)
		}},
	{name: "ghosts", why: "a stub floats at part of its neighbours' voltage on 10 MΩ and near nothing in the low-impedance mode: NEMA Bulletin 88, copy; computed",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.OpenY)
			r.volts("stub to C", h, pulled(), house.Y, house.C, house.AtThermostat, 5, 18)
			r.volts("R to the stub", h, pulled(), house.R, house.Y, house.AtThermostat, 16, 23)
			r.between("stub to C, low impedance", r.read(h, pulled(), lowZ(house.Y, house.C, house.AtThermostat)), 0, 0.1)
			r.between("R to the stub, low impedance", r.read(h, pulled(), lowZ(house.R, house.Y, house.AtThermostat)), 0, 0.3)
		}},
	{name: "open coil-side common", why: "0 V across the coil and Y–C at the strip, the same as an open Y; both coil ends float up to R against ground; where R runs out too R–C reads near 0: computed",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.OpenCOutdoor)
			r.volts("coil", h, cool, house.Coil1, house.Coil2, house.AtOutdoor, 0, 0.2)
			r.volts("Y–C", h, cool, house.Y, house.C, house.AtOutdoor, 0, 0.2)
			r.volts("coil-1 to GND", h, cool, house.Coil1, house.GND, house.AtOutdoor, 26, 26.9)
			r.volts("coil-2 to GND", h, cool, house.Coil2, house.GND, house.AtOutdoor, 26, 26.9)
			y := r.house(house.CoolGas, house.OpenYOutdoor)
			r.volts("open Y, coil-1 to GND", y, cool, house.Coil1, house.GND, house.AtOutdoor, 0, 0.2)
			pump := r.house(house.PumpCoolingValve, house.OpenCOutdoor)
			r.volts("pump R–C", pump, cool, house.R, house.C, house.AtOutdoor, 0, 1)
		}},
	{name: "shorts blow on their call only", why: "a short Y–C blows on a cooling call and on heat-pump heating, G–C on any fan call: computed",
		holds: func(r *rig) {
			for _, c := range []struct {
				id    house.Equipment
				f     house.Fault
				s     house.Setup
				blown string
			}{
				{house.CoolGas, house.ShortYC, cool, "blown"}, {house.CoolGas, house.ShortYC, heat, "good"}, {house.CoolGas, house.ShortYC, fanOn(), "good"},
				{house.PumpCoolingValve, house.ShortYC, heat, "blown"}, {house.CoolGas, house.ShortYCOutdoor, cool, "blown"}, {house.CoolGas, house.ShortYCOutdoor, off, "good"},
				{house.CoolGas, house.ShortGC, fanOn(), "blown"}, {house.CoolGas, house.ShortGC, cool, "blown"}, {house.CoolGas, house.ShortGC, heat, "good"},
				{house.CoolGas, house.ShortWC, heat, "blown"}, {house.CoolGas, house.ShortWC, cool, "good"}, {house.CoolGas, house.ShortRC, off, "blown"},
				{house.PumpCoolingValve, house.ShortChangeoverC, cool, "blown"}, {house.PumpCoolingValve, house.ShortChangeoverC, heat, "good"},
				{house.PumpHeatingValve, house.CommonOnB, heat, "blown"}, {house.PumpHeatingValve, house.CommonOnB, cool, "good"},
			} {
				h := r.house(c.id, c.f)
				r.looks(fmt.Sprintf("%s %s in %s", c.id, c.f, c.s), h, c.s, house.FuseLook, c.blown)
			}
		}},
	{name: "history stays in the fuse", why: "a fuse that blew on its call is found blown with nothing called; a new one holds until the call: practice",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.ShortYC)
			if err := h.Play(cool); err != nil {
				r.t.Fatal(err)
			}
			r.looks("as found", h, off, house.FuseLook, "blown")
			fresh := off
			fresh.Fuse = house.FuseNew
			r.looks("new", h, fresh, house.FuseLook, "good")
			fresh.Mode, fresh.Calling = house.ModeCool, true
			r.looks("new, called", h, fresh, house.FuseLook, "blown")
			lifted := fresh
			lifted.Lifted = house.ConductorsOf(house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtThermostat})
			r.looks("new, the short lifted at the board", h, lifted, house.FuseLook, "blown")
			lifted.Thermostat = house.Removed
			r.looks("new, lifted and pulled", h, lifted, house.FuseLook, "good")
		}},
	{name: "loose joint", why: "no load no drop: right at rest, gone under load: practice",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.LooseR, pick{Supply, "battery"})
			r.volts("at rest", h, off, house.R, house.C, house.AtThermostat, 26.5, 26.95)
			r.volts("called", h, cool, house.R, house.C, house.AtThermostat, 2, 8)
			r.volts("called, at the board", h, cool, house.R, house.C, house.AtIndoor, 26, 26.9)
		}},
}
