package policy

import (
	"cmp"
	"math"
	"slices"
)

// Mixture finds how much one reading tells about a class, in bits, where each
// class shows a mixture of even spreads and single values. It is exact: the
// densities are constant between the ends of the spreads, so the expectation is
// a finite sum, swept in O(F log F). Its buffers are reused; the zero Mixture
// is ready. One Mixture serves one goroutine.
type Mixture struct {
	ends    []end
	atoms   []atom
	total   []float64 // weight by class
	density []compensated
	open    []int
}

// end is where a spread of a class begins (rise > 0) or stops.
type end struct {
	at, rise float64
	class    int
}

type atom struct {
	at, weight float64
	class      int
}

// compensated is a sum that remembers what rounding dropped (Neumaier), so
// that narrow spreads leave nothing behind on wide ones.
type compensated struct{ sum, lost float64 }

func (c *compensated) add(x float64) {
	t := c.sum + x
	if math.Abs(c.sum) >= math.Abs(x) {
		c.lost += (c.sum - t) + x
	} else {
		c.lost += (x - t) + c.sum
	}
	c.sum = t
}

func (c *compensated) value() float64 { return max(0, c.sum+c.lost) }

// Reset empties the mixture for classes 0 to classes-1.
func (m *Mixture) Reset(classes int) {
	m.ends, m.atoms = m.ends[:0], m.atoms[:0]
	m.total = resize(m.total, classes)
	m.density = resize(m.density, classes)
	m.open = resize(m.open, classes)
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// Add puts a weight of class in, spread evenly from lo to hi, or all at lo
// where hi is not above it.
func (m *Mixture) Add(class int, weight, lo, hi float64) {
	if weight <= 0 {
		return
	}
	m.total[class] += weight
	if hi <= lo {
		m.atoms = append(m.atoms, atom{lo, weight, class})
		return
	}
	rise := weight / (hi - lo)
	m.ends = append(m.ends, end{lo, rise, class}, end{hi, -rise, class})
}

// Gain is the expected fall of the class's entropy, in bits, over one reading.
func (m *Mixture) Gain() float64 {
	var sum float64
	for _, w := range m.total {
		sum += w
	}
	if sum <= 0 {
		return 0
	}
	left := m.sweepAtoms() + m.sweepSpreads()
	return max(0, Entropy(m.total)-left/sum)
}

// sweepAtoms is the weight times the entropy left, over the single values.
func (m *Mixture) sweepAtoms() float64 {
	slices.SortFunc(m.atoms, func(a, b atom) int {
		return cmp.Or(cmp.Compare(a.at, b.at), cmp.Compare(a.class, b.class))
	})
	var left, all, one, terms float64
	for i, a := range m.atoms {
		all += a.weight
		one += a.weight
		last := i+1 == len(m.atoms) || m.atoms[i+1].at != a.at
		if last || m.atoms[i+1].class != a.class {
			terms += xlog2(one)
			one = 0
		}
		if last {
			left += xlog2(all) - terms
			all, terms = 0, 0
		}
	}
	return left
}

// sweepSpreads is the same over the spreads, cell by cell.
func (m *Mixture) sweepSpreads() float64 {
	slices.SortFunc(m.ends, func(a, b end) int { return cmp.Compare(a.at, b.at) })
	var left float64
	var all, terms compensated // Σ density, Σ density·log₂ density by class
	active := 0
	for i, e := range m.ends {
		if i > 0 && active > 1 {
			if width := e.at - m.ends[i-1].at; width > 0 {
				left += width * max(0, xlog2(all.value())-terms.sum-terms.lost)
			}
		}
		d := &m.density[e.class]
		before := d.value()
		was := m.open[e.class]
		if e.rise > 0 {
			m.open[e.class]++
		} else {
			m.open[e.class]--
		}
		active += sign(m.open[e.class]) - sign(was)
		if m.open[e.class] == 0 {
			*d = compensated{}
		} else {
			d.add(e.rise)
		}
		after := d.value()
		terms.add(xlog2(after) - xlog2(before))
		all.add(after - before)
		if active == 0 {
			all, terms = compensated{}, compensated{}
		}
	}
	return left
}

func sign(n int) int {
	if n > 0 {
		return 1
	}
	return 0
}
