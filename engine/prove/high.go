package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// A control reading over 30 V and the meter's guard band is too high; over
// 50 V the circuit is crossed with the line.
const (
	controlMaxVolts = 30.0
	crossedVolts    = 50.0
)

func (w *walker) tooHigh(p house.Probe, x shows, f house.Facts) house.Finding {
	if p.IsLook() || p.LineClass() || p.Quantity != quantity.ACVolts && p.Quantity != quantity.LowZVolts ||
		!f.OneSupply(p) {
		return ""
	}
	switch {
	case x.reading.Value > crossedVolts:
		return house.LineVoltageCrossed
	case x.reading.Value > w.highVolts(p.Quantity) && f.AtSupply(p):
		return house.ControlVoltageHigh
	}
	return ""
}

// highVolts is what no control circuit should show on a quantity.
func (w *walker) highVolts(q quantity.Quantity) float64 {
	if q == quantity.LowZVolts {
		return controlMaxVolts + w.guardLowZ
	}
	return controlMaxVolts + w.guard
}

// guardVolts is a meter's error near 30 V where the limits do not give it.
const guardVolts = 0.6
