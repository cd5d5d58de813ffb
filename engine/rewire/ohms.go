package rewire

import (
	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// band is an interval of ohms DC; open adds "over the range".
type band struct {
	low, high float64
	open      bool
}

// What two conductors of a control cable add to a reading, in ohms: up to 40 m
// of 20 AWG there and back at 60 °C to the board, up to 30 m on to the outdoor
// unit (by the annealed copper standard), and joints.
const (
	cableOhms   = 3.4
	outdoorOhms = 2.6
)

// loads are the parts that hang from a letter to C, with the value that is
// their resistance.
var loads = map[string]string{
	"contactor": "dc-ohms", "stage2": "dc-ohms", "reversing-valve": "dc-ohms", "fan-relay": "dc-ohms",
	"fan-input": "ohms", "burner-control": "ohms", "sequencer": "ohms",
}

// toCommon is what an ohmmeter sees from a board letter to C beyond the cable:
// a load, or the winding. The range is the equipment's own.
func toCommon(e *circuit.Equipment, t house.Terminal) (band, bool) {
	switch t {
	case house.C:
		return band{}, true
	case house.R, house.Rc, house.Rh:
		// What else is on R lies in parallel: hundreds of ohms.
		low, high := ranged(e, "transformer.series-ohms")
		return band{low: 0.9 * low, high: high + 0.2}, true
	case spare, house.L:
		return band{open: true}, true
	}
	for _, id := range e.Driven(t) {
		key, ok := loads[id]
		part, _ := e.Part(id)
		if !ok {
			continue
		}
		low, high := ranged(e, part.Uses+"."+key)
		out := band{low: 0.95 * low, high: high + 0.2} // a board's own input lies in parallel
		if part.At != e.Board() {
			out.high += outdoorOhms
		}
		return out, true
	}
	return band{}, false
}

func ranged(e *circuit.Equipment, name string) (low, high float64) {
	for _, v := range e.Values() {
		if v.Name() == name {
			return v.Low, v.High
		}
	}
	return 0, 0
}

// between is what an ohmmeter reads from one conductor to another, all of them
// off the old base, its error counted.
func between(e *circuit.Equipment, a, b house.Terminal) band {
	if a == b && a != spare {
		return metered(band{high: cableOhms})
	}
	x, _ := toCommon(e, a)
	y, _ := toCommon(e, b)
	return metered(band{low: x.low + y.low, high: x.high + y.high + cableOhms, open: x.open || y.open})
}

// metered widens a band by the meter's error.
func metered(b band) band {
	acc := circuit.MeterAccuracy(quantity.Resistance)
	slack := func(x float64) float64 { return x*acc.Percent/100 + float64(acc.Counts)*acc.Resolution }
	b.low = max(0, b.low-slack(b.low))
	b.high += slack(b.high)
	return b
}

// apart reports whether no reading fits both.
func (b band) apart(o band) bool {
	if b.open || o.open {
		return b.open != o.open
	}
	return b.high < o.low || o.high < b.low
}

// fits holds a reading against a hypothesis. An open reading fits any load,
// whose part may be open; it does not fit the winding or two ends of one screw.
func (r Reading) fits(h hypothesis) bool {
	a, b := h.is[r.Red], h.is[r.Black]
	if r.Quantity != quantity.Resistance {
		return r.fitsVolts(h)
	}
	want := between(h.eq, a, b)
	if r.Value.OL {
		return want.open || !isSource(a) || !isSource(b)
	}
	v, ok := r.Value.Number()
	return !ok || !want.open && v >= want.low && v <= want.high
}

func isSource(t house.Terminal) bool { return isHot(t) || t == house.C }

// liveVolts is how little is left between R and a screw whose contact is
// closed, V rms: a solid-state switch drops about 1 V (common practice).
const liveVolts = 2.0

// fitsVolts: next to nothing between R and a conductor at the old base, its
// thermostat on, shows that the thermostat energises it in that mode. So it is
// no common and no spare, and in heat it is a valve energised in heating.
// Anything else proves nothing: a dead contact reads like a common.
func (r Reading) fitsVolts(h hypothesis) bool {
	v, ok := r.Value.Number()
	t, hot := h.is[r.Black], h.is[r.Red]
	if isHot(t) {
		t, hot = hot, t
	}
	if !ok || v > liveVolts || !isHot(hot) || isHot(t) {
		return true
	}
	change := h.eq.Calls.Changeover
	return change != house.NoTerminal && t == change && h.eq.Calls.EnergisedIn == r.Mode
}

func isHot(t house.Terminal) bool { return t == house.R || t == house.Rc || t == house.Rh }

// fits holds what somebody saw with a conductor joined to R against a
// hypothesis. Only what runs counts: a load that does not may have failed.
func (s Seen) fits(h hypothesis) bool {
	t := h.is[s.Jumper]
	heats := t == house.W || t == house.W2
	fan := t == house.G || heats
	switch s.Look {
	case house.OutdoorUnit:
		return s.word() != "running" || t == house.Y
	case house.IndoorFan:
		return s.word() != "running" || fan
	case house.Air:
		return s.word() != "warm" || heats
	}
	return true
}
