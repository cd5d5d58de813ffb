package circuit

import (
	"bufio"
	"fmt"
	"io"
	"math"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Export writes the network of a setup, as it settled, as a SPICE deck that
// makes the probes one after another, the meter on one pair at a time, and
// prints each as "read0 = volts", "read1 = …" in their order (ohms and amperes
// likewise). Ohms and the rest cannot share a deck: they are two networks.
// Where an armature chatters it is the first state of its round.
func (h *House) Export(w io.Writer, s house.Setup, probes ...house.Probe) error {
	d, err := h.deck(s, probes)
	if err != nil {
		return err
	}
	out := bufio.NewWriter(w)
	d.network(out, fmt.Sprintf("%s, %s, %s", h.bench.plan.eq.ID, h.faultWords(), s))
	fmt.Fprintln(out, ".control\nset numdgt=15")
	d.commands(out)
	fmt.Fprintln(out, "quit 0\n.endc\n.end")
	return out.Flush()
}

func (h *House) faultWords() string {
	text := ""
	for _, f := range h.faults.List() {
		if text != "" {
			text += " and "
		}
		text += f.String()
	}
	return either(text == "", "none", text)
}

// deck is one network in one state with the probes to make on it.
type deck struct {
	net    *network
	y      []complex128
	side   side
	probes []deckProbe
}

// deckProbe is a meter between two nodes, or an element whose current is read.
type deckProbe struct {
	name       string
	red, black int
	ohms       float64 // the meter's
	element    int     // for amperes, else none
}

func (h *House) deck(s house.Setup, probes []house.Probe) (*deck, error) {
	if err := h.ready(s); err != nil {
		return nil, err
	}
	d := &deck{net: &h.bench.plan.network}
	for i, p := range probes {
		on := acSide
		if p.Quantity == quantity.Resistance {
			on = dcSide
		}
		if i > 0 && on != d.side {
			return nil, refuse(RefusedProbe, "ohms and %s cannot share a deck", p.Quantity)
		}
		d.side = on
		one, err := h.deckProbe(p)
		if err != nil {
			return nil, err
		}
		d.probes = append(d.probes, one)
	}
	h.fill(s, h.state, d.side)
	d.y = append([]complex128(nil), h.filled(d.side)...)
	return d, nil
}

func (h *House) deckProbe(p house.Probe) (deckProbe, error) {
	if p.Quantity == quantity.Current {
		c := p.Conductor
		c.At = h.bench.plan.eq.ID.Where(c.At)
		for _, l := range h.bench.plan.lifts {
			if l.conductor == c {
				e := &h.bench.plan.elements[l.element]
				return deckProbe{name: p.String(), red: e.nodes[0], black: e.nodes[1], element: l.element}, nil
			}
		}
		return deckProbe{}, refuse(RefusedTerminal, "no conductor %s", p.Conductor)
	}
	red, err := h.lead(p.Red, p.At)
	if err != nil {
		return deckProbe{}, err
	}
	black, err := h.lead(p.Black, p.At)
	ohms := map[quantity.Quantity]float64{quantity.ACVolts: HighImpedanceOhms, quantity.LowZVolts: LowImpedanceOhms}[p.Quantity]
	return deckProbe{name: p.String(), red: red, black: black, ohms: ohms, element: none}, err
}

func spiceNode(n int) string {
	if n == ground {
		return "0"
	}
	return fmt.Sprintf("n%d", n)
}

// liftedOhms is a meter lead in the air.
const liftedOhms = 1e18

// network writes title, elements, sources and the meters, all lifted.
func (d *deck) network(w io.Writer, title string) {
	fmt.Fprintf(w, "* %s\n", title)
	for i, name := range d.net.nodes {
		fmt.Fprintf(w, "* n%d is %s\n", i, name)
	}
	for i := range d.net.elements {
		if d.y[i] != 0 {
			d.element(w, i)
		}
	}
	for i := range d.net.nodes {
		fmt.Fprintf(w, "Rleak%d n%d 0 %g\n", i, i, leakOhms)
		if a := real(d.net.inject[i]); a != 0 && d.side == acSide {
			fmt.Fprintf(w, "I%d 0 n%d dc 0 ac %.17g %d\n", i, i, math.Abs(a), 180*btoi(a < 0))
		}
	}
	for k, p := range d.probes {
		fmt.Fprintf(w, "* read%d: %s\n", k, p.name)
		a, b := spiceNode(p.red), spiceNode(p.black)
		switch {
		case p.red == p.black, p.element != none:
		case d.side == dcSide:
			fmt.Fprintf(w, "Iohm%d %s %s dc 0 ac 0\n", k, b, a)
		default:
			fmt.Fprintf(w, "Rmeter%d %s %s %g\n", k, a, b, liftedOhms)
		}
		fmt.Fprintf(w, "Eread%d x%d %s %s %s 0\n", k, k+1, chain(k), a, b)
	}
}

// chain is a node of the string of sources that carries the reading to its
// end: each copies one pair of leads, and all but one have no gain. So one
// saved vector serves every reading, which makes ngspice many times faster.
func chain(k int) string {
	if k == 0 {
		return "0"
	}
	return fmt.Sprintf("x%d", k)
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// element writes one admittance: a resistor, a capacitor, a winding of
// resistance and inductance, or a transformer of controlled sources.
func (d *deck) element(w io.Writer, i int) {
	e, y := &d.net.elements[i], d.y[i]
	a, b := spiceNode(e.nodes[0]), spiceNode(e.nodes[1])
	omega := 2 * math.Pi * d.net.hertz
	z := 1 / y
	switch {
	case e.ends == 4:
		s1, s2 := spiceNode(e.nodes[2]), spiceNode(e.nodes[3])
		fmt.Fprintf(w, "E%d e%d %s %s %s %.17g\nV%d e%d v%d dc 0\nR%d v%d %s %.17g\nF%d %s %s V%d %.17g\n",
			i, i, s2, a, b, e.weight[0], i, i, i, i, i, s1, real(z), i, a, b, i, e.weight[0])
	case e.farads:
		fmt.Fprintf(w, "C%d %s %s %.17g\n", i, a, b, imag(y)/omega)
	case imag(y) == 0:
		fmt.Fprintf(w, "R%d %s %s %.17g\n", i, a, b, real(z))
	default:
		fmt.Fprintf(w, "R%d %s w%d %.17g\nL%d w%d %s %.17g\n", i, a, i, real(z), i, i, b, imag(z)/omega)
	}
}

// commands writes the analyses, one a probe.
func (d *deck) commands(w io.Writer) {
	end := chain(len(d.probes))
	fmt.Fprintf(w, "save v(%s)\n", end)
	for k, p := range d.probes {
		if p.red == p.black {
			fmt.Fprintf(w, "echo read%d = 0\n", k)
			continue
		}
		set, unset, scale := "", "", 1.0
		switch {
		case p.element != none:
			scale = modulus(d.y[p.element])
		case d.side == dcSide:
			set, unset = fmt.Sprintf("alter Iohm%d acmag = 1\n", k), fmt.Sprintf("alter Iohm%d acmag = 0\n", k)
		default:
			set, unset = fmt.Sprintf("alter Rmeter%d = %g\n", k, p.ohms), fmt.Sprintf("alter Rmeter%d = %g\n", k, liftedOhms)
		}
		fmt.Fprintf(w, "%salter Eread%d gain = 1\nac lin 1 %g %g\n", set, k, d.net.hertz, d.net.hertz)
		fmt.Fprintf(w, "let read%d = mag(v(%s))*%.17g\nprint read%d\n", k, end, scale, k)
		fmt.Fprintf(w, "%salter Eread%d gain = 0\ndestroy all\n", unset, k)
	}
}
