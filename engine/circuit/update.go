package circuit

// weakestKept is how far the update may cancel before the whole network is
// factorised again: 1e-9 leaves at least six of sixteen digits.
const weakestKept = 1e-9

// update is the network in another state, as a low-rank change of the base:
// with K the elements that changed by Δ, their port voltages solve
// (I + Z_KK·Δ)·v = v0_K (Woodbury), and all else follows from the currents Δ·v.
// Where that cancels too far the state is factorised whole. Buffers are kept.
type update struct {
	ports   *ports
	whole   bool
	forced  bool // always factorise whole: for tests and the exported deck
	k       int
	changed []int // elements
	delta   []complex128
	small   LU
	current []complex128 // amperes drawn by each changed element over the base
	scratch []complex128
	big     system
	volts   []complex128 // V rms at each node, where whole or refined
	unit    []complex128
	rest    []complex128
	shift   []complex128

	// Refined, every voltage is read with what the currents at the nodes of y
	// still lack taken out; ready, volts and lack are worked out for that.
	refined, ready bool
	y              []complex128
	lack           []complex128
	column         []complex128

	answered []complex128
}

// to moves the update to the admittances y.
func (u *update) to(p *ports, y []complex128) error {
	u.ports, u.whole, u.refined = p, false, false
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
	if !u.couple() {
		return u.refactor(y)
	}
	u.small.Solve(u.current)
	for i := range u.current {
		u.current[i] *= u.delta[i]
	}
	return nil
}

// couple factorises I + Z·Δ and reports whether enough digits survived.
func (u *update) couple() bool {
	p, k := u.ports, u.k
	matrix := u.small.reserve(k)
	for i, q := range u.changed {
		row := p.between[p.place[q]*p.m:]
		for j, r := range u.changed {
			matrix[i*k+j] = row[p.place[r]] * u.delta[j]
		}
		matrix[i*k+i] += 1
		if size1(matrix[i*k+i]) < weakestKept {
			return false
		}
		u.current[i] = p.across[p.place[q]]
	}
	u.small.least = 1
	return u.small.factor() == nil && u.small.Weakest() >= weakestKept
}

// refactor solves the state from nothing.
func (u *update) refactor(y []complex128) error {
	p := u.ports
	u.whole = true
	if err := u.big.factor(p.thin, y); err != nil {
		return err
	}
	u.volts = grow(u.volts, p.n)
	u.unit = grow(u.unit, p.n)
	clear(u.volts)
	if p.side == acSide {
		copy(u.volts, p.net.inject)
		u.big.solve(u.volts)
	}
	return nil
}

// voltage is the open-circuit voltage at a port.
func (u *update) voltage(q *element) complex128 {
	if !u.refined || u.whole || u.ports.side == dcSide {
		if u.refined && !u.ready {
			u.prepare()
		}
		return u.rough(q)
	}
	return u.refinedAt(q, u.columnOf(q))
}

// refinedAt is the voltage at a port whose column is known.
func (u *update) refinedAt(q *element, column []complex128) complex128 {
	if !u.ready {
		u.prepare()
	}
	v := q.port(u.volts)
	for i, z := range column {
		v += z * u.lack[i]
	}
	return v
}

// loaded is the voltage at a port with a meter of so many ohms across it.
func (u *update) loaded(q *element, y []complex128, meterOhms float64) complex128 {
	if !u.refined || u.whole {
		return u.voltage(q) / (1 + u.driving(q, y)/complex(meterOhms, 0))
	}
	column := u.columnOf(q)
	z := q.port(column)
	if size1(z) >= highOhms || u.ports.high(q) {
		z = u.drivingRefined(q, column, y)
	}
	return u.refinedAt(q, column) / (1 + z/complex(meterOhms, 0))
}

// rough is voltage without what refining adds: enough to tell whether
// something runs on it.
func (u *update) rough(q *element) complex128 {
	if u.whole {
		return q.port(u.volts)
	}
	v := q.port(u.ports.volts)
	for i, r := range u.changed {
		v -= q.port(u.ports.column(r)) * u.current[i]
	}
	return v
}

// highOhms is the impedance from which driving is refined: what hangs on
// leakage alone has lost digits that a meter of 10 MΩ would show.
const highOhms = 1e6

// driving is the impedance a meter at the port looks into, in ohms, with the
// network at the admittances y.
func (u *update) driving(q *element, y []complex128) complex128 {
	z := u.drivingOnce(q)
	if size1(z) < highOhms && !u.ports.high(q) {
		return z
	}
	if !u.whole {
		return u.drivingRefined(q, u.columnOf(q), y)
	}
	n := u.ports.n
	u.unit, u.answered = grow(u.unit, n), grow(u.answered, n)
	clear(u.unit)
	q.inject(u.unit)
	copy(u.answered, u.unit)
	u.big.solve(u.answered)
	u.improve(u.answered, u.unit, y)
	u.improve(u.answered, u.unit, y) // 20 mΩ within a gigohm takes both
	return q.port(u.answered)
}

// drivingRefined is driving from a port's column in this state: refined once,
// and what then lacks taken against the column itself, which squares the error
// again. 20 mΩ within a gigohm takes both.
func (u *update) drivingRefined(q *element, column, y []complex128) complex128 {
	n := u.ports.n
	u.unit, u.rest, u.answered = grow(u.unit, n), grow(u.rest, n), grow(u.answered, n)
	clear(u.unit)
	q.inject(u.unit)
	copy(u.answered, column)
	u.improve(u.answered, u.unit, y)
	u.lacking(u.rest, u.answered, u.unit, y)
	z := q.port(u.answered)
	for i, v := range u.answered {
		z += v * u.rest[i]
	}
	return z
}

func (u *update) drivingOnce(q *element) complex128 {
	if u.whole {
		clear(u.unit)
		q.inject(u.unit)
		u.big.solve(u.unit)
		return q.port(u.unit)
	}
	z := u.ports.driving(q)
	if u.k == 0 {
		return z
	}
	for i, r := range u.changed {
		u.scratch[i] = q.port(u.ports.column(r))
	}
	u.small.Solve(u.scratch)
	for i, r := range u.changed {
		z -= q.port(u.ports.column(r)) * u.delta[i] * u.scratch[i]
	}
	return z
}

// refine has every voltage read from here on take out what the currents at the
// nodes still lack: a ghost of microvolts behind an open joint is then as right
// as the 26 volts before it, which the update alone would drown it in. Nothing is
// worked out before it is asked for, and then for one port at a time.
func (u *update) refine(y []complex128) { u.refined, u.ready, u.y = true, false, y }

// prepare works out every node, roughly, and what its current lacks. Where the
// state was solved whole one more solution refines all nodes together.
func (u *update) prepare() {
	p := u.ports
	u.ready = true
	u.volts = grow(u.volts, p.n)
	if !u.whole {
		copy(u.volts, p.volts)
		u.spread(u.volts, u.current)
	}
	switch {
	case p.side != acSide:
	case u.whole:
		u.improve(u.volts, p.net.inject, u.y)
	default:
		u.lack = grow(u.lack, p.n)
		u.lacking(u.lack, u.volts, p.net.inject, u.y)
	}
}

// columnOf is what an ampere through the port does to the nodes in this state;
// as the network is reciprocal, also what an ampere into each node does to the
// port.
func (u *update) columnOf(q *element) []complex128 {
	p := u.ports
	u.column = grow(u.column, p.n)
	clear(u.column)
	for i, node := range q.nodes[:q.ends] {
		if node == ground {
			continue
		}
		weight := complex(q.weight[i], 0)
		for k, z := range p.nodes[node*p.n : (node+1)*p.n] {
			u.column[k] += weight * z
		}
	}
	if u.k == 0 {
		return u.column
	}
	for i, r := range u.changed {
		u.scratch[i] = q.port(p.column(r))
	}
	u.small.Solve(u.scratch)
	for i := range u.scratch {
		u.scratch[i] *= u.delta[i]
	}
	u.spread(u.column, u.scratch)
	return u.column
}

// improve refines the node voltages that the injected currents make. The
// update is right to some eight digits, behind the worst of opens to three; one
// step doubles them.
func (u *update) improve(volts, inject, y []complex128) {
	u.rest, u.shift = grow(u.rest, u.ports.n), grow(u.shift, u.ports.n)
	u.lacking(u.rest, volts, inject, y)
	for i, v := range u.answer() {
		volts[i] += v
	}
}

// lacking puts into rest the current each node still needs to come to nothing.
func (u *update) lacking(rest, volts, inject, y []complex128) {
	net := u.ports.net
	for i, v := range volts {
		rest[i] = inject[i] - v/leakOhms
	}
	for i := range net.elements {
		if y[i] == 0 {
			continue
		}
		e := &net.elements[i]
		current := y[i] * e.port(volts)
		for k := 0; k < e.ends; k++ {
			if e.nodes[k] != ground {
				rest[e.nodes[k]] -= complex(e.weight[k], 0) * current
			}
		}
	}
}

// answer is what the network in this state does for the currents in rest.
func (u *update) answer() []complex128 {
	p := u.ports
	if u.whole {
		u.big.solve(u.rest)
		return u.rest
	}
	for i := range u.shift {
		var sum complex128
		row := p.nodes[i*p.n : (i+1)*p.n]
		for j, a := range u.rest {
			sum += row[j] * a
		}
		u.shift[i] = sum
	}
	if u.k == 0 {
		return u.shift
	}
	for i, r := range u.changed {
		u.scratch[i] = p.net.elements[r].port(u.shift)
	}
	u.small.Solve(u.scratch)
	for i := range u.scratch {
		u.scratch[i] *= u.delta[i]
	}
	u.spread(u.shift, u.scratch)
	return u.shift
}

// spread takes what the changed elements' currents do off the node voltages.
func (u *update) spread(volts, currents []complex128) {
	for i, r := range u.changed {
		column := u.ports.column(r)
		for j, z := range column {
			volts[j] -= z * currents[i]
		}
	}
}

func grow(b []complex128, n int) []complex128 {
	if cap(b) < n {
		return make([]complex128, n, 2*n)
	}
	return b[:n]
}
