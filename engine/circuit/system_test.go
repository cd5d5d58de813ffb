package circuit

import (
	"math/rand/v2"
	"testing"
)

// TestSystemAgreesWithLU holds the network solved within its pattern against the
// dense factorisation with pivots, at the admittances of every fault. Currents go
// in where the circuit can take them.
//
// A node that hangs on picosiemens behind a joint of 50 S keeps few digits: adding
// up its admittances in another order moves its volts. So each node is held to
// what one rounding of every entry of the matrix may move it by (Skeel's bound,
// N. J. Higham, Accuracy and Stability of Numerical Algorithms, ch. 7; from
// memory), four times over, and a nanovolt a volt beside.
func TestSystemAgreesWithLU(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	cat := loadAll(t)
	for _, id := range cat.IDs() {
		e := cat.Equipment(id)
		bench, err := NewBench(e.Corner(rng.IntN(e.CornerCount())))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range e.Faults() {
			h, err := bench.House(f)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range healthyCalls(e) {
				h.take(s, state{powered: true}, false)
				h.fill(s, state{powered: true}, acSide)
				sameSolution(t, &h.bench.plan.network, h.bench.ac.thin, h.y)
			}
		}
	}
}

func sameSolution(t *testing.T, net *network, thin *pattern, y []complex128) {
	t.Helper()
	d := denseOf(net, y)
	want, err := d.solve(net.inject)
	if err != nil {
		t.Fatal(err)
	}
	got := append([]complex128(nil), net.inject...)
	var s system
	if err := s.factor(thin, y); err != nil {
		t.Fatal(err)
	}
	s.solve(got)
	top := 0.0
	for _, v := range want {
		top = max(top, size1(v))
	}
	for i, bound := range d.moves(want) {
		if off := size1(got[i] - want[i]); off > 1e-9*top+4*bound {
			t.Errorf("%s: %v, with pivots %v, within %.2g", net.nodes[i], got[i], want[i], 4*bound)
		}
	}
}

// denseNetwork is a network's whole matrix, and its factors.
type denseNetwork struct {
	n      int
	matrix []complex128
	lu     LU
}

func denseOf(net *network, y []complex128) *denseNetwork {
	d := &denseNetwork{n: len(net.nodes)}
	d.matrix = make([]complex128, d.n*d.n)
	net.assemble(d.matrix, y)
	return d
}

// solve solves it and refines twice: pivots alone keep the matrix as a whole, not
// each of its rows, and the rows differ by twelve powers of ten.
func (d *denseNetwork) solve(inject []complex128) ([]complex128, error) {
	if err := d.lu.Factor(d.n, d.matrix); err != nil {
		return nil, err
	}
	x := make([]complex128, d.n)
	left := append([]complex128(nil), inject...)
	for range 3 {
		d.lu.Solve(left)
		for i := range x {
			x[i] += left[i]
		}
		for i := range left {
			left[i] = inject[i]
			for j, a := range d.matrix[i*d.n : (i+1)*d.n] {
				left[i] -= a * x[j]
			}
		}
	}
	return x, nil
}

// moves is how far one rounding of every entry of the matrix may move each of the
// volts x: |A⁻¹|·|A|·|x| times what a rounding is.
func (d *denseNetwork) moves(x []complex128) []float64 {
	const rounding = 0x1p-52
	out := make([]float64, d.n)
	column := make([]complex128, d.n)
	for k := range d.n {
		meets := 0.0
		for j, a := range d.matrix[k*d.n : (k+1)*d.n] {
			meets += size1(a) * size1(x[j])
		}
		clear(column)
		column[k] = 1
		d.lu.Solve(column)
		for i, z := range column {
			out[i] += rounding * meets * size1(z)
		}
	}
	return out
}

// TestPatternStaysThin holds the order of least degree to what it is for.
func TestPatternStaysThin(t *testing.T) {
	cat := loadAll(t)
	for _, id := range cat.IDs() {
		bench, err := NewBench(cat.Equipment(id).Nominal())
		if err != nil {
			t.Fatal(err)
		}
		filled, n := 0, len(bench.ac.thin.rank)
		for _, tail := range bench.ac.thin.tail {
			filled += len(tail)
		}
		if of := n * (n - 1) / 2; filled > of/4 {
			t.Errorf("%s: %d of %d places above the diagonal are used", id, filled, of)
		}
	}
}
