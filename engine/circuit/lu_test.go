package circuit

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// randomNetwork is a connected passive nodal matrix of n nodes: a tree of
// conductances between 1 TΩ and 20 mΩ, a few more branches, reactance in some.
func randomNetwork(rng *rand.Rand, n int) ([]complex128, []complex128) {
	a := make([]complex128, n*n)
	b := make([]complex128, n)
	stamp := func(i, j int, y complex128) {
		a[i*n+i] += y
		if j >= 0 {
			a[j*n+j] += y
			a[i*n+j] -= y
			a[j*n+i] -= y
		}
	}
	for i := 0; i < n; i++ {
		stamp(i, rng.IntN(i+1)-1, randomAdmittance(rng))
		stamp(i, -1, 1e-12)
		if j := rng.IntN(n); j != i {
			stamp(i, j, randomAdmittance(rng))
		}
	}
	b[0] = complex(10*rng.NormFloat64(), 10*rng.NormFloat64())
	return a, b
}

func randomAdmittance(rng *rand.Rand) complex128 {
	y := complex(math.Pow(10, -8+9.7*rng.Float64()), 0)
	if rng.IntN(3) == 0 {
		y *= cmplx.Exp(complex(0, -math.Pi/2*rng.Float64()))
	}
	return y
}

// realSystem writes the complex n system as the equivalent real 2n one:
// [Re −Im; Im Re]·[x; y] = [Re b; Im b].
func realSystem(n int, a, b []complex128) (*mat.Dense, *mat.VecDense) {
	m := mat.NewDense(2*n, 2*n, nil)
	v := mat.NewVecDense(2*n, nil)
	for i := 0; i < n; i++ {
		for j := 0; j < n; j++ {
			z := a[i*n+j]
			m.Set(i, j, real(z))
			m.Set(i, n+j, -imag(z))
			m.Set(n+i, j, imag(z))
			m.Set(n+i, n+j, real(z))
		}
		v.SetVec(i, real(b[i]))
		v.SetVec(n+i, imag(b[i]))
	}
	return m, v
}

func TestLUSolvesByHand(t *testing.T) {
	// (1+i)x + 2y = 5+3i, 3x − iy = 4−2i has x = 1+... worked by Cramer's rule.
	a := []complex128{1 + 1i, 2, 3, -1i}
	b := []complex128{5 + 3i, 4 - 2i}
	det := a[0]*a[3] - a[1]*a[2]
	want := []complex128{(b[0]*a[3] - a[1]*b[1]) / det, (a[0]*b[1] - b[0]*a[2]) / det}
	var f LU
	if err := f.Factor(2, a); err != nil {
		t.Fatal(err)
	}
	f.Solve(b)
	for i := range want {
		if cmplx.Abs(b[i]-want[i]) > 1e-14 {
			t.Errorf("x[%d] = %v, want %v", i, b[i], want[i])
		}
	}
}

func TestLUNeedsItsPivot(t *testing.T) {
	var f LU
	if err := f.Factor(2, []complex128{0, 1, 1, 0}); err != nil {
		t.Fatal("a zero on the diagonal is no singular matrix:", err)
	}
	b := []complex128{3, 4i}
	f.Solve(b)
	if b[0] != 4i || b[1] != 3 {
		t.Errorf("got %v", b)
	}
	if err := f.Factor(2, []complex128{1, 2, 2, 4}); err == nil {
		t.Error("a singular matrix was factorised")
	}
}

// TestLUAgreesWithGonum holds the complex factorisation against gonum's real
// one on networks whose conductances span fourteen decades. The tolerance is
// relative to the largest voltage: both lose the same digits where a node hangs
// on little.
func TestLUAgreesWithGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var f LU
	for try := 0; try < 50; try++ {
		n := 2 + rng.IntN(50)
		a, b := randomNetwork(rng, n)
		m, v := realSystem(n, a, b)
		if err := f.Factor(n, a); err != nil {
			t.Fatal(err)
		}
		x := append([]complex128(nil), b...)
		f.Solve(x)
		var lu mat.LU
		lu.Factorize(m)
		var want mat.VecDense
		if err := lu.SolveVecTo(&want, false, v); err != nil {
			if _, ill := err.(mat.Condition); !ill {
				t.Fatal(err)
			}
		}
		top := 0.0
		for i := range x {
			top = max(top, math.Hypot(want.AtVec(i), want.AtVec(n+i)))
		}
		tolerance := 1e-15 * lu.Cond()
		for i := range x {
			if d := cmplx.Abs(x[i] - complex(want.AtVec(i), want.AtVec(n+i))); d > max(1e-12, tolerance)*top {
				t.Fatalf("try %d: node %d differs by %g of %g (condition %g)", try, i, d, top, lu.Cond())
			}
		}
	}
}

func BenchmarkSolve40(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 4))
	a, rhs := randomNetwork(rng, 40)
	x := make([]complex128, 40)
	var f LU
	b.Run("own", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := f.Factor(40, a); err != nil {
				b.Fatal(err)
			}
			copy(x, rhs)
			f.Solve(x)
		}
	})
	m, v := realSystem(40, a, rhs)
	var lu mat.LU
	var y mat.VecDense
	b.Run("gonum", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			lu.Factorize(m)
			_ = lu.SolveVecTo(&y, false, v) // a warning about the condition is expected
		}
	})
}
