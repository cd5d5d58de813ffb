package circuit

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"
)

// solved solves a small network by hand-made nodes; node 0 of the picture is
// ground.
func solved(t testing.TB, n *network) *update {
	t.Helper()
	p, err := reduce(n, acSide)
	if err != nil {
		t.Fatal(err)
	}
	u := &update{forced: true}
	if err := u.to(p, p.base); err != nil {
		t.Fatal(err)
	}
	return u
}

func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if math.Abs(got-want) > tolerance {
		t.Errorf("%s: got %.6g, want %.6g ± %g", what, got, want, tolerance)
	}
}

// referenceCircuit is 24 V –0.8 Ω– R –0.1– A –contact– Y –wire– K –coil– k2
// –return– C.
type referenceCircuit struct {
	network
	r, a, y, k, k2 int
	coil           int
}

func newReference(contact, wire, wayBack float64, coil complex128) *referenceCircuit {
	c := &referenceCircuit{network: network{hertz: 60}}
	c.r, c.a, c.y, c.k, c.k2 = c.node("R"), c.node("A"), c.node("Y"), c.node("K"), c.node("k2")
	c.resistor("source", c.r, ground, 0.8)
	c.inject[c.r] = 24 / 0.8
	c.resistor("wire", c.r, c.a, 0.1)
	c.resistor("contact", c.a, c.y, contact)
	c.resistor("out", c.y, c.k, wire)
	c.coil = c.add("coil", c.k, c.k2, 1/coil, 1/coil)
	c.resistor("return", c.k2, ground, wayBack)
	return c
}

// TestReferenceCircuit reproduces the 60 Hz reference circuit: one 10 MΩ meter
// at a time, an open being 1 GΩ. The numbers were made by ngspice 39.3 and by a
// dense solve, which agree to 1e-13; they are printed to four places, so the
// tolerance is half of the last.
func TestReferenceCircuit(t *testing.T) {
	const open = 1e9
	omega := 2 * math.Pi * 60
	good := complex(60, omega*0.25)
	for _, c := range []struct {
		name                   string
		contact, wire, wayBack float64
		coil                   complex128
		volts                  [5]float64 // R–C, A–Y, Y–C, K–k2, k2–C
		amperes                float64
	}{
		{"none", 0.05, 0.5, 0.5, good, [5]float64{23.9069, .0106, 23.8896, 23.7746, .1064}, .21280},
		{"contact open", open, 0.5, 0.5, good, [5]float64{24, 23.9998, 0, 0, 0}, 0},
		{"contact 25 ohm", 25, 0.5, 0.5, good, [5]float64{23.8987, 4.6803, 21.0176, 20.9165, .0936}, .18721},
		{"out wire open", 0.05, open, 0.5, good, [5]float64{24, 0, 24, 0, 0}, 0},
		{"coil open", 0.05, 0.5, 0.5, open, [5]float64{24, 0, 24, 24, 0}, 0},
		{"coil shorted", 0.05, 0.5, 0.5, complex(2, omega*1e-6), [5]float64{19.1392, .3038, 18.2278, 12.1519, 3.0380}, 6.07595},
		{"return open", 0.05, 0.5, open, good, [5]float64{24, 0, 24, 0, 23.9999}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := newReference(c.contact, c.wire, c.wayBack, c.coil)
			u := solved(t, &n.network)
			for i, pair := range [][2]int{{n.r, ground}, {n.a, n.y}, {n.y, ground}, {n.k, n.k2}, {n.k2, ground}} {
				port := element{nodes: [4]int{pair[0], pair[1]}, weight: [4]float64{1, -1}, ends: 2}
				name := [...]string{"R–C", "A–Y", "Y–C", "K–k2", "k2–C"}[i]
				// An open of 1 GΩ against a 10 MΩ meter leaves up to 0.24 V
				// where the table says 0 between the two parts it separates.
				near(t, name, loaded(u, &port, u.ports.base, HighImpedanceOhms), c.volts[i], 0.00006)
			}
			e := &n.elements[n.coil]
			near(t, "amps", cmplx.Abs(u.voltage(e)*e.ac), c.amperes, 0.000006)
		})
	}
}

// series is a chain of resistances in ohms across a source of nearly no
// impedance, with the node after each.
func series(volts float64, ohms ...float64) (*network, []int) {
	n := &network{hertz: 60}
	top := n.node("top")
	n.resistor("source", top, ground, 1e-6)
	n.inject[top] = complex(volts/1e-6, 0)
	nodes := []int{top}
	for i, r := range ohms {
		next := ground
		if i < len(ohms)-1 {
			next = n.node(fmt.Sprint(i + 1))
		}
		n.resistor(fmt.Sprint(i), nodes[i], next, r)
		nodes = append(nodes, next)
	}
	return n, nodes
}

func across(u *update, a, b int, meter float64) float64 {
	return loaded(u, pair(a, b), u.ports.base, meter)
}

// TestOpenSeriesCircuit: no current, no drop across the loads, the full voltage
// across the open (DOE-HDBK-1011/1, read).
func TestOpenSeriesCircuit(t *testing.T) {
	n, nodes := series(24, 50, openOhms, 50)
	u := solved(t, n)
	near(t, "first load", across(u, nodes[0], nodes[1], HighImpedanceOhms), 0, 1e-6)
	near(t, "open", across(u, nodes[1], nodes[2], HighImpedanceOhms), 24, 24*1e-4)
	near(t, "last load", across(u, nodes[2], nodes[3], HighImpedanceOhms), 0, 1e-6)
}

// TestSeriesOfThree: 9 V over 100, 300 and 50 Ω is 2, 6 and 1 V; with the middle
// one shorted 6, 0 and 3; with it open 0, 9 and 0 (computed). A shorted one
// reads nothing while the rest share the supply (FAA AMT Handbook General,
// p. 10-87, read).
func TestSeriesOfThree(t *testing.T) {
	for middle, want := range map[float64][3]float64{300: {2, 6, 1}, 1e-9: {6, 0, 3}, openOhms: {0, 9, 0}} {
		n, nodes := series(9, 100, middle, 50)
		u := solved(t, n)
		for i := range want {
			near(t, fmt.Sprintf("middle %g, load %d", middle, i), across(u, nodes[i], nodes[i+1], HighImpedanceOhms), want[i], 2e-4)
		}
	}
}

// TestParallelBranchHides: a voltmeter cannot find an open branch beside a good
// one (FAA AMT Handbook General, p. 10-87, read).
func TestParallelBranchHides(t *testing.T) {
	read := func(branch float64) float64 {
		n, nodes := series(24, 10, 100)
		n.resistor("branch", nodes[1], ground, branch)
		return across(solved(t, n), nodes[1], ground, HighImpedanceOhms)
	}
	near(t, "open branch", read(openOhms), 24*100/110.0, 1e-3)
	if open, good := read(openOhms), read(1e5); math.Abs(open-good) > 0.3 {
		t.Errorf("a light branch showed: %g and %g", open, good)
	}
}

// TestCoilBehindJoint: 12 + j46.5 Ω behind 200 Ω on 24 V gives 22.1 V on the
// joint and 5.31 V on the coil by modulus, which add to 27.4 (phasors, computed).
func TestCoilBehindJoint(t *testing.T) {
	n, nodes := series(24, 200)
	coil := n.node("coil")
	n.elements[1].nodes[1] = coil
	n.add("coil", coil, ground, 1/complex(12, 46.5), 0)
	u := solved(t, n)
	joint, load := across(u, nodes[0], coil, 1e12), across(u, coil, ground, 1e12)
	near(t, "joint", joint, 22.1, 0.05)
	near(t, "coil", load, 5.31, 0.005)
	near(t, "sum", joint+load, 27.4, 0.05)
}

// TestCopper holds the formula to both published tables at their temperatures:
// ohms per 1000 ft at 20 °C of NBS Handbook 100 (read in a university copy) and
// at 75 °C of NEC Chapter 9 Table 8 (copy), solid. The second rounds to three
// figures and takes a slightly lower conductivity, so 0.5 %; the first 0.1 %.
func TestCopper(t *testing.T) {
	const feet = 1000 * 0.3048
	for gauge, want := range map[int]float64{14: 2.525, 16: 4.016, 18: 6.385, 20: 10.15, 22: 16.14} {
		near(t, fmt.Sprintf("%d AWG at 20 °C", gauge), feet*CopperOhmsPerMetre(gauge, 20), want, 0.001*want)
	}
	for gauge, want := range map[int]float64{18: 7.77, 16: 4.89, 14: 3.07} {
		near(t, fmt.Sprintf("%d AWG at 75 °C", gauge), feet*CopperOhmsPerMetre(gauge, 75), want, 0.005*want)
	}
	// 18 AWG at 20 °C is the 20.95 mΩ/m of the nominal house.
	near(t, "nominal", CopperOhmsPerMetre(18, 20), 0.02095, 0.00001)
	// 16 AWG stranded, 100 ft one way, 4 A: 3.99 V, 16.6 % of 24 V (NEC Table 8's
	// 4.99 for stranded, computed). Solid by the formula is 2 % less.
	solid := 2 * 100 * 0.3048 * CopperOhmsPerMetre(16, 75) * 4
	near(t, "drop over 100 ft", solid*4.99/4.89, 3.99, 0.02)
	near(t, "share of 24 V", solid*4.99/4.89/24, 0.166, 0.001)
	// R2 = R1[1 + 0.00323(T − 75)] (NEC Table 8 note) against our coefficient at
	// 20 °C, over the range drawn.
	for _, celsius := range []float64{0, 20, 60} {
		note := CopperOhmsPerMetre(18, 75) * (1 + 0.00323*(celsius-75))
		near(t, "temperature", CopperOhmsPerMetre(18, celsius), note, 0.002*note)
	}
}
