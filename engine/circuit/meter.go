package circuit

import (
	"fmt"
	"math"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// What the meter is. The two impedances are those of NEMA Bulletin 88 (from a
// summary); the rest is common practice for a hand meter.
const (
	HighImpedanceOhms = 10e6
	LowImpedanceOhms  = 3e3
	// overLimitOhms is the top of the ohms ranges. Meters reach 2 to 60 MΩ; the
	// least is taken, so that leakage never decides anything.
	overLimitOhms = 2e6
)

// MeterAccuracy is the accuracy of the meter for a quantity.
func MeterAccuracy(q quantity.Quantity) quantity.Accuracy {
	switch q {
	case quantity.LowZVolts:
		return quantity.Accuracy{Percent: 2, Counts: 3, Resolution: 0.1}
	case quantity.Resistance:
		return quantity.Accuracy{Percent: 1, Counts: 3, Resolution: 0.1}
	case quantity.Current:
		return quantity.Accuracy{Percent: 2, Counts: 5, Resolution: 0.01}
	}
	return quantity.Accuracy{Percent: 1, Counts: 3, Resolution: 0.1}
}

// Refusal is a probe that cannot be made in this house and setup.
type Refusal struct {
	Code string // one of the Refused… words
	Text string
}

func (r *Refusal) Error() string { return r.Text }

// The codes of a Refusal.
const (
	RefusedTerminal = "no-such-terminal"
	RefusedCover    = "cover-closed"
	RefusedPower    = "power-on"
	RefusedMode     = "no-such-mode"
	RefusedLook     = "no-such-look"
	RefusedProbe    = "no-such-probe"
)

func refuse(code, format string, args ...any) error {
	return &Refusal{Code: code, Text: fmt.Sprintf(format, args...)}
}

// Read is what the meter in this house shows: loaded by the meter, off by its
// place within its accuracy, rounded to its last digit. What cannot be read is
// a *Refusal, never a zero.
func (h *House) Read(s house.Setup, p house.Probe) (quantity.Reading, error) {
	if at := p.Cover(); at != house.NoPlace && !h.coverOpen(s, at) {
		return quantity.Reading{}, refuse(RefusedCover, "the cover at %s is closed", at)
	}
	r, err := h.Exact(s, p)
	if err != nil || r.OL {
		return r, err
	}
	return h.display(p.Quantity, r.Value), nil
}

func (h *House) coverOpen(s house.Setup, at house.Place) bool {
	if h.bench.plan.eq.ID.Packaged() {
		return s.CoverIndoor || s.CoverOutdoor
	}
	return s.CoverOpen(at)
}

// display puts the meter's own error and its last digit on a value.
func (h *House) display(q quantity.Quantity, x float64) quantity.Reading {
	a, d := MeterAccuracy(q), h.bench.draw
	x += d.MeterGain*a.Percent/100*math.Abs(x) + d.MeterOffset*float64(a.Counts)*a.Resolution
	if q != quantity.DCVolts {
		x = max(x, 0)
	}
	last := a.Resolution
	if q == quantity.Resistance {
		if x > overLimitOhms {
			return quantity.Reading{OL: true}
		}
		for top := 600.0; x >= top; top *= 10 {
			last *= 10
		}
	}
	return quantity.Of(math.Round(x/last) * last)
}

// Exact is the reading of a perfect meter: its impedance loads the circuit, and
// that is all it does. Covers are not asked about. Where an armature chatters
// it is the mean over the states it goes through.
func (h *House) Exact(s house.Setup, p house.Probe) (quantity.Reading, error) {
	if p.IsLook() {
		return quantity.Reading{}, refuse(RefusedProbe, "%s is a look, not a reading", p)
	}
	ready := h.ready
	if p.Quantity == quantity.Resistance {
		ready = h.unpowered
	}
	if err := ready(s); err != nil {
		return quantity.Reading{}, err
	}
	if p.Quantity == quantity.Current {
		return h.amperes(s, p.Conductor)
	}
	p = p.On(h.bench.plan.eq.ID)
	red, err := h.lead(p.Red, p.At)
	if err != nil {
		return quantity.Reading{}, err
	}
	black, err := h.lead(p.Black, p.At)
	if err != nil {
		return quantity.Reading{}, err
	}
	var meter float64
	switch p.Quantity {
	case quantity.ACVolts:
		meter = HighImpedanceOhms
	case quantity.LowZVolts:
		meter = LowImpedanceOhms
	case quantity.DCVolts:
		return quantity.Of(0), nil // nothing in this circuit rectifies
	case quantity.Resistance:
	default:
		return quantity.Reading{}, refuse(RefusedProbe, "%s is no reading", p)
	}
	return h.once(reading{red, black, meter}, func() (quantity.Reading, error) {
		port := element{nodes: [4]int{red, black}, weight: [4]float64{1, -1}, ends: 2}
		if meter == 0 {
			return h.ohms(s, &port)
		}
		return h.volts(s, &port, meter)
	})
}

// ready settles a setup after checking that the thermostat has its switches.
func (h *House) ready(s house.Setup) error {
	if err := h.possible(s); err != nil {
		return err
	}
	return h.settle(s)
}

// unpowered is ready for ohms, which are read with every feed off.
func (h *House) unpowered(s house.Setup) error {
	if err := h.possible(s); err != nil {
		return err
	}
	for _, b := range h.bench.plan.breakers {
		if h.power(s, b.at) == house.On {
			return refuse(RefusedPower, "ohms are read with every feed off, and the power at %s is on", b.at)
		}
	}
	h.goDark(s)
	return nil
}

// possible refuses a setup the thermostat has no switches for; off the wall it
// may have any.
func (h *House) possible(s house.Setup) error {
	if s.Thermostat == house.Removed {
		return nil
	}
	e := h.bench.plan.eq
	if err := e.modeError(s.Mode); err != nil {
		return &Refusal{Code: RefusedMode, Text: err.Error()}
	}
	if s.FanOn && e.Calls.Fan == 0 {
		return refuse(RefusedMode, "the thermostat of %s has no fan switch", e.ID)
	}
	return nil
}

func (h *House) lead(t house.Terminal, at house.Place) (int, error) {
	n := h.bench.plan.terminal(t, at)
	if n == none {
		return 0, refuse(RefusedTerminal, "this %s has no terminal %s at %s", h.bench.plan.eq.ID, t, at)
	}
	return n, nil
}

// over averages a reading over the states of a chatter; a steady state is read
// once.
func (h *House) over(s house.Setup, read func() float64) (quantity.Reading, error) {
	if h.cycle == 0 {
		return quantity.Of(read()), nil
	}
	sum := 0.0
	for _, v := range h.visited[:h.cycle] {
		if err := h.solve(s, v.state); err != nil {
			return quantity.Reading{}, err
		}
		h.ac.refine(h.y)
		sum += read()
	}
	return quantity.Of(sum / float64(h.cycle)), h.rest(s)
}

func (h *House) volts(s house.Setup, port *element, meterOhms float64) (quantity.Reading, error) {
	if h.cycle == 0 {
		return quantity.Of(h.loaded(port, meterOhms)), nil
	}
	return h.over(s, func() float64 { return h.loaded(port, meterOhms) })
}

// loaded is the modulus of the voltage at a port with a meter across it.
func (h *House) loaded(port *element, meterOhms float64) float64 {
	return loaded(&h.ac, port, h.y, meterOhms)
}

func loaded(u *update, port *element, y []complex128, meterOhms float64) float64 {
	return modulus(u.loaded(port, y, meterOhms))
}

// ohms is the resistance between two leads, every parallel path included.
func (h *House) ohms(s house.Setup, port *element) (quantity.Reading, error) {
	if !h.dcReady {
		p, err := h.bench.dc()
		if err != nil {
			return quantity.Reading{}, err
		}
		h.fill(s, h.state, dcSide)
		if err := h.dc.to(p, h.yDC); err != nil {
			return quantity.Reading{}, err
		}
		h.dcReady = true
	}
	x := real(h.dc.driving(port, h.yDC))
	if x > overLimitOhms {
		return quantity.Reading{OL: true}, nil
	}
	return quantity.Of(max(x, 0)), nil
}

// amperes is the current in one conductor.
func (h *House) amperes(s house.Setup, c house.Conductor) (quantity.Reading, error) {
	p := h.bench.plan
	c = c.On(p.eq.ID)
	c.At = p.eq.ID.Where(c.At)
	for _, l := range p.lifts {
		if l.conductor == c {
			return h.over(s, func() float64 { return modulus(h.ac.voltage(&p.elements[l.element]) * h.y[l.element]) })
		}
	}
	return quantity.Reading{}, refuse(RefusedTerminal, "this %s has no conductor %s", p.eq.ID, c)
}

// Slip is a mistake with the meter that lasts the whole call.
type Slip uint8

// The slips: none, the dial on DC volts when AC is asked for, a lead that does
// not conduct.
const (
	NoSlip Slip = iota
	DialOnDC
	DeadLead
)

// ReadSlipped is Read by somebody who makes a slip.
func (h *House) ReadSlipped(s house.Setup, p house.Probe, slip Slip) (quantity.Reading, error) {
	r, err := h.Read(s, p)
	if err != nil || slip == NoSlip || p.Quantity == quantity.Current {
		return r, err
	}
	switch {
	case p.Quantity == quantity.Resistance && slip == DeadLead:
		return quantity.Reading{OL: true}, nil
	case p.Quantity != quantity.Resistance:
		return h.display(quantity.DCVolts, 0), nil
	}
	return r, nil
}
