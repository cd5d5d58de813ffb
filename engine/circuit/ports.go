package circuit

// ports is a network factorised once in its base state and reduced to what a
// setup, a fault or a meter can reach.
//
// Opening a closed joint is the hard case: what is left behind it may hang on
// picofarads, eight orders below the joint, and a difference of two node
// impedances would have lost that. So each element that can change keeps its
// own column, solved for one ampere from end to end, and the impedance between
// two elements is taken from the column with the smaller numbers.
type ports struct {
	net   *network
	side  side
	base  []complex128 // siemens, one per element
	n     int
	thin  *pattern     // where the network's factors differ from zero
	nodes []complex128 // n×n, symmetric: volts at a node for an ampere into another
	volts []complex128 // V rms at each node

	place   []int        // an element's index among those that can change, −1 for a capacitor
	m       int          // how many can change
	columns []complex128 // m×n: volts at each node for an ampere through an element's ends
	between []complex128 // m×m, symmetric: ohms between two elements' ports
	across  []complex128 // V rms at each element's port
}

// reduce factorises the base state.
func reduce(net *network, s side) (*ports, error) {
	n := len(net.nodes)
	p := &ports{net: net, side: s, n: n, base: make([]complex128, len(net.elements)),
		nodes: make([]complex128, n*n), volts: make([]complex128, n)}
	for i := range net.elements {
		p.base[i] = net.elements[i].base(s)
	}
	p.thin = net.pattern(s)
	var f system
	if err := f.factor(p.thin, p.base); err != nil {
		return nil, err
	}
	for i := 0; i < n; i++ {
		column := p.nodes[i*n : (i+1)*n]
		column[i] = 1
		f.solve(column)
	}
	if s == acSide {
		copy(p.volts, net.inject)
		f.solve(p.volts)
	}
	p.reduceElements(&f)
	return p, nil
}

// reduceElements solves the columns of the elements that can change.
func (p *ports) reduceElements(f *system) {
	n, all := p.n, p.net.elements
	p.place = make([]int, len(all))
	for i := range all {
		p.place[i] = -1
		if !all[i].farads {
			p.place[i] = p.m
			p.m++
		}
	}
	p.columns = make([]complex128, p.m*n)
	p.between = make([]complex128, p.m*p.m)
	p.across = make([]complex128, p.m)
	size := make([]float64, p.m)
	for i, k := range p.place {
		if k < 0 {
			continue
		}
		column := p.columns[k*n : (k+1)*n]
		all[i].inject(column)
		f.solve(column)
		for _, v := range column {
			size[k] = max(size[k], size1(v))
		}
		p.across[k] = all[i].port(p.volts)
	}
	for i, k := range p.place {
		for j, l := range p.place[:i+1] {
			if k < 0 || l < 0 {
				continue
			}
			z := all[j].port(p.columns[k*n : (k+1)*n])
			if size[l] < size[k] {
				z = all[i].port(p.columns[l*n : (l+1)*n])
			}
			p.between[k*p.m+l], p.between[l*p.m+k] = z, z
		}
	}
}

// driving is the impedance between a port's ends in the base state.
func (p *ports) driving(q *element) complex128 {
	var sum complex128
	for i := 0; i < q.ends; i++ {
		if q.nodes[i] == ground {
			continue
		}
		sum += complex(q.weight[i], 0) * q.port(p.nodes[q.nodes[i]*p.n:])
	}
	return sum
}

// high tells whether a port's ends hang on little in the base state.
func (p *ports) high(q *element) bool {
	for i := 0; i < q.ends; i++ {
		if k := q.nodes[i]; k != ground && size1(p.nodes[k*p.n+k]) >= highOhms {
			return true
		}
	}
	return false
}

// column is what an element's ampere does to the nodes.
func (p *ports) column(element int) []complex128 {
	k := p.place[element]
	return p.columns[k*p.n : (k+1)*p.n]
}
