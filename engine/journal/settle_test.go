package journal_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/session"
)

// What a call turned out to be is said after its end, and again where somebody
// learned better; nothing else follows an end.
func TestACallIsSettledAfterItsEnd(t *testing.T) {
	m := newMemory()
	write(t, m, oneOfEach(), &journal.End{Finding: "undecided"})
	for _, fault := range []string{"open-y", "contactor-coil-open"} {
		j, call, err := journal.Resume(m, "call.jsonl")
		if err != nil || call.End == nil {
			t.Fatal(err)
		}
		if err := j.Settle(journal.Closed{At: clock, Fault: fault, Note: "seen <again>"}); err != nil {
			t.Fatal(err)
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
	}
	call, err := journal.Load(m, "call.jsonl")
	if err != nil || call.Closed == nil || call.Closed.Fault != "contactor-coil-open" || call.Closed.Note != "seen <again>" {
		t.Fatalf("%+v, %v", call.Closed, err)
	}
	j, _, err := journal.Resume(m, "call.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	if err := j.Append(session.Event{Kind: session.Done}); err != nil {
		t.Fatal(err)
	}
	if _, err := journal.Load(m, "call.jsonl"); err == nil || !strings.Contains(err.Error(), "had ended") {
		t.Errorf("an event after the end is read: %v", err)
	}
}

func TestAnOpenCallIsNotSettled(t *testing.T) {
	m := newMemory()
	write(t, m, oneOfEach(), nil)
	j, _, err := journal.Resume(m, "call.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	if err := j.Settle(journal.Closed{Fault: "open-y"}); err != nil {
		t.Fatal(err)
	}
	if _, err := journal.Load(m, "call.jsonl"); err == nil || !strings.Contains(err.Error(), "after its end") {
		t.Errorf("%v", err)
	}
}

// A hand-over comes back from disk as it was written.
func TestAHandoverIsKept(t *testing.T) {
	m := newMemory()
	look := session.Seen{Probe: house.LookAt(house.Display), Answer: 1, Given: house.CoolCall}
	e := session.Event{Kind: session.Handover, Open: &session.Opening{Audience: house.Tech},
		Handed: &session.Handed{From: house.Dispatcher, Complaint: "no-cooling", Facts: map[string]string{"equipment": "cool-gas"}, Seen: []session.Seen{look}}}
	write(t, m, []session.Event{e}, nil)
	before := bytes.Clone(m.files["call.jsonl"].Bytes())
	call, err := journal.Load(m, "call.jsonl")
	if err != nil || len(call.Events) != 1 {
		t.Fatal(err)
	}
	n := newMemory()
	j, err := journal.Create(n, "call.jsonl", head)
	if err != nil {
		t.Fatal(err)
	}
	if err := j.Append(call.Events[0]); err != nil {
		t.Fatal(err)
	}
	if got := n.files["call.jsonl"].Bytes(); !bytes.Equal(got, before) {
		t.Errorf("%s\n%s", before, got)
	}
}

func TestAPauseIsNoWork(t *testing.T) {
	call := journal.Call{Events: []session.Event{
		{Kind: session.Start, At: clock},
		{Kind: session.Done},
		{Kind: session.Quit, At: clock.Add(3 * time.Minute)},
		{Kind: session.Resume, At: clock.Add(2 * time.Hour)},
		{Kind: session.Done, At: clock.Add(2*time.Hour + time.Minute)},
	}}
	if got := call.Minutes(); got != 4 {
		t.Errorf("%v minutes, wanted 4: exact in whole seconds", got)
	}
}
