package main

import (
	"testing"
	"time"

	"stepdown/engine/house"
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
