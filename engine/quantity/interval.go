package quantity

import "math"

// Interval is the closed range Lo to Hi in the base unit of its quantity; it
// is empty where Lo > Hi.
type Interval struct {
	Lo, Hi float64
}

// Point is the interval of one value.
func Point(x float64) Interval { return Interval{x, x} }

// None is the empty interval: the neutral element of Union.
func None() Interval { return Interval{math.Inf(1), math.Inf(-1)} }

// Empty says whether no value is inside.
func (i Interval) Empty() bool { return !(i.Lo <= i.Hi) }

// Contains says whether x is inside or on an end.
func (i Interval) Contains(x float64) bool { return i.Lo <= x && x <= i.Hi }

// Width is Hi - Lo, 0 where empty.
func (i Interval) Width() float64 {
	if i.Empty() {
		return 0
	}
	return i.Hi - i.Lo
}

// Mid is the middle.
func (i Interval) Mid() float64 { return i.Lo + (i.Hi-i.Lo)/2 }

// Widen moves each end outwards by rel times its own size plus abs (both at
// least 0); an empty interval stays empty.
func (i Interval) Widen(rel, abs float64) Interval {
	if i.Empty() {
		return i
	}
	return Interval{i.Lo - rel*math.Abs(i.Lo) - abs, i.Hi + rel*math.Abs(i.Hi) + abs}
}

// Overlaps says whether some value is in both.
func (i Interval) Overlaps(j Interval) bool {
	return !i.Empty() && !j.Empty() && i.Lo <= j.Hi && j.Lo <= i.Hi
}

// Union is the smallest interval that holds both, the gap between them too.
func (i Interval) Union(j Interval) Interval {
	switch {
	case i.Empty():
		return j
	case j.Empty():
		return i
	}
	return Interval{math.Min(i.Lo, j.Lo), math.Max(i.Hi, j.Hi)}
}

// Intersect is what both hold; it may be empty.
func (i Interval) Intersect(j Interval) Interval {
	return Interval{math.Max(i.Lo, j.Lo), math.Min(i.Hi, j.Hi)}
}

// Accuracy is a meter's stated accuracy on one range, as data sheets give it:
// Percent of the reading plus Counts of the last digit, one count being
// Resolution (in the base unit).
type Accuracy struct {
	Percent    float64
	Counts     int
	Resolution float64
}

// Guard is how far, in the base unit, a display at about x may be from the
// truth: two values nearer than this cannot be told apart.
func (a Accuracy) Guard(x float64) float64 {
	return a.Percent/100*math.Abs(x) + float64(a.Counts)*a.Resolution
}

// Shows is what the display may say when the true value is x.
func (a Accuracy) Shows(x float64) Interval {
	g := a.Guard(x)
	return Interval{x - g, x + g}
}

// Widen is what the display may say when the true value is anywhere in i.
func (a Accuracy) Widen(i Interval) Interval {
	return i.Widen(a.Percent/100, float64(a.Counts)*a.Resolution)
}
