package circuit

import "stepdown/engine/house"

// addCable builds the conductors of one cable, with the capacitance between
// every two of them half at each end.
func (p *plan) addCable(index int, c Cable) {
	d, board := p.draw, p.eq.Board()
	length := "cable.stat-metres"
	if index == 1 {
		length = "cable.outdoor-metres"
	}
	gauge := 18
	if d.Choice(Gauge) == "20" {
		gauge = 20
	}
	metres := d.Value(length)
	half := metres / 2 * CopperOhmsPerMetre(gauge, d.Value("cable.celsius"))
	var built []*run
	for _, t := range c.Conductors {
		// the C to the thermostat is not there in every house; the one outdoors is
		if !d.conductor(t) && (t != house.C || c.To == house.AtThermostat) {
			continue
		}
		name := t.String() + ">" + c.To.String()
		r := &run{middle: p.node(name + "-middle"), boardEnd: p.node(name + "-board-end"), farEnd: p.node(name + "-far-end")}
		r.near = p.resistor(name+"-near", p.landing(index, t), r.boardEnd, p.joint())
		r.boardHalf = p.resistor(name+"-board-half", r.boardEnd, r.middle, half)
		r.farHalf = p.resistor(name+"-far-half", r.middle, r.farEnd, half)
		r.far = p.resistor(name+"-far", r.farEnd, p.farScrew(c.To, t), p.joint())
		p.runs[index][t] = r
		built = append(built, r)
		p.liftRun(c.To, t, board, r)
	}
	farads := metres / 2 * d.Value("cable.picofarads-per-metre") * 1e-12
	for i, a := range built {
		for _, b := range built[:i] {
			p.capacitor("", a.boardEnd, b.boardEnd, farads)
			p.capacitor("", a.farEnd, b.farEnd, farads)
		}
	}
}

// farScrew is where a conductor lands; the R of a base with two lands on Rc.
func (p *plan) farScrew(to house.Place, t house.Terminal) int {
	if to == house.AtThermostat && p.draw.landing != nil {
		return p.landed(t)
	}
	if to == house.AtThermostat && t == house.R && p.draw.Choice(BaseR) == "rc-rh" {
		n := p.screw(house.Rc, to)
		p.terminals[to][house.R] = n
		return n
	}
	return p.screw(t, to)
}

// landing is the node a conductor starts from: its board screw, or the far end
// of the float switch where that sits in it.
func (p *plan) landing(index int, t house.Terminal) int {
	board := p.eq.Board()
	inR := index == 0 && t == p.eq.Hot(house.Y) && p.draw.Choice(FloatIn) == "R"
	inY := index == 1 && t == house.Y && p.draw.Choice(FloatIn) == "Y"
	if p.eq.has("float") && (inR || inY) {
		return p.at("float-2", board)
	}
	return p.screw(t, board)
}

func (p *plan) liftRun(to house.Place, t house.Terminal, board house.Place, r *run) {
	near := house.Conductor{Terminal: t, At: board, To: to}
	far := house.Conductor{Terminal: t, At: to}
	p.addLift(near, r.near)
	p.addLift(far, r.far)
}

// addFloat joins the float switch to the screw it hangs on. Lifting its second
// end takes the conductor off.
func (p *plan) addFloat() {
	if !p.eq.has("float") {
		return
	}
	board, y := p.eq.Board(), p.draw.Choice(FloatIn) == "Y"
	screw, index := p.eq.Hot(house.Y), 0
	if y {
		screw, index = house.Y, 1
	}
	i := p.resistor("float-joint", p.screw(screw, board), p.at("float-1", board), p.joint())
	p.liftable("float-1", board, i)
	if !p.eq.ID.Packaged() {
		p.liftable("float-2", board, p.runs[index][screw].near)
		return
	}
	rung := p.at(yRung, board)
	if y {
		p.liftable("float-2", board, p.resistor("float-rung", p.at("float-2", board), rung, p.joint()))
		return
	}
	p.liftable("float-2", board, p.runs[0][screw].near)
	p.resistor("y-rung", p.screw(house.Y, board), rung, p.joint())
}
