package main

import (
	"bytes"
	"fmt"
	"testing"

	"stepdown/engine/chat"
	"stepdown/engine/handover"
	"stepdown/engine/house"
	"stepdown/engine/session"
)

// talk holds a modelled house's call from a state on, to its end.
func (m *modelled) talk(book *session.Book, from session.State, first session.Event) (line, session.State, error) {
	held := chat.Hold(book, from)
	wire := chat.NewWire(held, chat.Options{Match: book.Match})
	var lines []line
	next := func(out []byte) (line, error) {
		for data := range bytes.Lines(out) {
			l, stops, err := parseLine(data)
			lines = append(lines, l)
			if stops || err != nil {
				return l, err
			}
		}
		return line{}, fmt.Errorf("no question and no end in %q", out)
	}
	q, err := next(wire.Begin(first))
	if err == nil {
		_, err = hold(q, m, func(reply string) (line, error) { return next(wire.OneShot(reply)) })
	}
	return found(lines), held.State(), err
}

// probes are the looks and readings asked for, each with the setup as far as
// it matters to it.
func (m *modelled) probes(t *testing.T) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	for _, q := range m.asked {
		if q.Kind != "look" && q.Kind != "measure" || q.Step == "stat-kind" {
			continue
		}
		setup, err := q.setup()
		if err != nil {
			t.Fatal(err)
		}
		p := house.Probe{}
		if q.Kind == "look" {
			l, err := house.ParseLook(q.Look)
			if err != nil {
				t.Fatal(err)
			}
			p = house.LookAt(l)
			out[fmt.Sprint(p, p.Comparable(setup))] = true
		}
		for _, pair := range q.Pairs {
			out[fmt.Sprint(q.Quantity, q.At, pair.Red, pair.Black, p.Comparable(setup))] = true
		}
	}
	return out
}

// A homeowner's and a dispatcher's call about every fault goes on in a
// technician's hands, as a record and as a code: no look or reading is asked
// for twice, and it ends where the technician's own call would.
func TestNothingIsAskedTwice(t *testing.T) {
	if testing.Short() {
		t.Skip("holds a call with every fault, one after the other")
	}
	book := &session.Book{}
	if err := (library{}).fill(book); err != nil {
		t.Fatal(err)
	}
	book.Match = &words{book: book}
	e := catalog(t).Equipment(house.CoolGas)
	handed, seen := 0, 0
	for _, fault := range e.Faults() {
		for _, who := range []house.Audience{house.Homeowner, house.Dispatcher} {
			for _, short := range []bool{false, true} {
				m := newModelled(t, e, fault, "the ac is not cooling")
				if !shows(t, m.house, book.Trees.Trees[house.NoCooling]) {
					continue
				}
				seen += m.handsOver(t, book, who, short)
				handed++
			}
		}
	}
	if handed < 60 || seen == 0 {
		t.Errorf("%d calls were handed over, with %d probes", handed, seen)
	}
}

// handsOver holds a call as somebody, hands it to a technician and goes on to
// the end; it gives how many probes were handed over.
func (m *modelled) handsOver(t *testing.T, book *session.Book, who house.Audience, short bool) int {
	t.Helper()
	name := fmt.Sprintf("%s, %s, code %v", m.fault, who, short)
	_, from, err := m.talk(book, session.State{}, session.Event{Kind: session.Start, Open: &session.Opening{Audience: who}})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	first := session.Event{Kind: session.Handover, Open: &session.Opening{Audience: house.Tech}}
	if short {
		first.Handed, from = m.overCode(t, from), session.State{}
	}
	before := m.probes(t)
	m.asked = nil
	got, state, err := m.talk(book, from, first)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if state.Audience() != house.Tech {
		t.Errorf("%s: held as %s", name, state.Audience())
	}
	for p := range m.probes(t) {
		if before[p] {
			t.Errorf("%s: asked twice: %s", name, p)
		}
	}
	want, ok := alike[m.fault]
	if !ok {
		want = house.FindingOf(m.fault, m.facts.Equipment)
	}
	if got.Finding != string(want) {
		t.Errorf("%s: ended at %s %v", name, got.Finding, got.Faults)
	}
	return len(before)
}

// overCode is what is left of a call once it was read out as a code.
func (m *modelled) overCode(t *testing.T, s session.State) *session.Handed {
	t.Helper()
	h, err := s.Handed()
	if err != nil {
		t.Fatal(err)
	}
	code, err := handover.Code(h)
	if err != nil {
		t.Fatalf("%s: %v", m.fault, err)
	}
	// A call of looks alone is read out over the telephone; each reading adds
	// about ten characters, and many are better sent as a file.
	if readings := readingsIn(s); len(code) > 90+10*readings {
		t.Errorf("%s: %d characters are no short code: %s", m.fault, len(code), code)
	}
	got, err := handover.Parse(code)
	if err != nil {
		t.Fatal(err)
	}
	return &got
}

// readingsIn counts what was measured in a call.
func readingsIn(s session.State) int {
	n := 0
	for _, x := range s.Seen() {
		if !x.Probe.IsLook() {
			n++
		}
	}
	return n
}
