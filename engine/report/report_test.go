package report_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/quantity"
	"stepdown/engine/report"
	"stepdown/engine/session"
)

var update = flag.Bool("update", false, "refresh what the reports should be")

// small is a tree and its findings that stay as they are whatever happens to
// the ones built in.
var small = fstest.MapFS{
	"limits.yaml": {Data: []byte("limits:\n  control_min: {value: 20.4, unit: V, source: 85 % of 24 V, known: read}\n" +
		"  control_max: {value: 30, unit: V, source: Class 2 control transformer, known: copy}\n" +
		"  meter_guard: {value: 0.6, unit: V, source: a meter's error, known: computed}\n")},
	"findings.yaml": {Data: []byte(smallFindings())},
	"no-cooling.yaml": {Data: []byte(`tree: no-cooling
title: The house does not cool
complaints: [not cooling]
symptom: {setup: {mode: cool, calling: 'yes'}, look: air, shows: [room, none, warm]}
fits: [cool-gas]
first: display
steps:
  display:
    look: display
    why: A dark display is another matter.
    branches: {blank: finding stat-battery-dead, lit: step base, low-battery: finding stat-battery-dead, waiting: finding delay-running}
    unable: step base
  base:
    volts: {rc: R-C, yc: Y-C}
    at: thermostat
    why: Power and call.
    branches:
      - {when: rc < control_min, then: finding fuse-blown}
      - {when: rc >= control_min and yc >= control_min, then: step board}
      - {when: rc >= control_min and yc < control_min, then: finding stat-setting}
    unable: finding undecided
  board:
    look: outdoor-unit
    why: The call may be lost on the way.
    branches: {running: finding outdoor-pair-open, fan-only: finding outdoor-pair-open, humming: finding outdoor-pair-open, chattering: finding outdoor-pair-open, stopped: finding open-y}
    unable: finding undecided
`)},
}

func smallFindings() string {
	var b strings.Builder
	b.WriteString("findings:\n")
	for _, id := range []string{"stat-battery-dead", "delay-running", "fuse-blown", "stat-setting", "outdoor-pair-open", "undecided", "open-y",
		"emergency", "not-this-circuit", "control-voltage-high", "line-voltage-crossed", "declined-equipment", "line-voltage-thermostat"} {
		fmt.Fprintf(&b, `  %s:
    title: The words of %s
    parts: [a part, another]
    skills: [control circuits]
    who: a technician
    commonly: wear
    verdict: {tech: repair, homeowner: call-a-pro, dispatcher: call-a-pro}
    tech: {is: It is broken., proof: It reads nothing., repair: [Find the break., Mend it.], confirm: It reads again.}
    homeowner: {is: It is broken., proof: It stands still., do: [Call.], tell: [This.], confirm: It runs.}
    dispatcher: {is: It is broken., proof: It stands still., do: [Send.], tell: [A hazard.], confirm: It runs.}
    leave: restored
    cautions: []
`, id, id)
	}
	return b.String()
}

// openY is the report of a call about an open conductor, with what somebody
// might type to do harm.
func openY(t testing.TB) *report.Report {
	t.Helper()
	b := bookOf(t, house.NoCooling, small)
	e := catalog(t).Equipment(house.CoolGas)
	d := held(t, b, e, house.OpenY, house.Tech, "note where: 12 <b>Invented</b> Road", "note who: Sam | made up", hostile)
	d.call.Closed = &journal.Closed{At: d.now, Fault: "open-y", Note: "a nail, *behind* the shelf"}
	r, err := report.Of(b, "20260714-1504", d.call, report.Options{Equipment: e, Explain: counts{}})
	if err != nil {
		t.Fatal(err)
	}
	for i := range r.Done { // how the planner words it is not this package's
		r.Done[i].Text = fmt.Sprintf("step %d", i+1)
	}
	return r
}

// hostile is a note that would draw on a screen, and run in a page.
const hostile = "\x1b[31m</style><script>alert(1)</script>\u202e" + `<img src=x onerror=alert(1)> [link](javascript:alert(1))`

// counts is a stand-in for the model: each probe leaves the first half.
type counts struct{}

func (counts) Explain(_ house.Facts, _ house.Complaint, seen []session.Seen) session.Explanation {
	all := []house.Fault{house.OpenY, house.FuseBlown, house.FloatOpen, house.ContactorCoilOpen, house.StatYOpen, house.OpenC, house.OpenR, house.NoLineOutdoor}
	n := max(1, len(all)>>len(seen))
	var x session.Explanation
	for _, f := range all[:n] {
		x.Left = append(x.Left, session.Suspect{Fault: f, Probability: 1 / float64(n)})
	}
	x.RuledOut = len(all) - n
	return x
}

var forms = map[string]func(*report.Report, *bytes.Buffer) error{
	"txt":  func(r *report.Report, b *bytes.Buffer) error { return r.Text(b) },
	"md":   func(r *report.Report, b *bytes.Buffer) error { return r.Markdown(b) },
	"json": func(r *report.Report, b *bytes.Buffer) error { return r.JSON(b) },
	"html": func(r *report.Report, b *bytes.Buffer) error { return r.HTML(b) },
}

// Every form of a call about an open conductor, as it should be; and the same
// from run to run.
func TestForms(t *testing.T) {
	for name, write := range forms {
		var first, second bytes.Buffer
		if err := write(openY(t), &first); err != nil {
			t.Fatal(err)
		}
		if err := write(openY(t), &second); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), second.Bytes()) {
			t.Errorf("%s differs from run to run", name)
		}
		golden := filepath.Join("testdata", "open-y."+name)
		if *update {
			if err := os.WriteFile(golden, first.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), want) {
			t.Errorf("%s is not as it should be; refresh with -update and read the difference", golden)
		}
	}
	var b bytes.Buffer
	if err := openY(t).JSON(&b); err != nil || !json.Valid(b.Bytes()) {
		t.Errorf("no JSON: %v", err)
	}
}

func TestTextIsNarrow(t *testing.T) {
	var b bytes.Buffer
	if err := openY(t).Text(&b); err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(b.String()) {
		if n := len([]rune(strings.TrimSuffix(line, "\n"))); n > 78 {
			t.Errorf("%d wide: %s", n, line)
		}
	}
}

// Nothing that is typed reaches the screen raw or runs in the page; each
// number in the report comes from the journal or is the number of a line.
func TestHostileText(t *testing.T) {
	for name, write := range forms {
		var b bytes.Buffer
		if err := write(openY(t), &b); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		if strings.ContainsAny(text, "\x1b\u202e") {
			t.Errorf("%s: a control character reaches the screen", name)
		}
		if name == "html" && (strings.Contains(text, "<script") || strings.Contains(text, "<img") || strings.Contains(text, "<b>") || strings.Count(text, "</style>") != 1) {
			t.Errorf("html: something typed is markup")
		}
		if name == "md" && (strings.Contains(text, "<script") || strings.Contains(text, "[link](")) {
			t.Errorf("md: something typed is markup")
		}
		for _, want := range []string{"Invented", "Sam", "alert(1)"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: %q is lost", name, want)
			}
		}
	}
}

// Every number of a report comes from its journal: a reading, a time, a count
// of minutes, something typed, or the number of a line in the report itself.
func TestEveryNumberIsTheJournals(t *testing.T) {
	b := bookOf(t, house.NoCooling, small)
	d := held(t, b, catalog(t).Equipment(house.CoolGas), house.OpenY, house.Tech, "note where: 12 Invented Road")
	r, err := report.Of(b, "k3", d.call, report.Options{})
	if err != nil {
		t.Fatal(err)
	}
	from, err := json.Marshal(d.call)
	if err != nil {
		t.Fatal(err)
	}
	known := string(from) + fmt.Sprintf(" %.1f ", d.call.Minutes())
	var text bytes.Buffer
	if err := r.Text(&text); err != nil {
		t.Fatal(err)
	}
	number := regexp.MustCompile(`[0-9]+(?:\.[0-9]+)?`)
	for line := range strings.Lines(text.String()) {
		line = regexp.MustCompile(`^ +\d+\. |looks and readings \d+ to \d+`).ReplaceAllString(line, "")
		for _, n := range number.FindAllString(line, -1) {
			if !strings.Contains(known, n) {
				t.Errorf("%s is not in the journal: %s", n, line)
			}
		}
	}
	for i, e := range d.call.Events {
		for name := range e.Read {
			d.call.Events[i].Read[name] = quantity.Of(22.25)
		}
	}
	changed, err := report.Of(b, "k3", d.call, report.Options{})
	if err != nil {
		t.Fatal(err)
	}
	text.Reset()
	if err := changed.Text(&text); err != nil || !strings.Contains(text.String(), "22.25 V") || strings.Contains(text.String(), "26.7") {
		t.Errorf("the readings are not the journal's: %v\n%s", err, text.String())
	}
}
