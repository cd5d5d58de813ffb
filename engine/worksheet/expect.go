package worksheet

import (
	"errors"
	"math/rand/v2"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Options says what to print and over how many houses the ranges are taken:
// every corner of the drawn ranges, and Draws more at random from Seed.
type Options struct {
	Quantity quantity.Quantity // ACVolts where zero
	Draws    int
	Seed     uint64
}

// Sheet is what should be read and seen in one setup, healthy.
type Sheet struct {
	Equipment house.Equipment
	Setup     house.Setup
	Quantity  quantity.Quantity
	Pages     []Page
	Looks     []Seen
	Houses    int // how many houses the ranges are taken over
}

// Page is one place's lines.
type Page struct {
	At    house.Place
	Lines []Line
}

// Line is one reading: at the centre of every range, and over all houses, each
// by a meter anywhere within its accuracy. OL tells that some houses read over
// limit; Some that only some houses have these terminals.
type Line struct {
	Probe   house.Probe
	Nominal quantity.Reading
	Range   quantity.Interval
	OL      bool
	Some    bool
}

// Seen is one look and every answer a healthy house gives, the usual one first.
type Seen struct {
	Look    house.Look
	Answers []house.Answer
}

// Expect works the sheet out. A setup the equipment cannot be put in is an
// error.
func Expect(e *circuit.Equipment, s house.Setup, o Options) (Sheet, error) {
	if o.Quantity == 0 {
		o.Quantity = quantity.ACVolts
	}
	s.CoverIndoor, s.CoverOutdoor = true, true
	if o.Quantity == quantity.Resistance {
		s.PowerIndoor, s.PowerOutdoor = house.LockedOut, house.LockedOut
	}
	sheet := Sheet{Equipment: e.ID, Setup: s, Quantity: o.Quantity}
	houses, err := draw(e, o)
	if err != nil {
		return sheet, err
	}
	sheet.Houses = len(houses)
	for _, at := range house.Places() {
		page := Page{At: at}
		for _, p := range Probes(e.ID, at, o.Quantity) {
			line, ok, err := read(houses, s, p)
			if err != nil {
				return sheet, err
			}
			if ok {
				page.Lines = append(page.Lines, line)
			}
		}
		if len(page.Lines) > 0 {
			sheet.Pages = append(sheet.Pages, page)
		}
	}
	if o.Quantity != quantity.Resistance {
		sheet.Looks = looks(houses, s)
	}
	return sheet, nil
}

// Readings works out some probes only; a probe that no house has is left out.
func Readings(e *circuit.Equipment, s house.Setup, probes []house.Probe, o Options) ([]Line, error) {
	s.CoverIndoor, s.CoverOutdoor = true, true
	houses, err := draw(e, o)
	if err != nil {
		return nil, err
	}
	var out []Line
	for _, p := range probes {
		line, ok, err := read(houses, s, p)
		if err != nil {
			return nil, err
		}
		if ok {
			out = append(out, line)
		}
	}
	return out, nil
}

// Sight works out one look only.
func Sight(e *circuit.Equipment, s house.Setup, l house.Look, o Options) (Seen, error) {
	s.CoverIndoor, s.CoverOutdoor = true, true
	houses, err := draw(e, o)
	if err != nil {
		return Seen{}, err
	}
	return sight(houses, s, l), nil
}

// draw makes the houses, the nominal one first.
func draw(e *circuit.Equipment, o Options) ([]*circuit.House, error) {
	draws := append([]circuit.Draw{e.Nominal()}, e.Corners()...)
	rng := rand.New(rand.NewPCG(o.Seed, o.Seed))
	for range o.Draws {
		draws = append(draws, e.Sample(rng, 1))
	}
	out := make([]*circuit.House, len(draws))
	for i, d := range draws {
		h, err := circuit.NewHouse(d)
		if err != nil {
			return nil, err
		}
		out[i] = h
	}
	return out, nil
}

// read takes one probe on every house that has its terminals; ok is false
// where none has.
func read(houses []*circuit.House, s house.Setup, p house.Probe) (Line, bool, error) {
	line := Line{Probe: p, Range: quantity.None()}
	found := false
	for i, h := range houses {
		r, err := h.Read(s, p)
		var refused *circuit.Refusal
		switch {
		case errors.As(err, &refused) && refused.Code == circuit.RefusedTerminal:
			line.Some = true
			continue
		case err != nil:
			return line, false, err
		case i == 0 || !found:
			line.Nominal, found = r, true
		}
		if r.OL {
			line.OL = true
			continue
		}
		line.Range = line.Range.Union(quantity.Point(r.Value))
	}
	return line, found, nil
}

// looks gives every look that the equipment has with its healthy answers.
func looks(houses []*circuit.House, s house.Setup) []Seen {
	var out []Seen
	for _, l := range house.Looks() {
		seen := sight(houses, s, l)
		if len(seen.Answers) > 0 && l != house.StatKind && l != house.BatteriesNew {
			out = append(out, seen)
		}
	}
	return out
}

// sight gives a look's healthy answers, the nominal house's first.
func sight(houses []*circuit.House, s house.Setup, l house.Look) Seen {
	seen := Seen{Look: l}
	for _, h := range houses {
		a, err := h.Look(s, l)
		if err == nil && !contains(seen.Answers, a) {
			seen.Answers = append(seen.Answers, a)
		}
	}
	return seen
}

func contains(list []house.Answer, a house.Answer) bool {
	for _, x := range list {
		if x == a {
			return true
		}
	}
	return false
}

// partPairs are the two ends of a part, or two poles, that are read across.
var partPairs = [][2]house.Terminal{
	{house.Sec1, house.Sec2}, {house.HeatSec1, house.HeatSec2}, {house.Fuse1, house.Fuse2}, {house.Float1, house.Float2},
	{house.Limit1, house.Limit2}, {house.Rollout1, house.Rollout2}, {house.Gas1, house.Gas2}, {house.Seq1, house.Seq2},
	{house.Relay1, house.Relay2}, {house.Pressure1, house.Pressure2}, {house.Coil1, house.Coil2}, {house.Valve1, house.Valve2},
	{house.Stage2In, house.Stage2Out}, {house.Feed1, house.Feed2}, {house.SecondFeed1, house.SecondFeed2}, {house.Door1, house.Door2},
	{house.Pri1, house.Pri2}, {house.HeatPri1, house.HeatPri2}, {house.L1, house.L2}, {house.T1, house.T2},
}

// Probes lists what is worth reading at a place: each letter against C, R
// against each letter at the base, then across each part. Ohms are read
// across letters and parts on the 24 V side only.
func Probes(e house.Equipment, at house.Place, q quantity.Quantity) []house.Probe {
	if e.Where(at) != at {
		return nil
	}
	var out []house.Probe
	add := func(red, black house.Terminal) {
		if e.Has(red, at) && e.Has(black, at) && e.SameWinding(red, black) {
			out = append(out, house.Measure(q, red, black, at))
		}
	}
	letters := readable(e).List()
	for _, t := range letters {
		if t != house.C {
			add(t, house.C)
		}
	}
	if at == house.AtThermostat {
		for _, t := range letters {
			if hot := hotOf(e, t); t != hot && t != house.C && !isR(t) {
				add(hot, t)
			}
		}
	}
	for _, pair := range partPairs {
		if q == quantity.Resistance && pair[0].Class() == house.Line {
			continue
		}
		add(pair[0], pair[1])
	}
	return out
}

// readable are the letters with a meaning of their own: Rc and Rh only where
// two transformers feed them.
func readable(e house.Equipment) house.Letters {
	if e == house.SplitPower {
		return e.Letters().Minus(house.LettersOf(house.R))
	}
	return e.Letters().Minus(house.LettersOf(house.Rc, house.Rh, house.E))
}

func isR(t house.Terminal) bool { return t == house.R || t == house.Rc || t == house.Rh }

// hotOf is the R that feeds a letter's contact.
func hotOf(e house.Equipment, t house.Terminal) house.Terminal {
	switch {
	case e != house.SplitPower:
		return house.R
	case t == house.W:
		return house.Rh
	}
	return house.Rc
}
