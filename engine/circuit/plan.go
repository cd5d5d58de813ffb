package circuit

import (
	"math"

	"stepdown/engine/house"
)

// letterCount covers the thermostat letters, which come first among terminals.
const letterCount = int(house.L) + 1

// none marks a node or an element that is not there.
const none = -2

// run is one field conductor as built: the joint at the board's screw, two
// halves, the joint at the far screw.
type run struct {
	near, boardHalf, farHalf, far int // elements
	middle, boardEnd, farEnd      int // nodes
}

// lift is a conductor that can be taken off its screw.
type lift struct {
	conductor house.Conductor
	element   int
}

// armature is a part that acts on a voltage: a coil whose impedance changes as
// it pulls in, a heater, or a control's input.
type armature struct {
	part          string
	element       int
	in, out       complex128 // siemens at AC; equal where nothing changes
	pickUp, drop  float64    // volts
	changes, slow bool       // slow: a heater, which averages a flicker
}

// plan is the network of one drawn house with an index to its movable parts.
type plan struct {
	network
	eq   *Equipment
	draw Draw

	named     map[string]int // nodes
	terminals [4][]int       // node by place and terminal
	part      map[string]int // element by part
	runs      [2][letterCount]*run
	lifts     []lift
	breakers  []breaker
	contacts  [letterCount]int // thermostat contacts
	hot       [letterCount]int // R's node at the base for a letter
	supply    int
	leak      int
	leakTo    house.Terminal
	jumpers   [4][letterCount]int
	armatures []armature
	shorts    [letterCount]int // to C, mid-cable to the thermostat
	bridges   [letterCount]int // to R, mid-cable to the thermostat
	outShort  int              // Y to C, mid-cable outdoors
	link      int              // Rc to Rh at the base
	onB       int              // the C conductor on screw B
	overload  int
	couple    int // the transformer, its wrong tap, its windings on ohms
	tap       int
	secondary int
	primary   int
}

// breaker is one leg of a feed.
type breaker struct {
	element int
	at      house.Place
	feed    string
}

func newPlan(d Draw) *plan {
	p := &plan{eq: d.Equipment, draw: d, named: map[string]int{}, part: map[string]int{},
		supply: none, leak: none, outShort: none, link: none, onB: none, overload: none,
		couple: none, tap: none, secondary: none, primary: none}
	p.hertz = d.Hertz
	for i := range p.contacts {
		p.contacts[i], p.hot[i], p.shorts[i], p.bridges[i] = none, none, none, none
		for at := range p.jumpers {
			p.jumpers[at][i] = none
		}
	}
	for at := range p.terminals {
		p.terminals[at] = make([]int, len(house.Terminals())+1)
		for t := range p.terminals[at] {
			p.terminals[at][t] = none
		}
	}
	for _, part := range p.eq.Parts {
		p.addPart(part)
	}
	for _, w := range p.eq.Wires {
		p.addWire(w)
	}
	for i, c := range p.eq.Cables {
		p.addCable(i, c)
	}
	p.addFloat()
	if d.landing != nil {
		p.addLanded()
	} else {
		p.addThermostat()
		p.addJumpers()
	}
	p.addFaultElements()
	return p
}

// at gives the node of an end at a place, making it where it is new.
func (p *plan) at(end string, place house.Place) int {
	t, err := house.ParseTerminal(end)
	if err == nil && t == house.GND {
		p.terminals[place][t] = ground
		return ground
	}
	name := nodeName(end, place)
	i, ok := p.named[name]
	if !ok {
		i = p.node(name)
		p.named[name] = i
	}
	if err == nil {
		p.terminals[place][t] = i
	}
	return i
}

func (p *plan) screw(t house.Terminal, place house.Place) int { return p.at(t.String(), place) }

func (p *plan) joint() float64 { return p.draw.Value("joint.ohms") }

func (p *plan) closed() complex128 { return siemens(p.joint()) }

func (p *plan) addPart(part Part) {
	ends := make([]int, len(part.Ends))
	for i, e := range part.Ends {
		ends[i] = p.at(e, part.At)
	}
	value := func(key string) float64 { return p.draw.Value(part.Uses + "." + key) }
	switch part.kind {
	case feedKind:
		p.addFeed(part, ends, value)
	case transformerKind:
		p.addTransformer(part, ends, value)
	case fuseKind:
		p.part[part.ID] = p.resistor(part.ID, ends[0], ends[1], value("ohms"))
	case coilKind:
		p.addCoil(part, ends, value)
	case heaterKind:
		y := siemens(value("ohms"))
		p.part[part.ID] = p.resistor(part.ID, ends[0], ends[1], value("ohms"))
		p.armatures = append(p.armatures, armature{part: part.ID, element: p.part[part.ID], in: y, out: y,
			pickUp: value("pick-up-volts"), drop: min(value("drop-out-volts"), 0.9*value("pick-up-volts")), slow: part.ID == "sequencer"})
	case senseKind:
		p.part[part.ID] = p.absent(part.ID, ends[0], ends[1])
		p.armatures = append(p.armatures, armature{part: part.ID, element: p.part[part.ID],
			pickUp: value("lockout-volts"), drop: min(value("reset-volts"), 0.9*value("lockout-volts"))})
	case makeKind:
		p.part[part.ID] = p.resistor(part.ID, ends[0], ends[1], openOhms)
	case loadKind:
		if part.ID != "sensing" || p.draw.Choice(Sensing) == "yes" {
			p.part[part.ID] = p.resistor(part.ID, ends[0], ends[1], value("ohms"))
		}
	case motorKind:
		p.part[part.ID] = p.resistor(part.ID, ends[0], ends[1], value("ohms"))
		p.resistor(part.ID+"-insulation", ends[1], ground, value("insulation-ohms"))
		p.capacitor(part.ID+"-shell", ends[1], ground, value("shell-nanofarads")*1e-9)
	default:
		p.part[part.ID] = p.resistor(part.ID, ends[0], ends[1], value("ohms"))
	}
}

// addFeed puts line voltage behind a breaker: one hot leg and a grounded
// neutral at 120 V, two hot legs at 240 V, which keep their insulation to
// ground when they are cut off.
func (p *plan) addFeed(part Part, ends []int, value func(string) float64) {
	volts, ohms := value("volts"), value("source-ohms")
	leg := func(name string, end int, v float64) {
		n := p.node(name + "-source@" + part.At.String())
		p.resistor(name+"-source", n, ground, ohms)
		p.inject[n] = complex(v/ohms, 0)
		p.breakers = append(p.breakers, breaker{element: p.add(name, n, end, p.closed(), siemens(openOhms)), at: part.At, feed: part.ID})
	}
	if part.Uses == "line-240" {
		leg(part.ID+"-leg-1", ends[0], volts/2)
		leg(part.ID+"-leg-2", ends[1], -volts/2)
		p.resistor(part.ID+"-insulation", ends[1], ground, value("insulation-ohms"))
		return
	}
	leg(part.ID+"-hot", ends[0], volts)
	p.resistor(part.ID+"-neutral", ends[1], ground, p.joint())
}

func (p *plan) addTransformer(part Part, ends []int, value func(string) float64) {
	feed := "feed"
	sign := 1.0
	if part.ID == "heat-transformer" {
		// Nobody phases two transformers in two cabinets: they are taken out
		// of phase, which is what makes a wrong Rc–Rh jumper matter.
		feed, sign = "feed2", -1
	}
	source, _ := p.eq.Part(feed)
	line := p.eq.values[p.eq.index[source.Uses+".volts"]].Nominal
	ratio := sign * value("open-circuit-volts") / line
	y := siemens(value("series-ohms"))
	couple := p.coupling(part.ID, ends[0], ends[1], ends[2], ends[3], ratio, y)
	secondary := p.add(part.ID+"-secondary", ends[2], ends[3], 0, y)
	primary := p.add(part.ID+"-primary", ends[0], ends[1], 0, siemens(value("primary-ohms")))
	p.part[part.ID] = couple
	if part.ID != "transformer" {
		return
	}
	p.couple, p.secondary, p.primary = couple, secondary, primary
	wrong := 240.0 / 208
	if p.draw.Choice(TapWrong) == "down" {
		wrong = 1 / wrong
	}
	p.tap = p.coupling("transformer-tap", ends[0], ends[1], ends[2], ends[3], ratio*wrong, 0)
}

func (p *plan) addCoil(part Part, ends []int, value func(string) float64) {
	dc := min(value("dc-ohms"), 0.95*value("inrush-ohms"))
	out := coilSiemens(dc, value("inrush-ohms"), p.hertz)
	in := coilSiemens(dc, max(value("sealed-ohms"), value("inrush-ohms")), p.hertz)
	p.part[part.ID] = p.add(part.ID, ends[0], ends[1], out, siemens(dc))
	p.armatures = append(p.armatures, armature{part: part.ID, element: p.part[part.ID], in: in, out: out, changes: true,
		pickUp: value("pick-up-volts"), drop: min(value("drop-out-volts"), 0.9*value("pick-up-volts"))})
}

// addWire joins two ends; lifting a part's end opens each wire on it.
func (p *plan) addWire(w Wire) {
	i := p.resistor(w.From+"="+w.To+"@"+w.At.String(), p.at(w.From, w.At), p.at(w.To, w.At), p.joint())
	p.liftable(w.From, w.At, i)
	p.liftable(w.To, w.At, i)
}

func (p *plan) liftable(end string, at house.Place, element int) {
	t, err := house.ParseTerminal(end)
	if err != nil || t.IsLetter() || t == house.GND || t.Class() == house.Line {
		return
	}
	p.addLift(house.Conductor{Terminal: t, At: at}, element)
}

// addLift lets a conductor be lifted. In a packaged unit indoor is the one
// cabinet, so its conductors go by either place.
func (p *plan) addLift(c house.Conductor, element int) {
	p.lifts = append(p.lifts, lift{c, element})
	if p.eq.ID.Packaged() && c.At == house.AtOutdoor {
		c.At = house.AtIndoor
		p.lifts = append(p.lifts, lift{c, element})
	}
}

// addFaultElements puts in what only a fault makes conduct.
func (p *plan) addFaultElements() {
	c := p.runs[0][house.C]
	for t, r := range p.runs[0] {
		letter := house.Terminal(t)
		if r == nil || letter == house.C {
			continue
		}
		if c != nil {
			p.shorts[t] = p.absent("short-"+letter.String()+"-C", r.middle, c.middle)
		}
		if hot := p.runs[0][p.eq.Hot(letter)]; hot != nil && hot != r {
			p.bridges[t] = p.absent("bridge-R-"+letter.String(), hot.middle, r.middle)
		}
	}
	if y, out := p.runs[1][house.Y], p.runs[1][house.C]; y != nil && out != nil {
		p.outShort = p.absent("short-Y-C-outdoor", y.middle, out.middle)
	}
	if b := p.runs[0][house.B]; b != nil && c != nil {
		p.onB = p.absent("common-on-B", c.farEnd, p.screw(house.B, house.AtThermostat))
	}
	board := p.eq.Board()
	p.overload = p.absent("overload", p.screw(p.eq.Hot(house.Y), board), p.screw(house.C, board))
}

// terminal is the node a lead touches, none where the house has no such end.
func (p *plan) terminal(t house.Terminal, at house.Place) int {
	at = p.eq.ID.Where(at)
	if t == house.GND && at != house.AtThermostat {
		return ground
	}
	if int(t) >= len(p.terminals[at]) {
		return none
	}
	return p.terminals[at][t]
}

// modulus is what a meter shows of a phasor.
func modulus(z complex128) float64 { return math.Hypot(real(z), imag(z)) }
