package report_test

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"testing"
	"time"

	"stepdown/cautions"
	"stepdown/engine/caution"
	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// sure takes any words for one complaint.
type sure house.Complaint

func (c sure) Match(string) session.Match {
	return session.Match{Trees: []house.Complaint{house.Complaint(c)}, Sure: true}
}

func book(t testing.TB, c house.Complaint) *session.Book { return bookOf(t, c, trees.FS) }

func bookOf(t testing.TB, c house.Complaint, files fs.FS) *session.Book {
	t.Helper()
	set, problems := caution.Load(cautions.FS)
	lib, more := tree.Load(files)
	if err := append(problems, more...).Err(); err != nil {
		t.Fatal(err)
	}
	return &session.Book{Trees: lib, Cautions: set, Match: sure(c)}
}

func catalog(t testing.TB) *circuit.Catalog {
	t.Helper()
	files, err := fs.Sub(trees.FS, "equipment")
	if err != nil {
		t.Fatal(err)
	}
	c, problems := circuit.Load(files)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

// dwelling is an invented house that answers a call; its numbers are the
// model's.
type dwelling struct {
	t     testing.TB
	house *circuit.House
	who   house.Audience
	now   time.Time
	call  journal.Call
	state session.State
}

var began = time.Date(2026, 7, 14, 15, 4, 5, 0, time.UTC)

// held is a whole call about a fault, from the first words to the end.
func held(t testing.TB, b *session.Book, e *circuit.Equipment, f house.Fault, who house.Audience, notes ...string) *dwelling {
	t.Helper()
	h, err := circuit.NewHouse(e.Nominal(), f)
	if err != nil {
		t.Fatal(err)
	}
	d := &dwelling{t: t, house: h, who: who, now: began}
	d.call.Head = journal.Head{Format: journal.Format, Version: "0.1.0", Started: began}
	d.call.Trees = "5d2c8a11f00d"
	if err := h.Play(house.DefaultSetup().With(house.CoolCall)); err != nil {
		t.Fatal(err)
	}
	d.send(b, session.Event{Kind: session.Start, Open: &session.Opening{Audience: who, Equipment: e.ID.String(), Complaint: "it blows warm"}})
	for _, n := range notes {
		d.send(b, session.Event{Kind: session.Note, Reply: strings.TrimPrefix(n, "note ")})
	}
	d.goOn(b)
	return d
}

// goOn answers until the call ends.
func (d *dwelling) goOn(b *session.Book) {
	d.t.Helper()
	for n := 0; !d.state.Ended(); n++ {
		if n > 300 {
			d.t.Fatalf("the call does not end: %+v", d.state.Pending())
		}
		d.send(b, d.reply(d.state.Pending()))
	}
	d.call.End = &journal.End{Finding: string(d.state.Finding().ID)}
}

func (d *dwelling) send(b *session.Book, e session.Event) {
	d.t.Helper()
	d.now = d.now.Add(20 * time.Second)
	e.At = d.now
	var effects []session.Effect
	d.state, effects = b.Step(d.state, e)
	for _, f := range effects {
		if f.Problem != nil {
			d.t.Fatalf("%+v: %s", e, f.Problem.Text)
		}
	}
	d.call.Events = append(d.call.Events, e)
}

func (d *dwelling) reply(q session.Effect) session.Event {
	d.t.Helper()
	switch {
	case q.Do != nil:
		if err := d.house.Play(q.Do.House.Setup); err != nil {
			d.t.Fatal(err)
		}
		return session.Event{Kind: session.Done}
	case q.Caution != nil:
		return session.Event{Kind: session.Acknowledge, Reply: q.Caution.Word}
	case q.Ask.Kind == session.AskMeasure:
		read := map[string]quantity.Reading{}
		for _, p := range q.Ask.Pairs {
			read[p.Name] = d.read(q.Ask, p)
		}
		return session.Event{Kind: session.Values, Read: read}
	case q.Ask.Kind == session.AskLook && q.Ask.Step != "stat-kind":
		a, err := d.house.Look(q.Ask.House.Setup, q.Ask.Look)
		if err != nil {
			d.t.Fatal(err)
		}
		return session.Event{Kind: session.Answer, Reply: q.Ask.Look.AnswerID(a)}
	}
	return session.Event{Kind: session.Answer, Reply: d.known(q.Ask)}
}

func (d *dwelling) read(a *session.Ask, p session.Pair) quantity.Reading {
	d.t.Helper()
	probe := house.Measure(a.Quantity, p.Red, p.Black, a.At)
	if a.Quantity == quantity.Current {
		probe = house.Clamp(p.Conductor)
	}
	r, err := d.house.Read(a.House.Setup, probe)
	if err != nil {
		d.t.Fatalf("%s: %v", probe, err)
	}
	return r
}

func (d *dwelling) known(a *session.Ask) string {
	facts := d.house.Draw().Facts()
	answer := map[string]string{
		"emergency": "no", "people": "frail", "temperature": "extreme", "stat-kind": "low-voltage", "equipment": facts.Equipment.String(),
		"base": "exposed", "base-r": facts.BaseR.String(), "stat-supply": facts.StatSupply.String(), "meter": "both", "letters": facts.Letters.String(),
	}[a.Step]
	if d.who != house.Tech && a.Step == "meter" {
		answer = "none"
	}
	offered := func(c session.Choice) bool { return c.ID == answer }
	if !slices.ContainsFunc(a.Answers, offered) {
		d.t.Fatalf("%s: %q is none of %v", a.Step, answer, a.Answers)
	}
	return answer
}

func (d *dwelling) String() string { return fmt.Sprintf("%s, %s", d.house.Faults().List(), d.who) }
