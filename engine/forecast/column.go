package forecast

import (
	"cmp"
	"slices"
)

// Piece is a share of what a row may show: spread evenly from Lo to Hi on the
// axis, or all at Lo where Hi equals it.
type Piece struct{ Lo, Hi, Share float64 }

// Holds reports whether x is inside.
func (p Piece) Holds(x float64) bool { return p.Lo <= x && x <= p.Hi }

// Density is the piece's share per unit of the axis at x; for a single value,
// its share where x is that value.
func (p Piece) Density(x float64) float64 {
	switch {
	case !p.Holds(x):
		return 0
	case p.Hi > p.Lo:
		return p.Share / (p.Hi - p.Lo)
	}
	return p.Share
}

// Column is what the rows of a sheet show on one probe in one setup. Rows are
// worked out as they are asked for.
type Column struct {
	Goal  Goal
	rows  [][]Piece
	known []bool
}

// NewColumn makes a column from the pieces of every row.
func NewColumn(g Goal, rows [][]Piece) *Column {
	c := &Column{Goal: g, rows: rows, known: make([]bool, len(rows))}
	for r := range c.known {
		c.known[r] = true
	}
	return c
}

// Row is what row r may show; empty where the probe cannot be made there.
func (c *Column) Row(r int) []Piece { return c.rows[r] }

// Rows counts the rows.
func (c *Column) Rows() int { return len(c.rows) }

// Holds reports whether row r may show x.
func (c *Column) Holds(r int, x float64) bool {
	for _, p := range c.rows[r] {
		if p.Holds(x) {
			return true
		}
	}
	return false
}

// Meet reports whether rows a and b may show the same; a row that shows nothing
// meets none.
func (c *Column) Meet(a, b int) bool {
	for _, p := range c.rows[a] {
		for _, q := range c.rows[b] {
			if p.Lo <= q.Hi && q.Lo <= p.Hi {
				return true
			}
		}
	}
	return false
}

// Density is how likely row r shows x, per unit of the axis.
func (c *Column) Density(r int, x float64) float64 {
	var sum float64
	for _, p := range c.rows[r] {
		sum += p.Density(x)
	}
	return sum
}

// sketch gathers the values of one row as they are drawn and keeps only a few
// intervals, however many come: where there would be more, the two nearest are
// joined.
type sketch struct {
	n     int // values, 0 and 1 for single ones
	pairs [sketchMost]patch
	count int // values seen
}

type patch struct {
	lo, hi float64
	count  int
	single bool // one certain value: an answer, or over limit
}

const sketchMost = 6

// add takes one value; nearer than gap to an interval it belongs to it.
func (s *sketch) add(x, gap float64, single bool) {
	s.count++
	for i := 0; i < s.n; i++ {
		p := &s.pairs[i]
		if p.single == single && (x == p.lo || !single && x >= p.lo-gap && x <= p.hi+gap) {
			p.lo, p.hi = min(p.lo, x), max(p.hi, x)
			p.count++
			s.settle(gap)
			return
		}
	}
	if s.n == sketchMost {
		s.joinNearest()
	}
	s.pairs[s.n] = patch{x, x, 1, single}
	s.n++
	slices.SortFunc(s.pairs[:s.n], func(a, b patch) int { return cmp.Compare(a.lo, b.lo) })
}

// settle joins neighbours that have grown together.
func (s *sketch) settle(gap float64) {
	for i := 0; i+1 < s.n; {
		a, b := s.pairs[i], s.pairs[i+1]
		if a.single || b.single || b.lo > a.hi+gap {
			i++
			continue
		}
		s.join(i)
	}
}

func (s *sketch) join(i int) {
	a, b := s.pairs[i], s.pairs[i+1]
	s.pairs[i] = patch{min(a.lo, b.lo), max(a.hi, b.hi), a.count + b.count, false}
	copy(s.pairs[i+1:s.n], s.pairs[i+2:s.n])
	s.n--
}

func (s *sketch) joinNearest() {
	best := -1
	for i := 0; i+1 < s.n; i++ {
		a, b := s.pairs[i], s.pairs[i+1]
		if a.single || b.single {
			continue
		}
		if best < 0 || b.lo-a.hi < s.pairs[best+1].lo-s.pairs[best].hi {
			best = i
		}
	}
	if best >= 0 {
		s.join(best)
	}
}
