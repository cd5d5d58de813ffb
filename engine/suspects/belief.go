package suspects

import (
	"math"

	"stepdown/engine/forecast"
)

// belief weighs hypotheses by what was seen. A reading's likelihood is what
// the hypothesis spreads there, less a small share that a slip may land
// anywhere on the probe's span.
type belief struct {
	weight  []float64 // sums to 1
	misfits []uint8   // readings outside the hypothesis's interval
	// fresh is how much of a reading is news after the others: 1 where readings
	// are independent. Those of one house are not, since one line voltage and one
	// transformer stand behind all of them, and a density is raised to this power.
	fresh float64
}

func newBelief(prior []float64, fresh float64) belief {
	b := belief{weight: append([]float64(nil), prior...), misfits: make([]uint8, len(prior)), fresh: fresh}
	b.normalise()
	return b
}

// observe takes one reading of a probe, a slip with a given likelihood, whose
// slips spread over span; fit tells how densely a hypothesis lies at the
// reading, and whether it may show it.
func (b *belief) observe(fit func(h int) (density float64, inside bool), span, slip float64) {
	for h := range b.weight {
		density, inside := fit(h)
		if !inside && b.misfits[h] < 255 {
			b.misfits[h]++
		}
		b.weight[h] *= likelihood(density, span, slip, b.fresh)
	}
	b.normalise()
}

// likelihood is a density on a span, less a share for slips that may land
// anywhere on it.
func likelihood(density, span, slip, fresh float64) float64 {
	if fresh != 1 {
		density = math.Pow(density*span, fresh) / span
	}
	return (1-slip)*density + slip/span
}

// fit is how densely pieces lie at x, and whether one holds it.
func fit(pieces []forecast.Piece, x float64) (density float64, inside bool) {
	for _, p := range pieces {
		if p.Holds(x) {
			inside = true
			density += p.Density(x)
		}
	}
	return density, inside
}

func (b *belief) normalise() {
	var sum float64
	for _, w := range b.weight {
		sum += w
	}
	if sum <= 0 {
		return
	}
	for h := range b.weight {
		b.weight[h] /= sum
	}
}
