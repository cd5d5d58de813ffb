package circuit

import "stepdown/engine/house"

// fill writes the admittance of every element for a setup and a state: the
// base, then what the setup switches, then the armatures, then the faults,
// which have the last word.
func (h *House) fill(s house.Setup, st state, on side) {
	p := h.bench.plan
	base := h.bench.ac.base
	if on == dcSide {
		base = h.bench.dc.base
	}
	h.y = h.y[:len(base)]
	copy(h.y, base)
	h.fillPower(s)
	h.fillFuse(s, st)
	h.fillThermostat(s, st)
	h.fillJumpers(s)
	h.fillArmatures(st, on)
	for _, o := range h.overrides {
		h.y[o.element] = o.ac
		if on == dcSide {
			h.y[o.element] = o.dc
		}
	}
	if !s.Lifted.Empty() {
		for _, l := range p.lifts {
			if s.Lifted.Has(l.conductor) {
				h.y[l.element] = siemens(openOhms)
			}
		}
	}
}

func (h *House) fillPower(s house.Setup) {
	for _, b := range h.bench.plan.breakers {
		if h.power(s, b.at) != house.On {
			h.y[b.element] = siemens(openOhms)
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

func (h *House) fillFuse(s house.Setup, st state) {
	if st.blown || s.Fuse == house.FuseOut {
		h.y[h.bench.plan.part["fuse"]] = siemens(openOhms)
	}
}

func (h *House) fillThermostat(s house.Setup, st state) {
	p := h.bench.plan
	if !h.seated(s) {
		for _, i := range p.contacts {
			if i != none {
				h.y[i] = 0
			}
		}
		if p.supply != none {
			h.y[p.supply] = 0
		}
		if p.leak != none {
			h.y[p.leak] = 0
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
			h.y[i] = siemens(p.draw.Value("stat.closed-ohms"))
			if letter == p.leakTo && p.leak != none {
				h.y[p.leak] = 0
			}
		}
	}
}

func (h *House) fillJumpers(s house.Setup) {
	if s.Jumper == 0 {
		return
	}
	p := h.bench.plan
	for t := house.R; t <= house.L; t++ {
		if i := p.jumpers[s.JumperAt][t]; i != none && s.Jumper.Has(t) {
			h.y[i] = p.closed()
		}
	}
}

// fillArmatures sets what each armature changes: its own impedance, and the
// contacts it moves.
func (h *House) fillArmatures(st state, on side) {
	p := h.bench.plan
	for i := range p.armatures {
		a := &p.armatures[i]
		if st.in&(1<<i) == 0 {
			continue
		}
		if a.changes && on == acSide {
			h.y[a.element] = a.in
		}
		switch a.part {
		case "contactor":
			h.y[p.part["pole-1"]], h.y[p.part["pole-2"]] = p.closed(), p.closed()
		case "burner-control":
			h.y[p.part["gas-output"]] = p.closed()
		case "call-sense":
			if h.has(house.LockoutOutdoor) {
				h.y[p.part["lockout-contact"]] = siemens(openOhms)
				h.y[p.part["fault-output"]] = p.closed()
			}
		}
	}
	if i, ok := p.part["pole-2"]; ok && p.draw.Choice(Poles) == "1" {
		h.y[i] = p.closed()
	}
}
