package circuit

// ports is a network factorised once in its base state and reduced to what a
// setup or a fault can reach: the transfer impedance between every two nodes
// (ohms) and the node voltages (V rms).
type ports struct {
	net   *network
	side  side
	base  []complex128 // siemens, one per element
	n     int
	z     []complex128 // n×n, symmetric
	volts []complex128
}

// reduce factorises the base state.
func reduce(net *network, s side) (*ports, error) {
	n := len(net.nodes)
	p := &ports{net: net, side: s, n: n, base: make([]complex128, len(net.elements)),
		z: make([]complex128, n*n), volts: make([]complex128, n)}
	for i := range net.elements {
		p.base[i] = net.elements[i].base(s)
	}
	var f LU
	net.assemble(f.reserve(n), p.base)
	if err := f.factor(); err != nil {
		return nil, err
	}
	for i := 0; i < n; i++ {
		column := p.z[i*n : (i+1)*n]
		column[i] = 1
		f.Solve(column)
	}
	if s == acSide {
		copy(p.volts, net.inject)
		f.Solve(p.volts)
	}
	return p, nil
}

// transfer is the impedance between two ports: volts at q for one ampere
// injected at p.
func (p *ports) transfer(q, r *element) complex128 {
	var sum complex128
	for i := 0; i < q.ends; i++ {
		if q.nodes[i] == ground {
			continue
		}
		row := p.z[q.nodes[i]*p.n:]
		var inner complex128
		for j := 0; j < r.ends; j++ {
			if k := r.nodes[j]; k != ground {
				inner += complex(r.weight[j], 0) * row[k]
			}
		}
		sum += complex(q.weight[i], 0) * inner
	}
	return sum
}

// weakestKept is how far the update's pivots may cancel before the whole
// network is factorised again: 1e-9 leaves about seven of sixteen digits.
const weakestKept = 1e-6

// update is the network in another state, as a low-rank change of the base:
// with K the elements that changed by Δ, their port voltages solve
// (I + Z_KK·Δ)·v = v0_K (Woodbury), and all else follows from the currents Δ·v.
// Where that cancels too far the state is factorised whole. Buffers are kept.
type update struct {
	ports   *ports
	whole   bool
	forced  bool // always factorise whole: for tests and the exported deck
	k       int
	changed []int
	delta   []complex128
	small   LU
	current []complex128 // amperes drawn by each changed element over the base
	scratch []complex128
	big     LU
	volts   []complex128
	unit    []complex128
}

// to moves the update to the admittances y.
func (u *update) to(p *ports, y []complex128) error {
	u.ports, u.whole = p, false
	u.changed, u.delta = u.changed[:0], u.delta[:0]
	for i, b := range p.base {
		if y[i] != b {
			u.changed = append(u.changed, i)
			u.delta = append(u.delta, y[i]-b)
		}
	}
	u.k = len(u.changed)
	if u.forced || u.k > p.n/2 {
		return u.refactor(y)
	}
	if u.k == 0 {
		return nil
	}
	u.current = grow(u.current, u.k)
	u.scratch = grow(u.scratch, u.k)
	matrix := u.small.reserve(u.k)
	for i, q := range u.changed {
		eq := &p.net.elements[q]
		for j, r := range u.changed {
			matrix[i*u.k+j] = p.transfer(eq, &p.net.elements[r]) * u.delta[j]
		}
		matrix[i*u.k+i] += 1
		u.current[i] = eq.port(p.volts)
	}
	u.small.least = 1
	if err := u.small.factor(); err != nil || u.small.Weakest() < weakestKept {
		return u.refactor(y)
	}
	u.small.Solve(u.current)
	for i := range u.current {
		u.current[i] *= u.delta[i]
	}
	return nil
}

// refactor solves the state from nothing.
func (u *update) refactor(y []complex128) error {
	p := u.ports
	u.whole = true
	p.net.assemble(u.big.reserve(p.n), y)
	if err := u.big.factor(); err != nil {
		return err
	}
	u.volts = grow(u.volts, p.n)
	u.unit = grow(u.unit, p.n)
	clear(u.volts)
	if p.side == acSide {
		copy(u.volts, p.net.inject)
		u.big.Solve(u.volts)
	}
	return nil
}

// voltage is the open-circuit voltage at a port.
func (u *update) voltage(q *element) complex128 {
	if u.whole {
		return q.port(u.volts)
	}
	v := q.port(u.ports.volts)
	for i, r := range u.changed {
		v -= u.ports.transfer(q, &u.ports.net.elements[r]) * u.current[i]
	}
	return v
}

// driving is the impedance a meter at the port looks into, in ohms.
func (u *update) driving(q *element) complex128 {
	if u.whole {
		clear(u.unit)
		for i := 0; i < q.ends; i++ {
			if k := q.nodes[i]; k != ground {
				u.unit[k] += complex(q.weight[i], 0)
			}
		}
		u.big.Solve(u.unit)
		return q.port(u.unit)
	}
	z := u.ports.transfer(q, q)
	if u.k == 0 {
		return z
	}
	for i, r := range u.changed {
		u.scratch[i] = u.ports.transfer(&u.ports.net.elements[r], q)
	}
	u.small.Solve(u.scratch)
	for i, r := range u.changed {
		z -= u.ports.transfer(q, &u.ports.net.elements[r]) * u.delta[i] * u.scratch[i]
	}
	return z
}

func grow(b []complex128, n int) []complex128 {
	if cap(b) < n {
		return make([]complex128, n, 2*n)
	}
	return b[:n]
}
