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
