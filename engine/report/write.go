package report

import (
	"fmt"
	"strings"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// writer replays a call and notes when each probe was made.
type writer struct {
	book    *session.Book
	options Options
	state   session.State
	times   []time.Time // by probe of the state
	unfit   int
}

// step takes one event. An answer taken back takes its probes with it.
func (w *writer) step(e session.Event) {
	var effects []session.Effect
	w.state, effects = w.book.Step(w.state, e)
	for _, f := range effects {
		if f.Problem != nil {
			w.unfit++
			break
		}
	}
	n := len(w.state.Seen())
	w.times = w.times[:min(n, len(w.times))]
	for len(w.times) < n {
		w.times = append(w.times, e.At)
	}
}

func (w *writer) fill(r *Report) {
	s := w.state
	r.Audience = s.Audience().String()
	r.Complaint = Complaint{Words: source.Clean(s.Words()), ID: s.Complaint().String()}
	if t := w.book.Trees.Trees[s.Complaint()]; t != nil {
		r.Complaint.Title = t.Title
	}
	r.Equipment = Equipment{ID: s.Facts().Answer(house.FactEquipment)}
	if e := s.Facts().Equipment; e != house.NoEquipment {
		r.Equipment.Title = e.Title()
	}
	r.Facts = []Fact{}
	for _, k := range house.FactKinds() {
		if k != house.FactEquipment && s.Facts().Known(k) {
			r.Facts = append(r.Facts, Fact{k.String(), s.Facts().Answer(k)})
		}
	}
	w.events(r)
	w.probes(r)
	if f := s.Finding(); f != nil {
		r.Finding = w.finding(f, r.Probes)
	}
}

// events sorts the record's lines that are no probes.
func (w *writer) events(r *Report) {
	r.Cautions, r.Done, r.Unable, r.Notes, r.Passed = []Event{}, []Event{}, []Event{}, []Event{}, []Event{}
	for _, e := range w.state.Log() {
		line := Event{At: e.At, Text: source.Clean(e.Text)}
		switch e.Kind {
		case session.EntryCaution:
			line.ID = line.Text
			if c, ok := w.book.Cautions.Get(e.Text); ok {
				line.Text = c.Title
			}
			r.Cautions = append(r.Cautions, line)
		case session.EntryDone:
			r.Done = append(r.Done, line)
		case session.EntryUnable:
			r.Unable = append(r.Unable, line)
		case session.EntryResumed, session.EntryHandover:
			r.Passed = append(r.Passed, line)
		case session.EntryNote:
			w.note(r, line)
		}
	}
	if w.options.Who != "" {
		r.Who = source.Clean(w.options.Who)
	}
	if w.options.Where != "" {
		r.Where = source.Clean(w.options.Where)
	}
}

// note keeps a note, or takes who and where from it.
func (w *writer) note(r *Report, line Event) {
	if text, ok := titled(line.Text, "who"); ok {
		r.Who = text
	} else if text, ok := titled(line.Text, "where"); ok {
		r.Where = text
	} else {
		r.Notes = append(r.Notes, line)
	}
}

func (w *writer) probes(r *Report) {
	r.Probes = []Probe{}
	seen := w.state.Seen()
	explain := w.options.Explain
	var left []session.Suspect
	if explain != nil && len(seen) > 0 {
		left = explain.Explain(w.state.Facts(), w.state.Complaint(), nil).Left
	}
	for i, s := range seen {
		p := w.probe(s)
		p.No, p.At = i+1, w.times[i]
		if explain != nil {
			now := explain.Explain(w.state.Facts(), w.state.Complaint(), seen[:i+1]).Left
			p.RuledOut, p.Left = w.gone(left, now), len(now)
			left = now
		}
		r.Probes = append(r.Probes, p)
	}
}

// gone lists what was suspected before and is not now.
func (w *writer) gone(before, now []session.Suspect) []Fault {
	var still house.FaultSet
	for _, s := range now {
		still = still.Add(s.Fault)
	}
	out := []Fault{}
	for _, s := range before {
		if !still.Has(s.Fault) {
			out = append(out, w.fault(s.Fault.String()))
		}
	}
	return out
}

func (w *writer) probe(s session.Seen) Probe {
	p := s.Probe
	out := Probe{Place: p.At.String(), Setup: s.Setup, House: houseWords(w.state.Facts().Equipment, s.Setup), RuledOut: []Fault{}, seen: s}
	if p.IsLook() {
		out.Look, out.Answer, out.What = p.Look.String(), p.Look.AnswerID(s.Answer), session.LookName(p.Look)
		out.Shown = p.Look.AnswerText(s.Answer)
		return out
	}
	reading := s.Reading
	out.Value, out.Unit, out.Quantity = &reading, p.Quantity.Unit(), p.Quantity.String()
	out.Shown = quantity.Format(reading, p.Quantity)
	if p.Quantity == quantity.Current {
		out.Conductor = p.Conductor.String()
		out.What = "amps in " + p.Conductor.Words(w.state.Facts().Equipment)
		return out
	}
	out.Red, out.Black = p.Red.String(), p.Black.String()
	out.What = fmt.Sprintf("%s, red on %s, black on %s, at the %s", quantityWords[p.Quantity], p.Red, p.Black, placeWords[p.At])
	return out
}

var quantityWords = map[quantity.Quantity]string{
	quantity.ACVolts: "volts AC", quantity.LowZVolts: "volts AC, low-impedance mode", quantity.DCVolts: "volts DC",
	quantity.Resistance: "ohms", quantity.Current: "amps",
}

var placeWords = map[house.Place]string{
	house.AtThermostat: "thermostat's wall base", house.AtIndoor: "indoor board", house.AtOutdoor: "outdoor unit",
}

func (w *writer) finding(f *session.FindingEffect, probes []Probe) *Finding {
	out := &Finding{
		ID: string(f.ID), Title: source.Clean(f.Title), Verdict: f.Verdict.String(), Family: f.Family.String(), Condemns: f.Condemns,
		Probability: f.Probability, What: list(f.Text), Do: list(f.Do), Tell: list(f.Tell), Confirm: source.Clean(f.Confirm),
		Commonly: source.Clean(f.Commonly), Parts: list(f.Parts), Skills: list(f.Skills), Urgency: f.Urgency, Again: list(f.Again), Faults: []Fault{}, Evidence: []int{},
	}
	for _, fault := range f.Faults {
		out.Faults = append(out.Faults, w.fault(fault.String()))
	}
	for _, stands := range f.Evidence {
		if no := lastNo(probes, stands); no > 0 {
			out.Evidence = append(out.Evidence, no)
		}
	}
	return out
}

// lastNo is the number of the last probe that was seen so, 0 for none.
func lastNo(probes []Probe, s session.Seen) int {
	for i := len(probes) - 1; i >= 0; i-- {
		if p := probes[i].seen; p.Probe == s.Probe && p.Setup == s.Setup && p.Answer == s.Answer && p.Reading == s.Reading {
			return probes[i].No
		}
	}
	return 0
}

// fault words a fault by the title of its own finding.
func (w *writer) fault(id string) Fault {
	out := Fault{ID: source.Clean(id), Title: source.Clean(strings.ReplaceAll(id, "-", " "))}
	if f := w.book.Trees.Finding(house.Finding(id)); f != nil {
		out.Title = source.Clean(f.Title)
	}
	return out
}

func list(lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = source.Clean(l)
	}
	return out
}
