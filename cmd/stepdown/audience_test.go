package main

import (
	"slices"
	"testing"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

// A homeowner is never sent behind a cover, to a jumper, to line voltage or to
// ohms, and a dispatcher's caller never to a meter; both calls end with a
// verdict and an urgency, and the fault is among what is still possible.
func TestHowFarOthersAreSent(t *testing.T) {
	if testing.Short() {
		t.Skip("holds a call with every fault, one after the other")
	}
	book := &session.Book{}
	if err := (library{}).fill(book); err != nil {
		t.Fatal(err)
	}
	book.Match = &words{book: book}
	world{model: shared}.attach(book, time.Time{})
	all := catalog(t)
	for _, who := range []house.Audience{house.Homeowner, house.Dispatcher} {
		for _, id := range []house.Equipment{house.CoolGas, house.CoolElectric} {
			for _, c := range complaints {
				for _, fault := range all.Equipment(id).Faults() {
					m := newModelled(t, all.Equipment(id), fault, c.words)
					if !shows(t, m.house, book.Trees.Trees[c.tree]) {
						continue
					}
					got, err := m.call(book, session.Opening{Audience: who})
					if err != nil {
						t.Errorf("%s, %s, %s, %s: %v, after\n%v", who, id, c.tree, fault, err, m.told)
						continue
					}
					m.stayedWithin(t, who)
					m.endedRight(t, who, got)
				}
			}
		}
	}
}

func (m *modelled) stayedWithin(t *testing.T, who house.Audience) {
	t.Helper()
	for _, q := range m.asked {
		if q.Kind == "measure" && (who == house.Dispatcher || q.At != "thermostat" || q.Quantity != "volts" && q.Quantity != "volts-lowz") {
			t.Errorf("%s, %s: asked for %s at %s", who, m.fault, q.Quantity, q.At)
		}
		if q.Setup == nil {
			continue
		}
		s, err := q.setup()
		if err != nil {
			t.Fatal(err)
		}
		if s.CoverIndoor || s.CoverOutdoor || s.Jumper != 0 || !s.Lifted.Empty() || s.PowerOutdoor != house.On || s.PowerIndoor == house.LockedOut {
			t.Errorf("%s, %s: sent to %s: %s", who, m.fault, s, q.Text)
		}
		if who == house.Dispatcher && s.Thermostat == house.Removed {
			t.Errorf("a dispatcher's caller was to pull the face: %s", q.Text)
		}
	}
}

// endedRight wants a verdict, an urgency and the fault or its finding; two
// faults that nothing tells apart for this audience may stand for each other.
func (m *modelled) endedRight(t *testing.T, who house.Audience, got line) {
	t.Helper()
	if got.Verdict == "" || got.Urgency == "" {
		t.Errorf("%s, %s: verdict %q, urgency %q", who, m.fault, got.Verdict, got.Urgency)
	}
	want := house.FindingOf(m.fault, m.facts.Equipment)
	if other, ok := alike[m.fault]; ok && got.Finding == string(other) {
		return
	}
	if got.Finding != string(want) && !slices.Contains(got.Faults, m.fault.String()) {
		t.Errorf("%s, %s on %s, %q: ended at %s %v, after\n%v", who, m.fault, m.facts.Equipment, m.words, got.Finding, got.Faults, m.told)
	}
}
