package circuit

import (
	"errors"
	"math"
)

// ErrSingular says that a network has a node no element ties to the rest, so
// its voltages are not defined.
var ErrSingular = errors.New("the network has a node nothing ties down")

// LU is a dense complex factorisation P·A = L·U with partial pivoting. Its
// buffers are kept from one use to the next: a Factor no larger than the
// largest before it, and every Solve, allocate nothing. It is not safe for two
// goroutines.
type LU struct {
	n       int
	a       []complex128 // row-major, L below the diagonal, U on and above it
	inverse []complex128 // reciprocals of the pivots
	swap    []int        // row exchanged with row k at step k
	scale   []float64    // largest entry of each column before elimination
	least   float64      // the least a column's largest entry counts as
	weakest float64      // least pivot relative to its column
}

// Factor factorises the n×n row-major matrix a, which it copies.
func (f *LU) Factor(n int, a []complex128) error {
	copy(f.reserve(n), a[:n*n])
	return f.factor()
}

// reserve sizes the buffers for an n×n matrix and returns the one to fill.
func (f *LU) reserve(n int) []complex128 {
	if cap(f.a) < n*n {
		f.a = make([]complex128, n*n)
		f.inverse = make([]complex128, n)
		f.swap = make([]int, n)
		f.scale = make([]float64, n)
	}
	f.n = n
	f.a, f.inverse, f.swap, f.scale = f.a[:n*n], f.inverse[:n], f.swap[:n], f.scale[:n]
	return f.a
}

// factor factorises what reserve's caller put into the buffer, in place.
func (f *LU) factor() error {
	n, a := f.n, f.a
	f.measure()
	f.weakest = 1
	for k := 0; k < n; k++ {
		pivot, size := k, size1(a[k*n+k])
		for i := k + 1; i < n; i++ {
			if s := size1(a[i*n+k]); s > size {
				pivot, size = i, s
			}
		}
		if size == 0 || math.IsNaN(size) {
			return ErrSingular
		}
		f.weakest = min(f.weakest, size/f.scale[k])
		f.swap[k] = pivot
		rowK := a[k*n : k*n+n]
		if pivot != k {
			rowP := a[pivot*n : pivot*n+n]
			for j := range rowK {
				rowK[j], rowP[j] = rowP[j], rowK[j]
			}
		}
		f.inverse[k] = reciprocal(rowK[k])
		f.eliminate(k)
	}
	return nil
}

// measure notes the largest entry of each column, against which factor
// compares the pivots to see how many digits cancelled.
func (f *LU) measure() {
	for j := range f.scale {
		f.scale[j] = f.least
	}
	for i := 0; i < f.n; i++ {
		for j, v := range f.a[i*f.n : (i+1)*f.n] {
			f.scale[j] = max(f.scale[j], size1(v))
		}
	}
}

// eliminate takes row k from the rows below it, two rows at a time so that
// each entry of row k is loaded once for both.
func (f *LU) eliminate(k int) {
	n, a := f.n, f.a
	tail := a[k*n+k+1 : k*n+n]
	i := k + 1
	for ; i+1 < n; i += 2 {
		p, q := a[i*n+k]*f.inverse[k], a[(i+1)*n+k]*f.inverse[k]
		a[i*n+k], a[(i+1)*n+k] = p, q
		if p == 0 && q == 0 {
			continue
		}
		rowP := a[i*n+k+1 : i*n+n][:len(tail)]
		rowQ := a[(i+1)*n+k+1 : (i+1)*n+n][:len(tail)]
		for j, u := range tail {
			rowP[j] -= p * u
			rowQ[j] -= q * u
		}
	}
	if i < n {
		p := a[i*n+k] * f.inverse[k]
		a[i*n+k] = p
		row := a[i*n+k+1 : i*n+n][:len(tail)]
		for j, u := range tail {
			row[j] -= p * u
		}
	}
}

// Solve overwrites b with the solution of A·x = b.
func (f *LU) Solve(b []complex128) {
	n, a := f.n, f.a
	b = b[:n]
	for k, p := range f.swap {
		b[k], b[p] = b[p], b[k]
	}
	first := 0 // a column of an inverse starts with zeros, which stay
	for first < n && b[first] == 0 {
		first++
	}
	for i := first + 1; i < n; i++ {
		sum := b[i]
		row := a[i*n+first : i*n+i]
		known := b[first:i][:len(row)]
		for j, l := range row {
			sum -= l * known[j]
		}
		b[i] = sum
	}
	for i := n - 1; i >= 0; i-- {
		sum := b[i]
		row := a[i*n+i+1 : i*n+n]
		rest := b[i+1:][:len(row)]
		for j, u := range row {
			sum -= u * rest[j]
		}
		b[i] = sum * f.inverse[i]
	}
}

// Weakest is the least pivot relative to the largest entry of its column: how
// much of the arithmetic's sixteen digits survived cancellation, 1 for all.
func (f *LU) Weakest() float64 { return f.weakest }

// size1 is the 1-norm of a complex number: as good as the modulus for choosing
// a pivot, without its square root.
func size1(z complex128) float64 { return math.Abs(real(z)) + math.Abs(imag(z)) }

// reciprocal is 1/z by Smith's scaling; the built-in division also sorts out
// infinities, which never reach this code.
func reciprocal(z complex128) complex128 {
	x, y := real(z), imag(z)
	if math.Abs(x) >= math.Abs(y) {
		r := y / x
		d := x + y*r
		return complex(1/d, -r/d)
	}
	r := x / y
	d := x*r + y
	return complex(r/d, -1/d)
}
