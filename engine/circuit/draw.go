package circuit

import (
	"fmt"
	"math/bits"
	"math/rand/v2"

	"stepdown/engine/house"
)

// Draw is one concrete house with an equipment: every number and every choice
// in it. It is a value; With and Set give changed copies.
type Draw struct {
	Equipment *Equipment
	Hertz     float64
	// MeterGain and MeterOffset place this meter within its accuracy: −1 to 1
	// of the percentage, and of the counts.
	MeterGain, MeterOffset float64

	values  []float64
	choices [choiceCount]uint8
	landing *Landing // nil: the base as the equipment's own thermostat has it
}

// Nominal is the house at the centre of every range, with a perfect meter.
func (e *Equipment) Nominal() Draw {
	d := Draw{Equipment: e, Hertz: 60, values: make([]float64, len(e.values))}
	for i, v := range e.values {
		d.values[i] = v.Nominal
	}
	for c := range e.options {
		d.choices[c] = e.options[c][0]
	}
	return d
}

// Value is one number of the house by its name, such as "contactor.dc-ohms".
// A name the equipment does not use is a programming error and panics.
func (d Draw) Value(name string) float64 {
	i, ok := d.Equipment.index[name]
	if !ok {
		panic("circuit: " + d.Equipment.ID.String() + " has no value " + name)
	}
	return d.values[i]
}

// WithValue changes one number.
func (d Draw) WithValue(name string, x float64) (Draw, error) {
	i, ok := d.Equipment.index[name]
	if !ok {
		return d, fmt.Errorf("%s has no value %q", d.Equipment.ID, name)
	}
	d.values = append([]float64(nil), d.values...)
	d.values[i] = x
	return d, nil
}

// Choice is how the house stands in one choice.
func (d Draw) Choice(c Choice) string { return choiceRows[c].options[d.choices[c]] }

// With changes one choice. It takes any of the choice's options, also one this
// equipment's houses are not drawn with.
func (d Draw) With(c Choice, option string) (Draw, error) {
	for i, o := range choiceRows[c].options {
		if o == option {
			d.choices[c] = uint8(i)
			return d.settled(), nil
		}
	}
	return d, fmt.Errorf("%s is one of %v, not %q", c, choiceRows[c].options, option)
}

func (d *Draw) set(c Choice, option string) {
	changed, err := d.With(c, option)
	if err != nil {
		panic("circuit: " + err.Error())
	}
	*d = changed
}

// settled makes the choices agree: a supply by the common needs its conductor.
func (d Draw) settled() Draw {
	if d.Choice(Supply) == "common" {
		d.choices[CommonWire] = 0
	}
	return d
}

// Facts is what people in this house would answer about it.
func (d Draw) Facts() house.Facts {
	f := house.Facts{Equipment: d.Equipment.ID, EquipmentAsked: true, LettersAsked: true}
	for _, t := range d.Equipment.Cables[0].Conductors {
		if d.conductor(t) {
			f.Letters = f.Letters.Add(t)
		}
	}
	f.BaseR = house.BaseRSingle
	if d.Choice(BaseR) == "rc-rh" || d.Equipment.ID == house.SplitPower {
		f.BaseR = house.BaseRRcRh
	}
	f.StatSupply, _ = house.ParseStatSupply(d.Choice(Supply))
	return f
}

// conductor tells whether a letter's conductor is there in this house.
func (d Draw) conductor(t house.Terminal) bool {
	switch t {
	case house.C:
		return d.Choice(CommonWire) == "yes"
	case house.L:
		return d.Choice(FaultWire) == "yes"
	}
	return true
}

// drawsMost bounds how often Sample draws again before it gives up.
const drawsMost = 1000

// Sample draws a house, each number evenly from its range; widen stretches the
// ranges (1 for as they are). A house in which a healthy call would not pull in
// is drawn again.
func (e *Equipment) Sample(rng *rand.Rand, widen float64) Draw {
	for try := 0; try < drawsMost; try++ {
		d := e.Nominal()
		for i, v := range e.values {
			u := 2*rng.Float64() - 1
			d.values[i] = v.at(u * widen)
		}
		for c, options := range e.options {
			d.choices[c] = options[rng.IntN(len(options))]
		}
		d.MeterGain, d.MeterOffset = 2*rng.Float64()-1, 2*rng.Float64()-1
		if d = d.settled(); d.Healthy() {
			return d
		}
	}
	return e.Nominal()
}

// at is the value at u of its range: −1 its low end, 0 nominal, 1 its high end,
// and a tenth of nominal at the least.
func (v Value) at(u float64) float64 {
	x := v.Nominal + u*(v.High-v.Nominal)
	if u < 0 {
		x = v.Nominal + u*(v.Nominal-v.Low)
	}
	if v.Unit == "°C" {
		return x
	}
	return max(x, v.Nominal/10)
}

// Corners is a set of houses at the ends of the ranges: an orthogonal array of
// strength two, so that any two numbers or choices meet in all four pairs of
// their ends.
func (e *Equipment) Corners() []Draw {
	out := make([]Draw, e.CornerCount())
	for r := range out {
		out[r] = e.Corner(r)
	}
	return out
}

// CornerCount is how many corners there are.
func (e *Equipment) CornerCount() int { return e.array().rows() }

// array has a column for each number that has a range and for each doubling of
// a choice's options, and two for the meter.
func (e *Equipment) array() array {
	columns := 2
	for _, v := range e.values {
		if v.Low < v.High {
			columns++
		}
	}
	for _, o := range e.options {
		columns += bits.Len(uint(len(o) - 1))
	}
	return arrayOf(columns)
}

// Corner is one of the corners by itself. A corner in which a healthy call
// would not pull in is moved towards the nominal house, a quarter of the way at
// a time.
func (e *Equipment) Corner(r int) Draw {
	for reach := 1.0; ; reach -= 0.25 {
		if d := e.corner(r, reach); reach <= 0 || d.Healthy() {
			return d
		}
	}
}

// corner is row r of the array, its ends moved to a share of the way.
func (e *Equipment) corner(r int, reach float64) Draw {
	d, a, column := e.Nominal(), e.array(), 0
	level := func() int {
		column++
		return a.level(r, column)
	}
	for i, v := range e.values {
		if v.Low < v.High {
			d.values[i] = v.at(reach * float64(2*level()-1))
		}
	}
	for c, options := range e.options {
		pick := 0
		for range bits.Len(uint(len(options) - 1)) {
			pick = 2*pick + level()
		}
		d.choices[c] = options[pick%len(options)]
	}
	d.MeterGain, d.MeterOffset = float64(2*level()-1), float64(2*level()-1)
	return d.settled()
}
