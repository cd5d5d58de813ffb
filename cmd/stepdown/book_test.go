package main

import (
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

// builtIn is the book of the built-in trees.
func builtIn(t *testing.T) *session.Book {
	t.Helper()
	book := &session.Book{}
	if err := (library{}).fill(book); err != nil {
		t.Fatal(err)
	}
	book.Match = &words{book: book}
	return book
}

// An emergency tells what to do at the sign that was reported, and of no
// other.
func TestAnEmergencyTellsOfItsSignAlone(t *testing.T) {
	signs := map[string]string{"gas": "gas", "carbon-monoxide": "air", "smoke": "smoke", "water": "wet", "shock": "doctor"}
	for _, who := range house.Audiences() {
		book := builtIn(t)
		for sign, word := range signs {
			s, _ := book.Step(session.State{}, session.Event{Kind: session.Start, Open: &session.Opening{Audience: who}})
			s, _ = book.Step(s, session.Event{Kind: session.Emergency, Reply: sign})
			f := s.Finding()
			if f == nil || f.ID != house.EmergencyFinding {
				t.Fatalf("%s, %s: found %+v", who, sign, f)
			}
			do := strings.ToLower(strings.Join(f.Do, " "))
			if !strings.Contains(do, word) {
				t.Errorf("%s, %s: no word of %q in %q", who, sign, word, do)
			}
			for other, mark := range map[string]string{"gas": "gas company", "carbon-monoxide": "fresh air", "water": "wet floor", "shock": "doctor"} {
				if other != sign && strings.Contains(do, mark) {
					t.Errorf("%s, %s: %q speaks of %s", who, sign, do, other)
				}
			}
		}
	}
}

// Nobody is asked to set a thermostat to what it has no switch for: which modes an
// equipment has is the same for who is asked and for the model.
func TestNoModeIsAskedThatAThermostatLacks(t *testing.T) {
	catalog, err := loadCatalog()
	if err != nil {
		t.Fatal(err)
	}
	asked := 0
	for _, id := range catalog.IDs() {
		calls := catalog.Equipment(id).Calls
		for _, c := range []struct {
			setup house.Setup
			has   bool
		}{
			{house.DefaultSetup().With(house.CoolCall), calls.Cool != 0}, {house.DefaultSetup().With(house.HeatCall), calls.Heat != 0},
			{house.DefaultSetup().With(house.EmergencyCall), calls.Emergency != 0}, {house.DefaultSetup().With(house.FanCall), calls.Fan != 0},
		} {
			asked++
			if got := id.Sets(c.setup); got != c.has {
				t.Errorf("%s in %s: asked %v, has it %v", id, c.setup, got, c.has)
			}
		}
	}
	if asked < 40 {
		t.Errorf("only %d were compared", asked)
	}
}

// Who cannot set the thermostat, or cannot open a cover, is not asked to by
// every step that wants it. The house is made safe each time all the same.
func TestWhatCannotBeDoneIsAskedOnce(t *testing.T) {
	for _, who := range house.Audiences() {
		book := builtIn(t)
		s, _ := book.Step(session.State{}, session.Event{Kind: session.Start, Open: &session.Opening{
			Audience: who, Equipment: house.CoolGas.String(), Complaint: "no cooling"}})
		asked, wanted := map[string]int{}, 0
		for turn := 0; turn < 60 && s.Finding() == nil; turn++ {
			p, e := s.Pending(), session.Event{Kind: session.Unable}
			switch {
			case p.Do != nil:
				asked[p.Do.ID]++
				wanted++
			case p.Caution != nil:
				asked[p.Caution.ID]++
			case p.Ask != nil && p.Ask.Kind == session.AskChoose:
				e = session.Event{Kind: session.Answer, Reply: p.Ask.Answers[0].ID}
			}
			s, _ = book.Step(s, e)
		}
		if wanted == 0 || s.Finding() == nil {
			t.Fatalf("%s: asked %v, found %v", who, asked, s.Finding())
		}
		for id, times := range asked {
			if times > 1 {
				t.Errorf("%s: %s was asked %d times", who, id, times)
			}
		}
	}
}
