package report_test

import (
	"slices"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/report"
	"stepdown/engine/session"
)

// A finding's evidence is numbered as its probes are: what was looked at again
// leaves out the look it takes the place of.
func TestEvidenceNumbers(t *testing.T) {
	b := bookOf(t, house.NoCooling, small)
	e := catalog(t).Equipment(house.CoolGas)
	d := held(t, b, e, house.OpenY, house.Tech)
	var pan []session.Event
	for _, word := range []string{"full", "dry"} {
		a, err := house.DrainPan.ParseAnswer(word)
		if err != nil {
			t.Fatal(err)
		}
		pan = append(pan, session.Event{Kind: session.Volunteer, Seen: &session.Seen{Probe: house.LookAt(house.DrainPan), Answer: a}})
	}
	plain, err := report.Of(b, "k", d.call, report.Options{Equipment: e})
	if err != nil {
		t.Fatal(err)
	}
	d.call.Events = slices.Insert(slices.Clone(d.call.Events), 1, pan...)
	r, err := report.Of(b, "k", d.call, report.Options{Equipment: e})
	if err != nil {
		t.Fatal(err)
	}
	n := len(plain.Finding.Evidence)
	var want []int
	for i := range n + 1 {
		want = append(want, i+2)
	}
	if len(r.Probes) != n+2 || !slices.Equal(r.Finding.Evidence, want) {
		t.Errorf("of %d probes the evidence is %v, want %v", len(r.Probes), r.Finding.Evidence, want)
	}
}
