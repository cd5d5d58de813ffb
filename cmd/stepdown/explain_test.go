package main

import (
	"testing"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// What is worked out ahead may come late: it leaves a call that has gone on as
// it stands.
func TestALatePreparationTakesNothingBack(t *testing.T) {
	book := builtIn(t)
	g := world{model: shared}.attach(book, time.Time{})
	facts := house.Facts{Equipment: house.CoolGas, EquipmentAsked: true}
	cool := house.DefaultSetup().With(house.CoolCall)
	look := func(l house.Look, id string) session.Seen {
		a, err := l.ParseAnswer(id)
		if err != nil {
			t.Fatal(err)
		}
		return session.Seen{Probe: house.LookAt(l), Setup: cool, Answer: a}
	}
	seen := []session.Seen{look(house.Air, "room"), look(house.Display, "lit"), look(house.OutdoorUnit, "stopped")}
	for n := 1; n <= len(seen); n++ {
		g.Explain(facts, house.NoCooling, seen[:n])
	}
	call := g.call
	if call == nil {
		t.Fatal("the model has no answer")
	}
	g.prepare(facts, house.NoCooling, seen[:1], nil)
	other := facts
	other.Meter = house.MeterBoth
	g.prepare(other, house.NoCooling, seen, nil)
	if g.call != call || len(g.seen) != len(seen) || g.facts != facts {
		t.Errorf("a late preparation left %d of %d told, of %+v", len(g.seen), len(seen), g.facts)
	}
}

// Whoever asks for the suspects changes nothing: two faults at once, sought for
// that answer, are no suspects left after the next reading.
func TestAskingForSuspectsLeavesNone(t *testing.T) {
	book := builtIn(t)
	g := world{model: shared}.attach(book, time.Time{})
	facts := house.Facts{Equipment: house.CoolGas, EquipmentAsked: true}
	cool := house.DefaultSetup().With(house.CoolCall)
	yc := house.Volts(house.Y, house.C, house.AtIndoor)
	room, err := house.Air.ParseAnswer("room")
	if err != nil {
		t.Fatal(err)
	}
	seen := []session.Seen{
		{Probe: house.Volts(house.R, house.C, house.AtIndoor), Setup: cool, Reading: quantity.Of(26)},
		{Probe: yc, Setup: cool, Reading: quantity.Of(0)},
		{Probe: house.LookAt(house.Air), Setup: cool, Answer: room},
		{Probe: yc, Setup: house.DefaultSetup(), Reading: quantity.Of(26)},
	}
	x := g.Account(session.Query{Facts: facts, Complaint: house.NoCooling, Seen: seen})
	if len(x.Left) == 0 || x.Left[0].With == house.NoFault {
		t.Fatalf("these readings no longer need two faults: %+v", x.Left)
	}
	again := append(seen, session.Seen{Probe: yc, Setup: cool, Reading: quantity.Of(26)})
	for _, told := range [][]session.Seen{seen, again} {
		if x := g.Explain(facts, house.NoCooling, told); len(x.Left) != 0 {
			t.Errorf("after suspects were asked for, %d readings leave %+v", len(told), x.Left)
		}
	}
}

// However many readings told nothing, an open end names the probe that would
// tell what it leaves apart.
func TestAnOpenEndNamesWhatWouldSettleIt(t *testing.T) {
	book := builtIn(t)
	g := world{model: shared}.attach(book, time.Time{})
	cool := house.DefaultSetup().With(house.CoolCall)
	q := session.Query{Facts: house.Facts{Equipment: house.CoolGas, EquipmentAsked: true}, Complaint: house.NoCooling, At: cool}
	for _, l := range []struct {
		look house.Look
		id   string
	}{{house.Air, "none"}, {house.Display, "blank"}, {house.BatteriesNew, "same"}} {
		a, err := l.look.ParseAnswer(l.id)
		if err != nil {
			t.Fatal(err)
		}
		q.Seen = append(q.Seen, session.Seen{Probe: house.LookAt(l.look), Setup: cool, Answer: a})
	}
	for _, ends := range [][2]house.Terminal{{house.R, house.C}, {house.Y, house.C}, {house.G, house.C}, {house.W, house.C}, {house.R, house.Y}, {house.R, house.G}, {house.R, house.W}} {
		for _, setup := range []house.Setup{cool, house.DefaultSetup(), house.DefaultSetup().With(house.FanCall)} {
			q.Seen = append(q.Seen, session.Seen{Probe: house.Volts(ends[0], ends[1], house.AtThermostat), Setup: setup, Reading: quantity.Of(0.2)})
		}
	}
	if left := g.Explain(q.Facts, q.Complaint, q.Seen).Left; len(left) < 5 {
		t.Fatalf("only %d are left", len(left))
	}
	line := func(p session.Proposal) bool {
		return p.Probe == house.Volts(house.Pri1, house.Pri2, house.AtIndoor)
	}
	if p, _, ok := g.Next(q, line); ok {
		t.Fatalf("the model still goes on to %+v", p)
	}
	p, ok := g.Settle(q, line)
	if outcomes := g.Outcomes(q, p); !ok || len(outcomes) < 2 {
		t.Errorf("names %v %+v, which may show %+v", ok, p, outcomes)
	}
}
