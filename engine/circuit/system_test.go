package circuit

import (
	"math/rand/v2"
	"testing"
)

// TestSystemAgreesWithLU holds the network solved within its pattern against the
// dense factorisation with pivots, at the admittances of every fault. Currents go
// in where the circuit can take them, and volts are compared with the largest:
// a node that hangs on picosiemens keeps few digits in either.
func TestSystemAgreesWithLU(t *testing.T) {
	const tolerance = 1e-6
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
				h.fill(s, state{powered: true}, acSide)
				sameSolution(t, &h.bench.plan.network, h.bench.ac.thin, h.y, tolerance)
			}
		}
	}
}

func sameSolution(t *testing.T, net *network, thin *pattern, y []complex128, tolerance float64) {
	t.Helper()
	n := len(net.nodes)
	var dense LU
	net.assemble(dense.reserve(n), y)
	want := append([]complex128(nil), net.inject...)
	got := append([]complex128(nil), net.inject...)
	if err := dense.factor(); err != nil {
		t.Fatal(err)
	}
	dense.Solve(want)
	var s system
	if err := s.factor(thin, y); err != nil {
		t.Fatal(err)
	}
	s.solve(got)
	top := 0.0
	for _, v := range want {
		top = max(top, size1(v))
	}
	for i := range want {
		if d := size1(got[i] - want[i]); d > tolerance*top {
			t.Errorf("%s: %v, with pivots %v", net.nodes[i], got[i], want[i])
		}
	}
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
