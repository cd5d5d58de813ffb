package suspects

import (
	"errors"
	"os"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// complaint is a way a house can be called about, as its people would see it
// (the equipment, its faults and its values are an invented scenario).
type complaint struct {
	id       house.Complaint
	symptoms []Symptom
}

func look(l house.Look, words ...string) Symptom {
	s := Symptom{Setup: house.DefaultSetup(), Look: l}
	for _, w := range words {
		a, err := l.ParseAnswer(w)
		if err != nil {
			panic(err)
		}
		s.Shows = append(s.Shows, a)
	}
	return s
}

func (s Symptom) calling(m house.Mode) Symptom {
	s.Setup.Mode, s.Setup.Calling = m, true
	return s
}

func (s Symptom) fan() Symptom { s.Setup.FanOn = true; return s }

var complaints = []complaint{
	{house.NoCooling, []Symptom{look(house.Air, "room", "none", "warm").calling(house.ModeCool)}},
	{house.NoHeat, []Symptom{look(house.Air, "room", "none", "cool").calling(house.ModeHeat)}},
	{house.AuxDead, []Symptom{look(house.Air, "room", "none", "cool").calling(house.ModeEmergency)}},
	{house.FanDead, []Symptom{look(house.IndoorFan, "stopped").fan()}},
	{house.FanAlways, []Symptom{look(house.IndoorFan, "running")}},
	{house.OutdoorAlways, []Symptom{look(house.OutdoorUnit, "running", "fan-only", "humming")}},
	{house.HeatAlways, []Symptom{look(house.Air, "warm")}},
	{house.DarkDisplay, []Symptom{look(house.Display, "blank", "low-battery")}},
	{house.SecondStage, []Symptom{look(house.Stage2Look, "out").calling(house.ModeCool)}},
	{house.Chatter, []Symptom{look(house.OutdoorUnit, "chattering").calling(house.ModeCool)}},
}

// live is a house somebody can probe: a draw, its faults and its history.
type dwelling struct {
	t      testing.TB
	house  *circuit.House
	rested *circuit.House // the same once a compressor delay is over
	played house.Setup
}

func newDwelling(t testing.TB, b *circuit.Bench, played house.Setup, faults ...house.Fault) *dwelling {
	t.Helper()
	d := &dwelling{t: t, played: played}
	rested := make([]house.Fault, len(faults))
	for i, f := range faults {
		if rested[i] = f; f == house.DelayRunning {
			rested[i] = house.None
		}
	}
	d.house, d.rested = d.put(b, faults), d.put(b, rested)
	return d
}

func (d *dwelling) put(b *circuit.Bench, faults []house.Fault) *circuit.House {
	h, err := b.House(faults...)
	if err == nil {
		err = h.Play(d.played)
	}
	if err != nil {
		d.t.Fatal(err)
	}
	return h
}

// probe makes one probe; ok is false where it cannot be made.
func (d *dwelling) probe(g forecast.Goal, rested bool) (Seen, bool) {
	h := d.house
	if rested {
		h = d.rested
	}
	s := Seen{Probe: g.Probe, Setup: g.Setup, Rested: rested}
	var err error
	if g.Probe.IsLook() {
		s.Answer, err = h.Look(g.Setup, g.Probe.Look)
	} else {
		s.Reading, err = h.Read(g.Setup, g.Probe)
	}
	var refused *circuit.Refusal
	if errors.As(err, &refused) {
		return s, false
	}
	if err != nil {
		d.t.Fatal(err)
	}
	return s, true
}

// complains gives the first of some complaints that a house shows.
func complains(h *circuit.House, about []complaint) (complaint, bool) {
	for _, c := range about {
		for _, s := range c.symptoms {
			h.Reset()
			if h.Play(s.Setup) != nil {
				continue
			}
			a, err := h.Look(s.Setup, s.Look)
			if err != nil {
				continue
			}
			for _, shows := range s.Shows {
				if a == shows {
					return c, true
				}
			}
		}
	}
	return complaint{}, false
}

func catalog(t testing.TB) *circuit.Catalog {
	t.Helper()
	c, problems := circuit.Load(os.DirFS("../../trees/equipment"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return c
}

func weights(t testing.TB) Weights {
	t.Helper()
	w, problems := LoadWeights(os.DirFS("../../trees"), "weights.yaml")
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return w
}
