package forecast

import (
	"math"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Everything a probe can show lies on one axis of float64: volts and amps as
// they are, ohms by their logarithm (a change from 1 to 2 ohm counts as one
// from 1 to 2 megohm), over limit at +Inf, and a look's answer at its number.
//
// lowOhms is where the logarithm gives way to a straight line: under it two
// resistances are a meter's counts apart, not a ratio. From openOhms on nothing
// of this circuit conducts, and what a meter still shows is damp or its own end.
const (
	lowOhms  = 1.0
	openOhms = 3e5
)

// At is where a reading of q lies on the axis.
func At(q quantity.Quantity, r quantity.Reading) float64 {
	switch {
	case r.OL, q == quantity.Resistance && r.Value >= openOhms:
		return math.Inf(1)
	case q == quantity.Resistance:
		return math.Log10(math.Max(r.Value, 0) + lowOhms)
	}
	return r.Value
}

// AtAnswer is where a look's answer lies on the axis.
func AtAnswer(a house.Answer) float64 { return float64(a) }

// Reading is the reading of q at x, the inverse of At.
func Reading(q quantity.Quantity, x float64) quantity.Reading {
	switch {
	case math.IsInf(x, 1):
		return quantity.Reading{OL: true}
	case q == quantity.Resistance:
		return quantity.Of(math.Max(0, math.Pow(10, x)-lowOhms))
	}
	return quantity.Of(x)
}

// Span is the length of the axis a slip may land on: the range of readings a
// person can make by mistake, evenly. It is the same for every fault, so it
// only weighs a slip against a fit.
func Span(p house.Probe) float64 {
	switch {
	case p.IsLook():
		return float64(len(p.Look.Answers()))
	case p.LineClass():
		return 300
	case p.Quantity == quantity.Resistance:
		return 8
	case p.Quantity == quantity.Current:
		return 5
	}
	return 30
}
