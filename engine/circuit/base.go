package circuit

import "stepdown/engine/house"

// addThermostat puts in the base, the contacts and the thermostat's own supply.
func (p *plan) addThermostat() {
	d, base := p.draw, house.AtThermostat
	y := siemens(d.Value("stat.open-ohms"))
	cool, heat := p.hotScrews()
	calls := p.eq.Calls
	for _, t := range (calls.Cool | calls.Heat | calls.Emergency | calls.Fan).Add(calls.Changeover).List() {
		p.hot[t] = cool
		if t == house.W || t == house.W2 {
			p.hot[t] = heat
		}
		p.contacts[t] = p.add("contact-"+t.String(), p.hot[t], p.screw(t, base), y, y)
	}
	if d.Choice(EScrew) == "yes" && p.contacts[house.W2] != none {
		p.resistor("e-to-w2", p.screw(house.E, base), p.screw(house.W2, base), p.joint())
	}
	switch d.Choice(Supply) {
	case "common":
		ohms := 24 * 24 / d.Value("stat.volt-amperes")
		p.supply = p.add("stat-supply", cool, p.screw(house.C, base), siemens(ohms), siemens(d.Value("stat.off-ohms")))
	case "through-load":
		t, _ := house.ParseTerminal(d.Choice(LeakInto))
		p.leakTo = t
		p.leak = p.resistor("stat-leak", p.hot[t], p.screw(t, base), d.Value("stat.leak-ohms"))
	}
}

// hotScrews gives the base's R for cooling and for heating, joined by the
// Rc–Rh jumper where one transformer feeds two screws.
func (p *plan) hotScrews() (cool, heat int) {
	base := house.AtThermostat
	split := p.eq.ID == house.SplitPower
	if !split && p.draw.Choice(BaseR) == "single" {
		n := p.screw(house.R, base)
		return n, n
	}
	cool, heat = p.screw(house.Rc, base), p.screw(house.Rh, base)
	if split {
		p.link = p.absent("rc-rh", cool, heat)
	} else {
		p.link = p.resistor("rc-rh", cool, heat, p.joint())
	}
	return cool, heat
}

// jumpered are the letters a jumper from R may go to: never C, never B.
var jumpered = house.LettersOf(house.Y, house.Y2, house.W, house.W2, house.G, house.O)

func (p *plan) addJumpers() {
	board := p.eq.Board()
	for _, c := range p.eq.Cables[0].Conductors {
		if !jumpered.Has(c) || p.runs[0][c] == nil {
			continue
		}
		p.jumpers[house.AtThermostat][c] = p.absent("jumper-"+c.String(), p.baseHot(c), p.screw(c, house.AtThermostat))
		i := p.absent("board-jumper-"+c.String(), p.screw(p.eq.Hot(c), board), p.screw(c, board))
		p.jumpers[board][c] = i
		p.jumpers[house.AtIndoor][c] = i
	}
}

// baseHot is the screw a jumper for a letter starts from at the base: where R
// lands, which on a base with Rc and Rh joined is Rc.
func (p *plan) baseHot(t house.Terminal) int {
	return p.terminals[house.AtThermostat][p.eq.Hot(t)]
}
