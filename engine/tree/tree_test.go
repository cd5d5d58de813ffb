package tree

import (
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

func base(t testing.TB) *Library {
	t.Helper()
	lib, problems := Load(os.DirFS("testdata/base"))
	if err := problems.Err(); err != nil {
		t.Fatalf("the base trees have problems:\n%v", err)
	}
	return lib
}

func step(t testing.TB, lib *Library, c house.Complaint, id string) *Step {
	t.Helper()
	for _, s := range lib.Trees[c].Steps {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no step %s/%s", c, id)
	return nil
}

func TestLoad(t *testing.T) {
	lib := base(t)
	var ids []string
	for _, tr := range lib.InOrder() {
		ids = append(ids, tr.ID.String())
	}
	if d := cmp.Diff([]string{"no-cooling", "dark-display", "no-control-power"}, ids); d != "" {
		t.Error(d)
	}
	tr := lib.Trees[house.NoCooling]
	if tr.Title != "The house does not cool" || tr.First.ID != "display" || len(tr.Steps) != 5 ||
		!slices.Equal(tr.Fits, []house.Equipment{house.CoolGas, house.CoolElectric}) {
		t.Errorf("%+v", tr)
	}
	s := step(t, lib, house.NoCooling, "coil")
	want := []house.Probe{house.Measure(quantity.Resistance, house.Coil1, house.Coil2, house.AtOutdoor)}
	if d := cmp.Diff(want, s.Probes()); d != "" {
		t.Error(d)
	}
	iy := step(t, lib, house.NoCooling, "amps")
	c := house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor}
	if d := cmp.Diff([]house.Probe{house.Clamp(c)}, iy.Probes()); d != "" {
		t.Error(d)
	}
	if s.String() != "no-cooling/coil" || s.OL.String() != "finding contactor-coil-open" {
		t.Error(s, s.OL)
	}
	if l := lib.Limits["control_min"]; l.Value != 20.4 || l.Unit != "V" || l.Known != "read" {
		t.Errorf("%+v", l)
	}
}

func TestFindingTexts(t *testing.T) {
	f := base(t).Finding("fuse-blown")
	if f == nil || f.Leave != LockedOut || f.Verdict(house.Tech) != house.VerdictRepair ||
		f.Verdict(house.Homeowner) != house.VerdictCallAPro {
		t.Fatalf("%+v", f)
	}
	want := Text{Is: "a test", Proof: "a reading", Do: []string{"call"}, Tell: []string{"what was read"}, Confirm: "the house cools"}
	if d := cmp.Diff(want, f.For(house.Homeowner)); d != "" {
		t.Error(d)
	}
	if f := base(t).Finding("open-g"); f != nil {
		t.Errorf("a finding without texts: %+v", f)
	}
}

func TestCautions(t *testing.T) {
	lib := base(t)
	if p := lib.CheckCautions("lockout"); len(p) > 0 {
		t.Error(p)
	}
	p := lib.CheckCautions("lockouts", "fuse")
	if len(p) != len(lib.Findings) || p[0].Code != CodeCaution || p[0].Line == "" ||
		!strings.Contains(p[0].Render(), "hint: did you mean lockouts?") {
		t.Error(p)
	}
}

func TestResolve(t *testing.T) {
	lib := base(t)
	cooling := house.DefaultSetup().With(house.CoolCall)
	now := house.DefaultSetup()
	now.CoverOutdoor, now.Fuse, now.Mode, now.Jumper = true, house.FuseNew, house.ModeHeat, house.LettersOf(house.W)

	// Left-out keys take the symptom's value, then the default; covers and the
	// fuse stay.
	want := cooling
	want.CoverOutdoor, want.Fuse = true, house.FuseNew
	if got := step(t, lib, house.NoCooling, "display").Resolve(now); got != want {
		t.Errorf("look: %v, want %v", got, want)
	}
	// A probe behind a cover needs it open.
	want.CoverIndoor = true
	if got := step(t, lib, house.NoCooling, "call-at-board").Resolve(now); got != want {
		t.Errorf("volts: %v, want %v", got, want)
	}
	// Ohms need every feed locked out.
	want = cooling
	want.CoverOutdoor, want.Lifted = true, house.ConductorsOf(house.Conductor{Terminal: house.Coil1, At: house.AtOutdoor})
	want.PowerIndoor, want.PowerOutdoor = house.LockedOut, house.LockedOut
	if got := step(t, lib, house.NoCooling, "coil").Resolve(house.DefaultSetup()); got != want {
		t.Errorf("ohms: %v, want %v", got, want)
	}
}

func TestReachable(t *testing.T) {
	lib := base(t)
	for _, c := range []struct {
		tree house.Complaint
		step string
		want []house.Finding
	}{
		{house.NoControlPower, "secondary", []house.Finding{"transformer-failed", "undecided"}},
		{house.NoControlPower, "fuse", []house.Finding{"fuse-blown", "transformer-failed", "undecided"}},
		{house.DarkDisplay, "batteries", []house.Finding{"fuse-blown", "stat-setting", "transformer-failed", "undecided"}},
		{house.NoCooling, "amps", []house.Finding{"none", "contactor-coil-open", "undecided"}},
	} {
		if d := cmp.Diff(c.want, lib.Reachable(step(t, lib, c.tree, c.step))); d != "" {
			t.Errorf("%s/%s: %s", c.tree, c.step, d)
		}
	}
}

func TestGraph(t *testing.T) {
	tr := base(t).Trees[house.NoCooling]
	g := tr.Graph()
	var steps []string
	at := map[*Step]int{}
	for i, s := range g.Steps {
		steps = append(steps, s.ID)
		at[s] = i
	}
	if d := cmp.Diff([]string{"display", "supply", "call-at-board", "coil", "amps"}, steps); d != "" {
		t.Error(d)
	}
	labels := map[string]string{}
	for _, e := range g.Edges {
		if e.To.Step != nil && at[e.To.Step] <= at[e.From] {
			t.Errorf("edge %s > %s goes back", e.From, e.To)
		}
		labels[e.From.ID+" "+e.Label] = e.To.String()
	}
	for label, to := range map[string]string{
		"display blank":                   "tree dark-display",
		"coil OL":                         "finding contactor-coil-open",
		"coil unable":                     "finding undecided",
		"call-at-board rc < control_min":  "tree no-control-power",
		"supply battery":                  "step call-at-board",
		"display unable":                  "step supply",
		"coil coil < coil_min":            "finding undecided",
		"call-at-board unable":            "finding undecided",
		"amps unable":                     "finding undecided",
		"supply through-load":             "step call-at-board",
		"display low-battery":             "tree dark-display",
		"call-at-board nothing like this": "",
	} {
		if labels[label] != to {
			t.Errorf("%s leads to %q, want %q", label, labels[label], to)
		}
	}
	if len(g.Trees) != 2 || g.Trees[0].ID != house.DarkDisplay || g.Trees[1].ID != house.NoControlPower {
		t.Error(g.Trees)
	}
	if d := cmp.Diff([]house.Finding{"none", "open-y", "contactor-coil-open", "undecided"}, g.Findings); d != "" {
		t.Error(d)
	}
}

// TestOverlay replaces one file and adds another; both see the base's files.
func TestOverlay(t *testing.T) {
	mine := fstest.MapFS{
		"dark-display.yaml": {Data: []byte(strings.Replace(string(readBase(t, "dark-display.yaml")), "The thermostat is dark", "Mine", 1))},
		"fan-dead.yaml": {Data: []byte(`tree: fan-dead
title: The fan stands
complaints: [no fan]
symptom: {setup: {fan: 'on'}, look: indoor-fan, shows: [stopped]}
fits: [cool-gas]
first: panel
steps:
  panel:
    look: panel-indoor
    why: For a test.
    branches: {seated: tree dark-display, loose: finding none}
`)},
	}
	lib, problems := Load(os.DirFS("testdata/base"), At("mine", mine))
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if got := lib.Trees[house.DarkDisplay]; got.Title != "Mine" || got.Pos.File != "mine/dark-display.yaml" {
		t.Errorf("%+v", got)
	}
	if len(lib.Trees) != 4 || lib.Trees[house.NoCooling].Pos.File != "no-cooling.yaml" {
		t.Error(len(lib.Trees))
	}
	// A file of the overlay is checked like any other, and so is what points at it.
	mine["dark-display.yaml"].Data = []byte(strings.Replace(string(mine["dark-display.yaml"].Data), "cool-electric, ", "", 1))
	_, problems = Load(os.DirFS("testdata/base"), At("mine", mine))
	if len(problems) == 0 || problems[0].Code != CodeFits || problems[0].Pos.File != "no-cooling.yaml" {
		t.Error(problems)
	}
}

func readBase(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/base/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestLoadOne reads the tree asked for and those it reaches, and no others.
func TestLoadOne(t *testing.T) {
	broken := fstest.MapFS{"no-cooling.yaml": {Data: []byte("tree: [")}}
	lib, problems := LoadOne(house.DarkDisplay, os.DirFS("testdata/base"), broken)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if len(lib.Trees) != 2 || lib.Trees[house.DarkDisplay] == nil || lib.Trees[house.NoControlPower] == nil {
		t.Error(lib.Trees)
	}
	if _, problems = LoadOne(house.FanDead, os.DirFS("testdata/base")); len(problems) != 1 || problems[0].Code != CodeFile {
		t.Error(problems)
	}
	none := fstest.MapFS{"no-control-power.yaml": {Data: []byte("tree: [")}}
	if lib, problems = LoadOne(house.NoCooling, os.DirFS("testdata/base"), none); lib != nil || len(problems) != 1 || problems[0].Code != source.CodeSyntax {
		t.Error(problems)
	}
}

func TestHeadings(t *testing.T) {
	broken := fstest.MapFS{"dark-display.yaml": {Data: []byte(strings.Replace(string(readBase(t, "dark-display.yaml")), "steps:", "steps: [", 1))}}
	got, problems := Headings(os.DirFS("testdata/base"), broken)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	lib := base(t)
	var want []Heading
	for _, tr := range lib.InOrder() {
		want = append(want, tr.Heading())
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	broken["dark-display.yaml"].Data = []byte("tree: dark-display\n")
	if _, problems = Headings(os.DirFS("testdata/base"), broken); len(problems) == 0 {
		t.Error("a heading without a title passes")
	}
}

// TestUnreadable gives a file that exists and cannot be read.
func TestUnreadable(t *testing.T) {
	_, problems := Load(os.DirFS("testdata/base"), failing{})
	if len(problems) == 0 || problems[0].Code != CodeFile || !strings.Contains(problems.Error(), "permission") {
		t.Error(problems)
	}
}

type failing struct{ fs.FS }

func (failing) ReadDir(string) ([]fs.DirEntry, error) {
	return fstest.MapFS{"dark-display.yaml": {}}.ReadDir(".")
}

func (failing) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrPermission}
}
