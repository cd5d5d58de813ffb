package circuit

import (
	"math"

	"stepdown/engine/house"
)

var coilSignatures = []signature{
	{name: "open coil", why: "right voltage across a load that does not work: the load failed (an open-licence college electrical text, unit E-4, read); OL isolated; at the thermostat, calling, it looks healthy: practice",
		holds: func(r *rig) {
			good, open := r.house(house.CoolGas, house.None), r.house(house.CoolGas, house.ContactorCoilOpen)
			r.volts("coil", open, cool, house.Coil1, house.Coil2, house.AtOutdoor, 26, 26.9)
			r.looks("contactor", open, cool, house.ContactorLook, "released")
			for _, p := range []house.Probe{house.Volts(house.R, house.C, house.AtThermostat), house.Volts(house.Y, house.C, house.AtThermostat), house.Volts(house.R, house.Y, house.AtThermostat)} {
				if a, b := r.read(good, cool, p), r.read(open, cool, p); math.Abs(a-b) > 0.8 {
					r.between("same at the thermostat, "+p.String(), b, a-0.8, a+0.8)
				}
			}
			lifted := lockedOut(pulled())
			lifted.Lifted = house.ConductorsOf(house.Conductor{Terminal: house.Coil1, At: house.AtOutdoor})
			r.between("lifted, open", r.read(open, lifted, ohms(house.Coil1, house.Coil2, house.AtOutdoor)), 2e6, 1e13)
			r.between("lifted, good", r.read(good, lifted, ohms(house.Coil1, house.Coil2, house.AtOutdoor)), 9.9, 10.1)
		}},
	{name: "unlifted ohms", why: "an unlifted open coil reads the path beside it, a good one barely changes: computed",
		holds: func(r *rig) {
			p := ohms(house.Coil1, house.Coil2, house.AtOutdoor)
			s := lockedOut(pulled())
			r.between("open, sensing board", r.read(r.house(house.CoolGas, house.ContactorCoilOpen, pick{Sensing, "yes"}), s, p), 1900, 2100)
			r.between("open, no sensing", r.read(r.house(house.CoolGas, house.ContactorCoilOpen), s, p), 1e6, 1e13)
			r.between("good, sensing board", r.read(r.house(house.CoolGas, house.None, pick{Sensing, "yes"}), s, p), 9.8, 10.1)
		}},
	{name: "shorted coil", why: "it takes what the transformer gives, and the fuse, only when called: computed",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.ContactorCoilShorted)
			r.looks("at rest", h, off, house.FuseLook, "good")
			r.looks("called", h, cool, house.FuseLook, "blown")
			s := lockedOut(pulled())
			s.Lifted = house.ConductorsOf(house.Conductor{Terminal: house.Coil1, At: house.AtOutdoor})
			r.between("lifted", r.read(h, s, ohms(house.Coil1, house.Coil2, house.AtOutdoor)), 0.3, 1)
		}},
	{name: "jammed contactor", why: "a blocked armature keeps its coil at inrush current (TM 5-683 / NAVFAC MO-116 ch. 5, read)",
		holds: func(r *rig) {
			good, h := r.house(house.CoolGas, house.None), r.house(house.CoolGas, house.ContactorStuckOpen)
			amps := house.Clamp(house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor})
			r.between("sealed amperes", r.read(good, cool, amps), 0.35, 0.45)
			r.between("jammed amperes", r.read(h, cool, amps), 1.2, 1.6)
			r.looks("jammed", h, cool, house.ContactorLook, "released")
			r.looks("jammed", h, cool, house.OutdoorUnit, "humming")
			r.volts("jammed", h, cool, house.Coil1, house.Coil2, house.AtOutdoor, 20, 24.5)
		}},
	{name: "contactor passes nothing", why: "it pulls in and the load side is dead: practice",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.ContactorContactsOpen)
			r.looks("armature", h, cool, house.ContactorLook, "pulled-in")
			r.volts("L1–L2", h, cool, house.L1, house.L2, house.AtOutdoor, 235, 241)
			r.volts("T1–T2", h, cool, house.T1, house.T2, house.AtOutdoor, 0, 1)
			r.looks("unit", h, cool, house.OutdoorUnit, "stopped")
			one := r.house(house.CoolGas, house.None, pick{Poles, "1"})
			r.volts("single pole, one leg live", one, off, house.T2, house.GND, house.AtOutdoor, 115, 121)
		}},
	{name: "pick-up holds", why: "an armature needs 85 % of rated to pull in and 20 to 75 % to stay (TM 5-683 ch. 5, read; IEC 60947-4-1 cl. 8.2.1.2, memory): pulled in, it rides through what it could not start from",
		holds: func(r *rig) {
			rode := false
			for volts := 240.0; volts > 160; volts-- {
				d, err := r.cat.Equipment(house.PumpCoolingValve).Nominal().WithValue("line-240.volts", volts)
				if err != nil {
					r.t.Fatal(err)
				}
				d.set(Supply, "battery")
				cold, warm := r.of(d, house.TransformerOverloaded), r.of(d, house.TransformerOverloaded)
				if err := warm.Play(heat); err != nil {
					r.t.Fatal(err)
				}
				if cold.settle(cool) != nil || warm.settle(cool) != nil {
					r.t.Fatal("no steady state")
				}
				rode = rode || warm.in("contactor") && !cold.in("contactor")
			}
			r.between("line voltages that show the gap", float64(btoi(rode)), 1, 1)
			low, _ := r.cat.Equipment(house.CoolGas).Nominal().WithValue("line-120.volts", 80)
			low.set(Supply, "battery")
			r.looks("at 80 V line", r.of(low, house.None), cool, house.ContactorLook, "released")
		}},
	{name: "sensing input", why: "a board's 1 to 3 kΩ on Y makes an open coil path read like a load on 10 MΩ: computed",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.ContactorCoilOpen, pick{Sensing, "yes"})
			r.volts("R–Y", h, pulled(), house.R, house.Y, house.AtThermostat, 26.4, 26.9)
			r.between("R–Y low impedance", r.read(h, pulled(), lowZ(house.R, house.Y, house.AtThermostat)), 14, 18)
		}},
	{name: "defrost stuck", why: "it energises the cooling position and feeds the strips from outdoors, thermostat or not: practice",
		holds: func(r *rig) {
			h := r.house(house.PumpCoolingValve, house.DefrostStuck)
			r.volts("W2–C with the face off", h, pulled(), house.W2, house.C, house.AtIndoor, 24, 26.9)
			r.looks("face off", h, pulled(), house.Air, "warm")
			r.looks("heating", h, heat, house.Air, "room")
			b := r.house(house.PumpHeatingValve, house.DefrostStuck)
			r.volts("valve released in heating", b, heat, house.Valve1, house.Valve2, house.AtOutdoor, 0, 0.2)
		}},
	{name: "changeover", why: "a wrong setting reverses both modes, a dead valve one: practice",
		holds: func(r *rig) {
			w := r.house(house.PumpCoolingValve, house.ChangeoverWrong)
			r.looks("wrong setting", w, cool, house.Air, "warm")
			r.looks("wrong setting", w, heat, house.Air, "cool")
			v := r.house(house.PumpCoolingValve, house.ValveCoilOpen)
			r.looks("dead valve", v, cool, house.Air, "warm")
			r.looks("dead valve", v, heat, house.Air, "warm")
			bridged := r.house(house.PumpCoolingValve, house.CrossedRChangeover)
			r.looks("bridged", bridged, heat, house.Air, "cool")
		}},
	{name: "furnace on heat", why: "W to the limit, the rollout, the control; the control feeds the gas valve and starts the blower: practice",
		holds: func(r *rig) {
			g := r.house(house.CoolGas, house.None)
			r.volts("gas valve", g, heat, house.Gas1, house.Gas2, house.AtIndoor, 25.5, 26.9)
			r.volts("gas valve at rest", g, off, house.Gas1, house.Gas2, house.AtIndoor, 0, 0.1)
			lifted := lockedOut(pulled())
			lifted.Lifted = house.ConductorsOf(house.Conductor{Terminal: house.Gas1, At: house.AtIndoor})
			r.between("gas valve lifted", r.read(g, lifted, ohms(house.Gas1, house.Gas2, house.AtIndoor)), 95, 97)
			r.between("its amperes", r.read(g, heat, house.Clamp(house.Conductor{Terminal: house.Gas1, At: house.AtIndoor})), 0.26, 0.29)
			r.looks("burner", g, heat, house.Burner, "burning")
			r.looks("blower", g, heat, house.IndoorFan, "running")
			l := r.house(house.CoolGas, house.LimitOpen)
			r.volts("across an open limit", l, heat, house.Limit1, house.Limit2, house.AtIndoor, 26, 26.9)
			r.volts("across a closed rollout", l, heat, house.Rollout1, house.Rollout2, house.AtIndoor, 0, 0.1)
			r.looks("open limit", l, heat, house.Burner, "nothing")
			strip := r.house(house.CoolElectric, house.None)
			r.looks("strips", strip, heat, house.Air, "warm")
			r.volts("sequencer", strip, heat, house.Seq1, house.Seq2, house.AtIndoor, 25.5, 26.9)
			r.volts("fan relay", strip, heat, house.Relay1, house.Relay2, house.AtIndoor, 25.5, 26.9)
		}},
}

var supplySignatures = []signature{
	{name: "float switch in R and in Y", why: "one in R darkens only a display fed by the common; one in Y stops only the outdoor unit: practice",
		holds: func(r *rig) {
			for _, c := range []struct{ in, supply, display string }{
				{"R", "common", "blank"}, {"R", "battery", "lit"}, {"Y", "common", "lit"}, {"Y", "battery", "lit"},
			} {
				h := r.house(house.CoolGas, house.FloatOpen, pick{FloatIn, c.in}, pick{Supply, c.supply})
				name := "float in " + c.in + ", " + c.supply
				r.looks(name, h, cool, house.Display, c.display)
				r.looks(name, h, cool, house.OutdoorUnit, "stopped")
				r.looks(name, h, cool, house.IndoorFan, either(c.in == "R", "stopped", "running"))
				r.looks(name, h, cool, house.DrainPan, "full")
				jumped := off
				jumped.Thermostat, jumped.Jumper, jumped.JumperAt = house.Removed, house.LettersOf(house.Y), house.AtIndoor
				r.looks(name+", jumped at the board", h, jumped, house.OutdoorUnit, either(c.in == "R", "running", "stopped"))
				jumped.JumperAt = house.AtThermostat
				r.looks(name+", jumped at the base", h, jumped, house.OutdoorUnit, "stopped")
				if c.in == "R" && c.supply == "common" {
					r.volts(name+", across it", h, off, house.Float1, house.Float2, house.AtIndoor, 26, 26.9)
				}
			}
		}},
	{name: "weak transformer", why: "right at rest, under pick-up when called: computed from six to ten times the impedance",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.TransformerWeak, pick{Supply, "battery"})
			r.volts("at rest", h, off, house.R, house.C, house.AtIndoor, 26, 26.95)
			r.volts("called", h, cool, house.R, house.C, house.AtIndoor, 13, 17.4)
			r.looks("called", h, cool, house.OutdoorUnit, "humming")
			common := r.house(house.CoolGas, house.TransformerWeak)
			r.looks("called, supply by the common", common, cool, house.OutdoorUnit, "chattering")
			r.looks("called, supply by the common", common, cool, house.Display, "blank")
			r.looks("at rest, supply by the common", common, off, house.Display, "lit")
		}},
	{name: "overloaded transformer", why: "it sags under an added load that the fuse lets by: computed",
		holds: func(r *rig) {
			h := r.house(house.CoolGas, house.TransformerOverloaded)
			r.volts("at rest", h, off, house.R, house.C, house.AtIndoor, 22, 24.5)
			r.looks("called", h, cool, house.FuseLook, "good")
		}},
	{name: "tap wrong", why: "240/208 up or down before regulation: 27.7 and 20.8 of 24 V, and 252 V on the 208 V tap reaches about 33 V: computed",
		holds: func(r *rig) {
			up := r.house(house.CoolElectric, house.TransformerTapWrong, pick{TapWrong, "up"})
			r.volts("up", up, off, house.R, house.C, house.AtIndoor, 26.9*240/208-0.4, 26.9*240/208)
			down := r.house(house.CoolElectric, house.TransformerTapWrong, pick{TapWrong, "down"})
			r.volts("down", down, off, house.R, house.C, house.AtIndoor, 26.9*208/240-0.4, 26.9*208/240)
			d, _ := r.cat.Equipment(house.CoolElectric).Nominal().WithValue("line-240.volts", 252)
			r.volts("252 V", r.of(d, house.TransformerTapWrong), off, house.R, house.C, house.AtIndoor, 32, 33.3)
		}},
	{name: "supply through a load", why: "a few milliamperes through the load feed the thermostat; with the load open its display dies: practice",
		holds: func(r *rig) {
			picks := []pick{{Supply, "through-load"}, {LeakInto, "Y"}}
			good, open := r.house(house.CoolGas, house.None, picks...), r.house(house.CoolGas, house.ContactorCoilOpen, picks...)
			r.looks("coil good", good, off, house.Display, "lit")
			r.looks("coil good, called", good, cool, house.OutdoorUnit, "running")
			r.looks("coil open", open, off, house.Display, "blank")
			w := r.house(house.CoolGas, house.None, pick{Supply, "through-load"}, pick{LeakInto, "W"})
			r.volts("leak into W", w, off, house.W, house.C, house.AtIndoor, 1, 6)
			r.looks("leak into W", w, off, house.Burner, "nothing")
		}},
	{name: "supply lost", why: "a thermostat fed by the common opens its contacts without it; one on batteries goes on: practice",
		holds: func(r *rig) {
			common, battery := r.house(house.CoolGas, house.OpenC), r.house(house.CoolGas, house.OpenC, pick{Supply, "battery"})
			r.looks("common", common, cool, house.OutdoorUnit, "stopped")
			r.looks("battery", battery, cool, house.OutdoorUnit, "running")
			dead := r.house(house.CoolGas, house.StatBatteryDead)
			r.looks("dead battery", dead, cool, house.OutdoorUnit, "stopped")
			r.looks("dead battery", dead, cool, house.BatteriesNew, "fixed")
		}},
	{name: "two transformers", why: "out of phase, Rc to Rh reads about 50 V with nothing crossed: computed; joined, the cooling fuse goes",
		holds: func(r *rig) {
			h := r.house(house.SplitPower, house.None)
			r.volts("Rc–Rh", h, off, house.Rc, house.Rh, house.AtThermostat, 50, 54)
			r.looks("joined", r.house(house.SplitPower, house.JumperRcRhWrong), off, house.FuseLook, "blown")
			one := r.house(house.CoolGas, house.JumperRcRhMissing)
			r.looks("jumper missing", one, heat, house.Burner, "nothing")
			r.looks("jumper missing", one, cool, house.OutdoorUnit, "running")
		}},
	{name: "feeds", why: "no line, no control power; the outdoor strip keeps 24 V with its own disconnect pulled: practice",
		holds: func(r *rig) {
			door := r.house(house.CoolGas, house.DoorSwitchOpen)
			r.volts("feed", door, off, house.Feed1, house.Feed2, house.AtIndoor, 119, 121)
			r.volts("across the door switch", door, off, house.Door1, house.Door2, house.AtIndoor, 118, 121)
			r.volts("secondary", door, off, house.Sec1, house.Sec2, house.AtIndoor, 0, 0.1)
			s := cool
			s.PowerOutdoor = house.LockedOut
			h := r.house(house.CoolGas, house.None)
			r.volts("Y–C, disconnect pulled", h, s, house.Y, house.C, house.AtOutdoor, 26, 26.9)
			r.volts("L1–L2, disconnect pulled", h, s, house.L1, house.L2, house.AtOutdoor, 0, 1)
			r.looks("disconnect pulled", h, s, house.OutdoorUnit, "stopped")
			p := r.house(house.CoolGas, house.TransformerPrimaryOpen)
			r.volts("primary", p, off, house.Pri1, house.Pri2, house.AtIndoor, 119, 121)
			r.volts("secondary, primary open", p, off, house.Sec1, house.Sec2, house.AtIndoor, 0, 0.1)
			r.between("primary winding, open", r.read(p, lockedOut(pulled()), ohms(house.Pri1, house.Pri2, house.AtIndoor)), 2e6, 1e13)
		}},
}
