package circuit

import "stepdown/engine/house"

// fill writes the admittance of every element for a setup and a state: the
// base, then what the setup switches, then the armatures, then the faults,
// which have the last word.
func (h *House) fill(s house.Setup, st state, on side) {
	p := h.bench.plan
	y := h.filled(on)
	if on == dcSide {
		for i := range y {
			y[i] = p.elements[i].base(dcSide)
		}
	} else {
		copy(y, h.bench.ac.base)
	}
	h.fillPower(y, s)
	h.fillFuse(y, s, st)
	h.fillThermostat(y, s, st)
	h.fillJumpers(y, s)
	h.fillArmatures(y, st, on)
	for _, o := range h.overrides {
		y[o.element] = o.ac
		if on == dcSide {
			y[o.element] = o.dc
		}
	}
	if s = s.On(p.eq.ID); !s.Lifted.Empty() {
		for _, l := range p.lifts {
			if s.Lifted.Has(l.conductor) {
				y[l.element] = siemens(openOhms)
			}
		}
	}
}

// filled is the buffer that fill writes for a side.
func (h *House) filled(on side) []complex128 {
	if on == dcSide {
		return h.yDC
	}
	return h.y
}

func (h *House) fillPower(y []complex128, s house.Setup) {
	for _, b := range h.bench.plan.breakers {
		if h.power(s, b.at) != house.On {
			y[b.element] = siemens(openOhms)
		}
	}
}

// power is the state of the feeds of a cabinet; a packaged unit has one, which
// both keys may name.
func (h *House) power(s house.Setup, at house.Place) house.Power {
	if h.bench.plan.eq.ID.Packaged() && s.PowerIndoor != house.On {
		return s.PowerIndoor
	}
	return s.Power(at)
}

func (h *House) fillFuse(y []complex128, s house.Setup, st state) {
	if st.blown || s.Fuse == house.FuseOut {
		y[h.bench.plan.part["fuse"]] = siemens(openOhms)
	}
}

func (h *House) fillThermostat(y []complex128, s house.Setup, st state) {
	p := h.bench.plan
	if !h.seated(s) {
		for _, i := range p.contacts {
			if i != none {
				y[i] = 0
			}
		}
		if p.supply != none {
			y[p.supply] = 0
		}
		if p.leak != none {
			y[p.leak] = 0
		}
		return
	}
	wanted := h.outputs(s)
	for t, i := range p.contacts {
		if i == none {
			continue
		}
		letter := house.Terminal(t)
		if h.contact(letter, wanted.Has(letter), st.powered) {
			y[i] = siemens(p.draw.Value("stat.closed-ohms"))
			if letter == p.leakTo && p.leak != none {
				y[p.leak] = 0
			}
		}
	}
}

func (h *House) fillJumpers(y []complex128, s house.Setup) {
	if s.Jumper == 0 {
		return
	}
	p := h.bench.plan
	for t := house.R; t <= house.L; t++ {
		if i := p.jumpers[s.JumperAt][t]; i != none && s.Jumper.Has(t) {
			y[i] = p.closed()
		}
	}
}

// fillArmatures sets what each armature changes: its own impedance, and the
// contacts it moves.
func (h *House) fillArmatures(y []complex128, st state, on side) {
	p := h.bench.plan
	for i := range p.armatures {
		a := &p.armatures[i]
		if st.in&(1<<i) == 0 {
			continue
		}
		if a.changes && on == acSide {
			y[a.element] = a.in
		}
		switch a.part {
		case "contactor":
			y[p.part["pole-1"]], y[p.part["pole-2"]] = p.closed(), p.closed()
		case "burner-control":
			y[p.part["gas-output"]] = p.closed()
		case "call-sense":
			if h.has(house.LockoutOutdoor) {
				y[p.part["lockout-contact"]] = siemens(openOhms)
				y[p.part["fault-output"]] = p.closed()
			}
		}
	}
	if i, ok := p.part["pole-2"]; ok && p.draw.Choice(Poles) == "1" {
		y[i] = p.closed()
	}
}
