package circuit

import (
	"math/bits"
	"math/cmplx"
	"slices"
)

// pattern is where the factors of a network may differ from zero. Its nodes go
// in an order that keeps these places few; the matrix is symmetric, and no
// element gives power back, so that the diagonal serves as pivot in any order.
type pattern struct {
	net  *network
	rank []int     // of each node: its row
	tail [][]int32 // of each row: its columns past the diagonal
}

// system is a network factorised within a pattern as Uᵀ·D⁻¹·U, with U's diagonal
// D. Its buffers are kept; it serves one goroutine.
type system struct {
	*pattern
	upper   []complex128 // n×n, of which only the pattern is used
	inverse []complex128 // of the pivots
	rows    []complex128
}

// factor factorises the network at the admittances y.
func (s *system) factor(p *pattern, y []complex128) error {
	n := len(p.rank)
	s.pattern = p
	s.upper, s.inverse = grow(s.upper, n*n), grow(s.inverse, n)
	for k, tail := range p.tail {
		row := s.upper[k*n : k*n+n]
		row[k] = 1 / leakOhms
		for _, j := range tail {
			row[j] = 0
		}
	}
	for i := range p.net.elements {
		if y[i] != 0 {
			s.stamp(&p.net.elements[i], y[i])
		}
	}
	for k, tail := range p.tail {
		row := s.upper[k*n : k*n+n]
		if row[k] == 0 || cmplx.IsNaN(row[k]) {
			return ErrSingular
		}
		s.inverse[k] = reciprocal(row[k])
		for at, i := range tail {
			factor := row[i] * s.inverse[k]
			if factor == 0 {
				continue
			}
			below := s.upper[int(i)*n : int(i)*n+n]
			for _, j := range tail[at:] {
				below[j] -= factor * row[j]
			}
		}
	}
	return nil
}

// stamp adds y·a·aᵀ, on and above the diagonal.
func (s *system) stamp(e *element, y complex128) {
	n := len(s.rank)
	for i, a := range e.nodes[:e.ends] {
		if a == ground {
			continue
		}
		for j, b := range e.nodes[:e.ends] {
			if b != ground && s.rank[a] <= s.rank[b] {
				s.upper[s.rank[a]*n+s.rank[b]] += y * complex(e.weight[i]*e.weight[j], 0)
			}
		}
	}
}

// solve turns the current into each node into its voltage, in place.
func (s *system) solve(nodes []complex128) {
	n := len(s.rank)
	s.rows = grow(s.rows, n)
	b := s.rows
	for node, row := range s.rank {
		b[row] = nodes[node]
	}
	for k, tail := range s.tail {
		if b[k] == 0 {
			continue
		}
		row, share := s.upper[k*n:k*n+n], b[k]*s.inverse[k]
		for _, i := range tail {
			b[i] -= row[i] * share
		}
	}
	for k := n - 1; k >= 0; k-- {
		row, sum := s.upper[k*n:k*n+n], b[k]
		for _, j := range s.tail[k] {
			sum -= row[j] * b[j]
		}
		b[k] = sum * s.inverse[k]
	}
	for node, row := range s.rank {
		nodes[node] = b[row]
	}
}

// pattern puts the nodes in the order of least degree: the one with the fewest
// neighbours goes first and leaves these neighbours of each other.
func (n *network) pattern(s side) *pattern {
	size := len(n.nodes)
	g := n.graph(s)
	p := &pattern{net: n, rank: make([]int, size), tail: make([][]int32, size)}
	left := make([]int, size)
	for i := range left {
		left[i] = i
	}
	order := make([][]int, size) // of each row: the neighbours its node had left
	for at := range size {
		best := g.leastDegree(left)
		node := left[best]
		left = append(left[:best], left[best+1:]...)
		p.rank[node] = at
		order[at] = g.takeOut(node)
	}
	for at, nodes := range order {
		for _, k := range nodes {
			p.tail[at] = append(p.tail[at], int32(p.rank[k]))
		}
		slices.Sort(p.tail[at])
	}
	return p
}

// graph tells which nodes some element joins: a row of bits a node.
type graph struct {
	words int
	bits  []uint64
}

func (n *network) graph(s side) *graph {
	g := &graph{words: (len(n.nodes) + 63) / 64}
	g.bits = make([]uint64, len(n.nodes)*g.words)
	for i := range n.elements {
		e := &n.elements[i]
		if e.farads && s == dcSide {
			continue
		}
		for _, a := range e.nodes[:e.ends] {
			for _, b := range e.nodes[:e.ends] {
				if a != ground && b != ground && a != b {
					g.row(a)[b/64] |= 1 << (b % 64)
				}
			}
		}
	}
	return g
}

func (g *graph) row(node int) []uint64 { return g.bits[node*g.words : (node+1)*g.words] }

// leastDegree finds among some nodes the first of those with the fewest
// neighbours.
func (g *graph) leastDegree(nodes []int) int {
	best, least := 0, len(g.bits)*64+1
	for i, node := range nodes {
		degree := 0
		for _, word := range g.row(node) {
			degree += bits.OnesCount64(word)
		}
		if degree < least {
			best, least = i, degree
		}
	}
	return best
}

// takeOut joins the neighbours of a node with each other, takes it out, and
// lists them.
func (g *graph) takeOut(node int) []int {
	var list []int
	for w, word := range g.row(node) {
		for ; word != 0; word &= word - 1 {
			list = append(list, w*64+bits.TrailingZeros64(word))
		}
	}
	for _, k := range list {
		row := g.row(k)
		for w, word := range g.row(node) {
			row[w] |= word
		}
		row[node/64] &^= 1 << (node % 64)
		row[k/64] &^= 1 << (k % 64)
	}
	return list
}
