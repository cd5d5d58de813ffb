package circuit

import "math/bits"

// system is the nodal matrix of a network, factorised with its nodes in an order
// that leaves most of the factors zero. Its buffers are kept; it serves one
// goroutine.
type system struct {
	lu   LU
	rank []int // the row of each node
	rows []complex128
}

// factor factorises the network at the admittances y.
func (s *system) factor(net *network, rank []int, y []complex128) error {
	n := len(net.nodes)
	s.rank, s.lu.sparse = rank, true
	matrix := s.lu.reserve(n)
	clear(matrix)
	for i := range net.elements {
		if y[i] != 0 {
			net.elements[i].stamp(n, matrix, y[i], rank)
		}
	}
	for i := range n {
		matrix[i*n+i] += 1 / leakOhms
	}
	return s.lu.factor()
}

// solve turns the current into each node into its voltage, in place.
func (s *system) solve(nodes []complex128) {
	s.rows = grow(s.rows, len(nodes))
	for node, row := range s.rank {
		s.rows[row] = nodes[node]
	}
	s.lu.Solve(s.rows)
	for node, row := range s.rank {
		nodes[node] = s.rows[row]
	}
}

// ranks puts the nodes of a network in the order of least degree: the one with
// the fewest neighbours goes first and leaves these neighbours of each other.
func (n *network) ranks(s side) []int {
	size := len(n.nodes)
	words := (size + 63) / 64
	beside := make([]uint64, size*words) // a row a node: its neighbours
	row := func(i int) []uint64 { return beside[i*words : (i+1)*words] }
	for i := range n.elements {
		e := &n.elements[i]
		if e.farads && s == dcSide {
			continue
		}
		for _, a := range e.nodes[:e.ends] {
			for _, b := range e.nodes[:e.ends] {
				if a != ground && b != ground && a != b {
					row(a)[b/64] |= 1 << (b % 64)
				}
			}
		}
	}
	rank := make([]int, size)
	left := make([]int, size)
	for i := range left {
		left[i] = i
	}
	for at := range size {
		best := leastDegree(left, row)
		node := left[best]
		left = append(left[:best], left[best+1:]...)
		rank[node] = at
		for w, word := range row(node) {
			for ; word != 0; word &= word - 1 {
				k := w*64 + bits.TrailingZeros64(word)
				for j, other := range row(node) {
					row(k)[j] |= other
				}
				row(k)[node/64] &^= 1 << (node % 64)
				row(k)[k/64] &^= 1 << (k % 64)
			}
		}
	}
	return rank
}

// leastDegree finds among the nodes left the first of those with the fewest
// neighbours.
func leastDegree(left []int, row func(int) []uint64) int {
	best, least := 0, len(left)+1
	for i, node := range left {
		degree := 0
		for _, word := range row(node) {
			degree += bits.OnesCount64(word)
		}
		if degree < least {
			best, least = i, degree
		}
	}
	return best
}
