package tree

import (
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// Finding is what a call ends with, in words for each audience.
type Finding struct {
	ID       house.Finding
	Title    string
	Parts    []string // to bring or buy; may be empty
	Skills   []string // what whoever comes must know; may be empty
	Who      string   // who may do it
	Commonly string   // what commonly caused it
	Cautions []string // ids
	Leave    Leaving
	Pos      source.Pos

	said     [3]Text // by audience
	verdicts [3]house.Verdict
	cautions []*source.Value
}

// Text is a finding as one audience hears it.
type Text struct {
	Is      string   // what it is
	Proof   string   // the readings that prove it
	Do      []string // in order; a technician's repair
	Tell    []string // what to tell a technician; none for one
	Confirm string   // how to know that it is mended
}

// Leaving is how the house is left.
type Leaving uint8

// Restored repeats the original call. LockedForRepair leaves the feeds off,
// locked and tagged, where a technician goes on to the repair; others get their
// power back and call for what they like: a house that still heats, or cools, or
// airs, goes on doing so.
// LockedOut leaves it off for everybody: a short, a load that nothing stops, a
// safety that opened, line voltage.
const (
	Restored Leaving = iota
	LockedForRepair
	LockedOut
)

var leavings = [...]string{"restored", "locked-for-repair", "locked-out"}

func (l Leaving) String() string { return leavings[l] }

// Off reports whether an audience leaves the house off.
func (l Leaving) Off(a house.Audience) bool {
	return l == LockedOut || l == LockedForRepair && a == house.Tech
}

// For is the finding as an audience hears it.
func (f *Finding) For(a house.Audience) Text { return f.said[a] }

// Verdict is the sort of end it is for an audience.
func (f *Finding) Verdict(a house.Audience) house.Verdict { return f.verdicts[a] }

// LeavesOff reports whether the thermostat is to be left on OFF by what is done.
func (t Text) LeavesOff() bool {
	return slices.ContainsFunc(t.Do, func(line string) bool {
		return strings.Contains(line, "thermostat on OFF") || strings.Contains(line, "thermostat to OFF")
	})
}

func (l *loader) findings(v *source.Value) {
	for _, e := range v.Fields(l.r, "findings").Need("findings").Entries(l.r) {
		id, err := house.ParseFinding(e.Key.Text)
		if err != nil {
			l.word(e.Key, "", err)
			continue
		}
		l.lib.Findings[id] = l.finding(id, e)
	}
}

func (l *loader) finding(id house.Finding, e source.Entry) *Finding {
	f := e.Value.Fields(l.r, "title", "parts", "skills", "who", "commonly", "verdict", "tech", "homeowner", "dispatcher", "leave", "cautions")
	out := &Finding{ID: id, Pos: e.Key.Pos}
	out.Title = f.Need("title").String(l.r)
	out.Parts = f.Need("parts").Strings(l.r)
	out.Skills = f.Need("skills").Strings(l.r)
	out.Who = f.Need("who").String(l.r)
	out.Commonly = f.Need("commonly").String(l.r)
	out.cautions = f.Need("cautions").Items(l.r)
	out.Cautions = f.Get("cautions").Strings(l.r)
	if leave, ok := f.Need("leave").OneOf(l.r, "way to leave the house", leavings[:]...); ok {
		out.Leave = Leaving(slices.Index(leavings[:], leave))
	}
	verdicts := f.Need("verdict").Fields(l.r, "tech", "homeowner", "dispatcher")
	for _, a := range house.Audiences() {
		out.verdicts[a] = l.verdict(a, verdicts.Need(a.String()))
		out.said[a] = l.text(a, f.Need(a.String()))
	}
	return out
}

func (l *loader) verdict(a house.Audience, v *source.Value) house.Verdict {
	word := v.String(l.r)
	if word == "" {
		return 0
	}
	got, err := house.ParseVerdict(word)
	if err != nil {
		l.word(v, "", err, "repair", "setting", "call-a-pro", "emergency", "not-control", "works", "undecided")
	}
	if got == house.VerdictRepair && a != house.Tech {
		v.Report(l.r, CodeVerdict, "write call-a-pro", "a %s is never sent to repair", a)
	}
	return got
}

func (l *loader) text(a house.Audience, v *source.Value) Text {
	do, tell := "do", []string{"tell"}
	if a == house.Tech {
		do, tell = "repair", nil
	}
	f := v.Fields(l.r, append([]string{"is", "proof", do, "confirm"}, tell...)...)
	t := Text{
		Is:      f.Need("is").String(l.r),
		Proof:   f.Need("proof").String(l.r),
		Do:      l.lines(f.Need(do)),
		Confirm: f.Need("confirm").String(l.r),
	}
	if tell != nil {
		t.Tell = l.lines(f.Need("tell"))
	}
	return t
}

// lines reads a list with at least one text.
func (l *loader) lines(v *source.Value) []string {
	out := v.Strings(l.r)
	if v != nil && v.Kind == source.List && len(v.Items(l.r)) == 0 {
		v.Report(l.r, CodeNoText, "", "nothing is said here")
	}
	return out
}
