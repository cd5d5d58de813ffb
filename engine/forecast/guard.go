package forecast

import (
	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// The guard band is what is added to an interval beyond the meter: a share of
// its own width, since houses are not drawn from our ranges, and a least width
// in the base unit, since nobody reads a wandering last digit alike.
const (
	guardShare    = 0.25
	guardFew      = 6 // values at which the share is doubled: few reach the ends less
	guardVolts    = 0.3
	guardLine     = 2.0
	guardOhmsAxis = 0.02 // about 5 % of an ohms reading
	guardAmps     = 0.02
)

// gap is how near two values of a probe lie to be one interval. It is wide: a
// draw at each end of a range stands for all between them, and only what a
// choice of the house or a moved armature sets apart is an interval of its own.
// few is how many times fewer than all the row's houses are.
func gap(p house.Probe, few float64) float64 {
	switch {
	case p.IsLook():
		return 0
	case p.Quantity == quantity.Resistance:
		return min(0.6*few, 0.9) // a factor of four, of eight where few houses stand between the ends
	case p.Quantity == quantity.Current:
		return 0.6
	case p.LineClass():
		return 40
	case p.Quantity == quantity.ACVolts:
		return min(10*few, 14) // a reading that floats may be anywhere between
	}
	return 5
}

// widen is an interval, found by so many values, with the meter's accuracy and
// the guard band taken slack times.
func widen(p house.Probe, lo, hi float64, values int, slack float64) (float64, float64) {
	extra := guardShare * (hi - lo) * (1 + guardFew*slack/float64(values))
	accuracy := circuit.MeterAccuracy(p.Quantity)
	switch {
	case p.Quantity == quantity.Resistance:
		low := accuracy.Widen(quantity.Interval{Lo: Reading(p.Quantity, lo).Value, Hi: Reading(p.Quantity, hi).Value})
		return At(p.Quantity, quantity.Of(low.Lo)) - extra - guardOhmsAxis*slack, At(p.Quantity, quantity.Of(low.Hi)) + extra + guardOhmsAxis*slack
	case p.Quantity == quantity.Current:
		extra += guardAmps * slack
	case p.LineClass():
		extra += guardLine * slack
	default:
		extra += guardVolts * slack
	}
	wide := accuracy.Widen(quantity.Interval{Lo: lo, Hi: hi})
	return max(0, wide.Lo-extra), wide.Hi + extra
}

// pieces is what a row's sketch comes to: its intervals widened, those that now
// touch joined.
func (s *sketch) pieces(p house.Probe, slack float64) []Piece {
	out := make([]Piece, 0, s.n)
	for _, q := range s.pairs[:s.n] {
		share := float64(q.count) / float64(s.count)
		if q.single {
			out = append(out, Piece{q.lo, q.lo, share})
			continue
		}
		lo, hi := widen(p, q.lo, q.hi, q.count, slack)
		if k := len(out) - 1; k >= 0 && out[k].Hi >= lo && out[k].Hi > out[k].Lo {
			out[k].Hi, out[k].Share = max(out[k].Hi, hi), out[k].Share+share
			continue
		}
		out = append(out, Piece{lo, hi, share})
	}
	return out
}
