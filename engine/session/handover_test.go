package session

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"stepdown/engine/house"
)

// homeowners holds a homeowner's call in the small tree: the display is lit,
// there is no meter, so the call ends undecided.
func homeowners(t *testing.T, b *Book) ([]Event, State) {
	t.Helper()
	events := []Event{
		{Kind: Start, Open: &Opening{Audience: house.Homeowner, Equipment: "cool-gas", Complaint: "it does not cool"}},
		{Kind: Answer, Reply: "no"},
		{Kind: Answer, Reply: "lit"},
	}
	var s State
	for _, e := range events {
		s, _ = b.Step(s, e)
		for s.Pending().Do != nil {
			s, _ = b.Step(s, Event{Kind: Done})
		}
	}
	for s.Pending().Ask != nil && s.Pending().Ask.Step != "display" && !s.Ended() {
		reply := "none"
		if s.Pending().Ask.Kind == AskMeasure {
			t.Fatal("a homeowner without a meter is asked to measure")
		}
		s, _ = b.Step(s, Event{Kind: Answer, Reply: reply})
	}
	return events, s
}

// A technician goes on where a homeowner's call ended: the display is not
// asked for again, the first thing new is the reading, and the house counts as
// nothing proven.
func TestHandoverGoesOn(t *testing.T) {
	b := smallBook(t)
	_, s := homeowners(t, b)
	if !s.Ended() || len(s.Seen()) != 1 {
		t.Fatalf("the homeowner's call: ended %v, seen %v", s.Ended(), s.Seen())
	}
	at := time.Date(2026, 7, 14, 15, 0, 0, 0, time.UTC)
	next, effects := b.Step(s, Event{Kind: Handover, At: at, Open: &Opening{Audience: house.Tech}})
	for asked := 0; next.Pending().Ask == nil || next.Pending().Ask.Kind != AskMeasure; asked++ {
		if q := next.Pending().Ask; asked > 20 || q != nil && q.Step == "display" {
			t.Fatalf("asked for %+v %v", q, effects)
		}
		if q := next.Pending().Ask; q != nil {
			next, _ = b.Step(next, Event{Kind: Answer, Reply: map[string]string{"base": "exposed", "letters": "R C Y G W", "stat-kind": "low-voltage", "meter": "both"}[q.Step]})
			continue
		}
		if next.Pending().Caution != nil {
			next, _ = b.Step(next, Event{Kind: Acknowledge, Reply: next.Pending().Caution.Word})
			continue
		}
		next, _ = b.Step(next, Event{Kind: Done})
	}
	if next.Audience() != house.Tech || next.Facts().Meter == house.MeterNone {
		t.Errorf("audience %s, meter %s", next.Audience(), next.Facts().Meter)
	}
	if log := next.Log(); log[len(s.Log())].Kind != EntryHandover {
		t.Errorf("the record does not say it: %v", log)
	}
	if s.Audience() != house.Homeowner || !s.Ended() {
		t.Error("the state it came from was changed")
	}
}

// Handed in short and through JSON, the call goes on at the same question.
func TestHandedInShort(t *testing.T) {
	b := smallBook(t)
	_, s := homeowners(t, b)
	h, err := s.Handed()
	if err != nil {
		t.Fatal(err)
	}
	raw, err := json.Marshal(Event{Kind: Handover, Open: &Opening{Audience: house.Tech}, Handed: &h})
	if err != nil {
		t.Fatal(err)
	}
	var e Event
	if err := json.Unmarshal(raw, &e); err != nil {
		t.Fatal(err)
	}
	short, _ := b.Step(State{}, e)
	long, _ := b.Step(s, Event{Kind: Handover, Open: e.Open})
	if diff := cmp.Diff(long.Seen(), short.Seen(), cmp.AllowUnexported(house.Partial{})); diff != "" {
		t.Error(diff)
	}
	if short.Facts() != long.Facts() || short.Complaint() != long.Complaint() {
		t.Errorf("%v %v, %v %v", short.Facts(), long.Facts(), short.Complaint(), long.Complaint())
	}
	if a, b := short.Pending(), long.Pending(); !cmp.Equal(a.Ask, b.Ask) || (a.Do == nil) != (b.Do == nil) {
		t.Errorf("%+v, %+v", a, b)
	}
}

// What cannot be handed over is refused, and the call stands as it was.
func TestHandoverRefused(t *testing.T) {
	b := smallBook(t)
	for _, bad := range []Event{
		{Kind: Handover},
		{Kind: Handover, Open: &Opening{Audience: house.Tech}},
		{Kind: Handover, Open: &Opening{Audience: house.Tech}, Handed: &Handed{Complaint: "moon"}},
		{Kind: Handover, Open: &Opening{Audience: house.Tech}, Handed: &Handed{Complaint: "no-heat"}},
		{Kind: Handover, Open: &Opening{Audience: house.Tech}, Handed: &Handed{Complaint: "no-cooling", Facts: map[string]string{"moon": "full"}}},
		{Kind: Handover, Open: &Opening{Audience: house.Tech}, Handed: &Handed{Complaint: "no-cooling", Reset: []string{"moon"}}},
	} {
		s, effects := b.Step(State{}, bad)
		if s.Opened() || len(effects) != 1 || effects[0].Problem == nil {
			t.Errorf("%+v: opened %v, %v", bad, s.Opened(), effects)
		}
	}
	s, _ := b.Step(State{}, Event{Kind: Start, Open: &Opening{Audience: house.Homeowner, Complaint: "a smell of gas"}})
	if _, err := s.Handed(); err == nil {
		t.Error("an emergency is handed over in short")
	}
	after, effects := b.Step(s, Event{Kind: Handover, Open: &Opening{Audience: house.Tech}})
	if !after.Ended() || len(effects) != 1 || effects[0].Problem == nil {
		t.Error("an emergency is handed over")
	}
}
