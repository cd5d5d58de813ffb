package circuit

import "math"

// ground is the reference node: the cabinets' metal, GND at both places.
const ground = -1

// openOhms is an open switch, joint or break; leakOhms ties every node to the
// cabinet, as damp and insulation do, so that no node is ever undefined.
const (
	openOhms = 1e12
	leakOhms = 1e12
)

// element is one admittance of the network. Its port is a weighted sum of node
// voltages: v1 − v2 for a two-ended part, and for a transformer the secondary
// EMF less the secondary's own voltage, so that one rank-one stamp y·a·aᵀ holds
// winding, ratio and series impedance together.
type element struct {
	name   string
	nodes  [4]int
	weight [4]float64
	ends   int
	ac, dc complex128 // siemens in the base state; 0 where absent
	farads bool       // ac is a capacitor's
}

// network is nodes, elements and injected currents (amperes rms, into a node).
type network struct {
	hertz    float64
	nodes    []string
	elements []element
	inject   []complex128
}

// side tells the two analyses apart: the 60 Hz network with its sources, and
// the resistances an ohmmeter sees.
type side uint8

const (
	acSide side = iota
	dcSide
)

func (n *network) node(name string) int {
	n.nodes = append(n.nodes, name)
	n.inject = append(n.inject, 0)
	return len(n.nodes) - 1
}

// add puts a two-ended element in and returns its index.
func (n *network) add(name string, a, b int, ac, dc complex128) int {
	n.elements = append(n.elements, element{name: name, nodes: [4]int{a, b}, weight: [4]float64{1, -1}, ends: 2, ac: ac, dc: dc})
	return len(n.elements) - 1
}

// resistor is the same at AC and on ohms.
func (n *network) resistor(name string, a, b int, ohms float64) int {
	return n.add(name, a, b, siemens(ohms), siemens(ohms))
}

// absent is an element that only a fault or a setup brings in.
func (n *network) absent(name string, a, b int) int { return n.add(name, a, b, 0, 0) }

func (n *network) capacitor(name string, a, b int, farads float64) int {
	i := n.add(name, a, b, complex(0, 2*math.Pi*n.hertz*farads), 0)
	n.elements[i].farads = true
	return i
}

// coupling is an ideal transformer of ratio secondary over primary behind a
// series resistance on the secondary side.
func (n *network) coupling(name string, p1, p2, s1, s2 int, ratio float64, ac complex128) int {
	n.elements = append(n.elements, element{name: name, nodes: [4]int{p1, p2, s1, s2},
		weight: [4]float64{ratio, -ratio, -1, 1}, ends: 4, ac: ac})
	return len(n.elements) - 1
}

// base is an element's admittance in the base state.
func (e *element) base(s side) complex128 {
	if s == dcSide {
		return e.dc
	}
	return e.ac
}

// port is the element's port voltage, given the node voltages.
func (e *element) port(v []complex128) complex128 {
	var sum complex128
	for i := 0; i < e.ends; i++ {
		if k := e.nodes[i]; k != ground {
			sum += complex(e.weight[i], 0) * v[k]
		}
	}
	return sum
}

// inject puts one ampere through the element's ends into a right-hand side.
func (e *element) inject(b []complex128) {
	for i := 0; i < e.ends; i++ {
		if k := e.nodes[i]; k != ground {
			b[k] += complex(e.weight[i], 0)
		}
	}
}

// stamp adds y·a·aᵀ to the nodal matrix of n nodes.
func (e *element) stamp(n int, matrix []complex128, y complex128) {
	for i := 0; i < e.ends; i++ {
		if e.nodes[i] == ground {
			continue
		}
		for j := 0; j < e.ends; j++ {
			if e.nodes[j] != ground {
				matrix[e.nodes[i]*n+e.nodes[j]] += y * complex(e.weight[i]*e.weight[j], 0)
			}
		}
	}
}

// assemble writes the nodal matrix for the admittances y, one per element.
func (n *network) assemble(matrix, y []complex128) {
	clear(matrix)
	size := len(n.nodes)
	for i := range n.elements {
		if y[i] != 0 {
			n.elements[i].stamp(size, matrix, y[i])
		}
	}
	for i := 0; i < size; i++ {
		matrix[i*size+i] += 1 / leakOhms
	}
}

func siemens(ohms float64) complex128 { return complex(1/ohms, 0) }

// coilSiemens is the admittance at a frequency of a winding of a DC resistance
// whose impedance at 60 Hz has the modulus given. A winding's resistance is
// never all of it: what a draw puts above 95 % is held there.
func coilSiemens(windingOhms, impedanceOhms, hertz float64) complex128 {
	r := min(windingOhms, 0.95*impedanceOhms)
	x := math.Sqrt(impedanceOhms*impedanceOhms - r*r)
	return 1 / complex(r, x*hertz/60)
}

// Copper by formula.
const (
	// copperOhmMetres and copperPerKelvin are the International Annealed Copper
	// Standard at 20 °C (from a secondary copy).
	copperOhmMetres = 1.7241e-8
	copperPerKelvin = 0.00393
)

// AWGMetres is the diameter of a solid conductor in metres, 0.005·92^((36−n)/39)
// inch (ASTM B258, from memory; it reproduces the wire tables).
func AWGMetres(gauge int) float64 {
	return 0.005 * math.Pow(92, float64(36-gauge)/39) * 0.0254
}

// CopperOhmsPerMetre is the DC resistance of a solid copper conductor.
func CopperOhmsPerMetre(gauge int, celsius float64) float64 {
	d := AWGMetres(gauge)
	return copperOhmMetres * (1 + copperPerKelvin*(celsius-20)) / (math.Pi / 4 * d * d)
}
