package circuit

import (
	"fmt"
	"math/bits"

	"stepdown/engine/house"
)

// Landing is a wall base as somebody wired it: its screws, which field
// conductor lies under which, and what is joined at the base. It puts any
// conductor under any screw, right or wrong.
type Landing struct {
	// Screws are the base's; O stands for one changeover screw marked O/B.
	// Rc feeds the cooling contacts and Rh the heating ones; R does for either
	// that is not there.
	Screws house.Letters
	// On maps a conductor, named by its screw at the board, to the screw of the
	// base it lies under. Several may share one. A conductor that is left out
	// is capped.
	On map[house.Terminal]house.Terminal
	// Joined are jumpers between screws of the base: Rc–Rh, W2–E.
	Joined [][2]house.Terminal
	// Supply is an option of the choice stat-supply. The common is the C screw.
	Supply string
}

// Land is the house with its thermostat's base wired in this way. Whether the
// C and L conductors are there follows the draw's choices and not the supply.
func (d Draw) Land(l Landing) (Draw, error) {
	option := -1
	for i, o := range choiceRows[Supply].options {
		if o == l.Supply {
			option = i
		}
	}
	leak := d.landedLeak(l)
	switch {
	case option < 0:
		return d, fmt.Errorf("%s is one of %v, not %q", Supply, choiceRows[Supply].options, l.Supply)
	case l.Supply == "common" && !l.Screws.Has(house.C):
		return d, fmt.Errorf("a base without a C screw has no supply by the common")
	case l.Supply == "through-load" && leak == house.NoTerminal:
		return d, fmt.Errorf("a supply through a load needs a Y or a W screw")
	case !l.Screws.Has(house.R) && !l.Screws.Has(house.Rc) && !l.Screws.Has(house.Rh):
		return d, fmt.Errorf("a base without R, Rc or Rh calls nothing")
	}
	for c, s := range l.On {
		if !d.Equipment.Conductor(house.AtThermostat, c) {
			return d, fmt.Errorf("%s has no conductor %s to the thermostat", d.Equipment.ID, c)
		}
		if !l.Screws.Has(s) {
			return d, fmt.Errorf("conductor %s is on %s, and the base has no such screw", c, s)
		}
	}
	d.choices[Supply] = uint8(option)
	d.landing = &l
	return d, nil
}

// landedLeak is the screw a supply through a load leaks into: the drawn one,
// or the other where the base lacks it.
func (d Draw) landedLeak(l Landing) house.Terminal {
	drawn, _ := house.ParseTerminal(d.Choice(LeakInto))
	for _, t := range []house.Terminal{drawn, house.Y, house.W} {
		if l.Screws.Has(t) {
			return t
		}
	}
	return house.NoTerminal
}

// landed is the node a conductor ends at: a screw of the base, or a capped end.
func (p *plan) landed(t house.Terminal) int {
	if s, ok := p.draw.landing.On[t]; ok {
		return p.screw(s, house.AtThermostat)
	}
	return p.node(t.String() + "-capped")
}

// hots are the screws that feed the cooling and the heating contacts.
func (l *Landing) hots() (cool, heat house.Terminal) {
	first := func(order ...house.Terminal) house.Terminal {
		for _, t := range order {
			if l.Screws.Has(t) {
				return t
			}
		}
		return house.NoTerminal
	}
	return first(house.Rc, house.R, house.Rh), first(house.Rh, house.R, house.Rc)
}

// switched are the screws a thermostat has a contact for.
var switched = house.LettersOf(house.Y, house.Y2, house.W, house.W2, house.E, house.G, house.O, house.B)

// addLanded puts in the contacts and the supply of a landed base.
func (p *plan) addLanded() {
	d, l, base := p.draw, p.draw.landing, house.AtThermostat
	y := siemens(d.Value("stat.open-ohms"))
	cool, heat := l.hots()
	for _, t := range l.Screws.List() {
		if !switched.Has(t) {
			p.screw(t, base)
			continue
		}
		p.hot[t] = p.screw(cool, base)
		if t == house.W || t == house.W2 || t == house.E {
			p.hot[t] = p.screw(heat, base)
		}
		p.contacts[t] = p.add("contact-"+t.String(), p.hot[t], p.screw(t, base), y, y)
	}
	for _, j := range l.Joined {
		p.resistor("joined-"+j[0].String()+"-"+j[1].String(), p.screw(j[0], base), p.screw(j[1], base), p.joint())
	}
	switch l.Supply {
	case "common":
		ohms := 24 * 24 / d.Value("stat.volt-amperes")
		p.supply = p.add("stat-supply", p.screw(cool, base), p.screw(house.C, base), siemens(ohms), siemens(d.Value("stat.off-ohms")))
	case "through-load":
		p.leakTo = d.landedLeak(*l)
		p.leak = p.resistor("stat-leak", p.hot[p.leakTo], p.screw(p.leakTo, base), d.Value("stat.leak-ohms"))
	}
}

// Driven lists the parts that a letter's conductor brings in.
func (e *Equipment) Driven(t house.Terminal) []string {
	var out []string
	for _, d := range drives {
		if d.letter == t && e.has(d.part) {
			out = append(out, d.part)
		}
	}
	return out
}

// Effect is what a landed base does with some of its contacts closed.
type Effect struct {
	In      []string // parts that pull in and stay, of those a letter drives
	Chatter []string // armatures that find no rest
	Blown   bool     // the board's fuse
	Lit     bool     // the thermostat keeps its own supply
	Sources []SourceLoad
	Coils   []CoilVolts
}

// SourceLoad is what one transformer gives, at its secondary, rms. Where the
// fuse blows it is what flowed before.
type SourceLoad struct {
	Part                    string
	Volts, Amps, VA, Rating float64
}

// CoilVolts is one part's voltage, V rms: Pulling while every coil still draws
// its inrush current, Held once all have moved.
type CoilVolts struct {
	Part                  string
	Pulling, Held, PickUp float64
}

// Effect closes the contacts of these screws in a house with a landed base,
// from rest, with a fuse that is good.
func (h *House) Effect(live house.Letters) (Effect, error) {
	var e Effect
	if h.bench.draw.landing == nil {
		return e, fmt.Errorf("the base of this house was not landed")
	}
	s := house.DefaultSetup()
	h.live = live
	h.forget() // the way to where it rests counts too
	h.Reset()
	if err := h.settle(s); err != nil {
		return e, err
	}
	e.Blown, e.Lit = h.state.blown, h.keepsSupply()
	for mask := h.chatter; mask != 0; mask &= mask - 1 {
		e.Chatter = append(e.Chatter, h.bench.plan.armatures[bits.TrailingZeros32(mask)].part)
	}
	e.Sources = h.sourceLoads()
	e.Coils = h.coilVolts(nil)
	for _, c := range e.Coils {
		if h.in(c.Part) {
			e.In = append(e.In, c.Part)
		}
	}
	return e, h.before(s, &e)
}

// before adds what was there before a coil moved: the volts at inrush, and the
// current that a fuse did not bear.
func (h *House) before(s house.Setup, e *Effect) error {
	atInrush := state{in: h.state.in, powered: h.state.powered}
	for i, a := range h.bench.plan.armatures {
		if a.changes {
			atInrush.in &^= 1 << i
		}
	}
	if err := h.solve(s, atInrush); err != nil {
		return err
	}
	h.coilVolts(e.Coils)
	if !h.state.blown {
		return h.rest(s)
	}
	for i := range h.visited {
		if h.visited[i].state.blown {
			break
		}
		if err := h.solve(s, h.visited[i].state); err != nil {
			return err
		}
		if then := h.sourceLoads(); then[0].VA > e.Sources[0].VA {
			e.Sources = then
		}
	}
	return h.rest(s)
}

func (h *House) sourceLoads() []SourceLoad {
	p := h.bench.plan
	var out []SourceLoad
	for _, id := range []string{"transformer", "heat-transformer"} {
		part, ok := p.eq.Part(id)
		if !ok {
			continue
		}
		i := p.part[id]
		e := &p.elements[i]
		l := SourceLoad{Part: id, Rating: p.draw.Value(part.Uses + ".rated-volt-amperes"),
			Volts: modulus(h.ac.voltage(pair(e.nodes[2], e.nodes[3]))), Amps: modulus(h.ac.voltage(e) * h.y[i])}
		l.VA = l.Volts * l.Amps
		out = append(out, l)
	}
	return out
}

// coilVolts reads every part that a letter drives; given earlier readings it
// puts what it reads now into their Pulling.
func (h *House) coilVolts(held []CoilVolts) []CoilVolts {
	p := h.bench.plan
	var out []CoilVolts
	for i := range p.armatures {
		a := &p.armatures[i]
		if !isDriven(a.part) {
			continue
		}
		v := modulus(h.ac.voltage(&p.elements[a.element]))
		if k := len(out); k < len(held) {
			held[k].Pulling = v
		}
		out = append(out, CoilVolts{Part: a.part, Held: v, PickUp: a.pickUp})
	}
	return out
}

func isDriven(part string) bool {
	for _, d := range drives {
		if d.part == part {
			return true
		}
	}
	return false
}
