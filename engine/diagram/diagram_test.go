package diagram_test

import (
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"stepdown/engine/diagram"
	"stepdown/engine/house"
	"stepdown/engine/paragraph"
	"stepdown/engine/tree"
	"stepdown/trees"
)

var update = flag.Bool("update", false, "write the expected output anew")

// library is the built-in trees.
var library = sync.OnceValue(func() *tree.Library {
	lib, problems := tree.Load(trees.FS)
	if err := problems.Err(); err != nil {
		panic(err)
	}
	return lib
})

// small is a tree of every kind of step: a look, a batch with conditions, ohms,
// and a question about the house.
const small = `tree: dark-display
title: Dark <at> the "wall"
complaints: [dark]
symptom: {look: display, shows: [blank]}
fits: [cool-gas, cool-electric]
first: seen
steps:
  seen:
    look: display
    why: A display that is lit has power, and one that is dark may only be asleep or out of its batteries, so look twice.
    branches: {lit: finding none, waiting: finding none, low-battery: step base, blank: step base}
    unable: step base
  base:
    volts: {rc: R-C, rc-again: R-C}
    at: thermostat
    setup: {thermostat: removed}
    why: R to C at the base says whether power gets there.
    branches:
      - {when: rc >= control_min and rc_again >= control_min, then: finding stat-dead}
      - {when: rc < control_min or rc_again < control_min, then: step winding}
    unable: step winding
  winding:
    ohms: {w: sec-1-sec-2}
    at: indoor
    why: An open winding reads over the range.
    branches:
      - {when: w >= 0, then: finding undecided, because: a winding is a few ohms}
    ol: finding transformer-failed
    unable: finding undecided
`

func TestSmallTree(t *testing.T) {
	alone := fstest.MapFS{"dark-display.yaml": {Data: []byte(small)}}
	for _, name := range []string{"findings.yaml", "limits.yaml"} {
		data, err := trees.FS.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		alone[name] = &fstest.MapFile{Data: data}
	}
	lib, problems := tree.Load(alone)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	d := diagram.Of(lib.Trees[house.DarkDisplay])
	var svg strings.Builder
	if err := d.SVG(&svg); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"small.txt": d.Text(diagram.Unicode), "small-ascii.txt": d.Text(diagram.ASCII), "small-linear.txt": d.Text(diagram.Linear), "small.svg": svg.String()} {
		golden := filepath.Join("testdata", name)
		if *update {
			if err := os.WriteFile(golden, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if text != string(want) {
			t.Errorf("%s differs:\n%s", golden, text)
		}
	}
}

// TestEveryTree: each built-in tree shows each of its steps once, every way
// leads down, and the text fits its screen.
func TestEveryTree(t *testing.T) {
	for _, x := range library().InOrder() {
		d := diagram.Of(x)
		if len(d.Steps) != len(x.Steps) {
			t.Errorf("%s: %d steps of %d", x.ID, len(d.Steps), len(x.Steps))
		}
		for i, c := range d.Steps {
			if c.Number != i+1 || len(c.Asks) == 0 || len(c.Ways) != len(c.Step.Edges()) {
				t.Errorf("%s: card %d is %d, %s", x.ID, i+1, c.Number, c.Step)
			}
			for _, w := range c.Ways {
				if w.Number != 0 && w.Number <= c.Number || (w.Number != 0) != (w.Kind == tree.ToStep) {
					t.Errorf("%s: from %d to %d, %s", x.ID, c.Number, w.Number, w.Target)
				}
			}
		}
		for _, f := range []diagram.Form{diagram.Unicode, diagram.ASCII, diagram.Linear} {
			for _, l := range strings.Split(d.Text(f), "\n") {
				if len([]rune(l)) > 80 {
					t.Errorf("%s: wider than 80: %q", x.ID, l)
				}
			}
		}
	}
}

// On a narrow screen every line fits and no word is lost.
func TestTextWithin(t *testing.T) {
	for _, x := range library().InOrder() {
		d := diagram.Of(x)
		for _, cells := range []int{40, 60} {
			got := d.TextWithin(diagram.Unicode, cells)
			for line := range strings.Lines(got) {
				if n := paragraph.Width(strings.TrimSuffix(line, "\n")); n > cells {
					t.Errorf("%s, %d of %d cells: %s", x.ID, n, cells, line)
				}
			}
			if a, b := bare(got), bare(d.Text(diagram.Unicode)); a != b {
				t.Errorf("%s in %d cells loses words", x.ID, cells)
			}
		}
	}
}

// bare is a drawing without its lines and blanks.
func bare(text string) string {
	return strings.Join(strings.Fields(strings.NewReplacer("├─", "", "└─", "", "│", "").Replace(text)), "")
}

// TestSVGIsWhole: every tree's picture can be read as XML, names no address but
// its own namespace, and says in words what it shows.
func TestSVGIsWhole(t *testing.T) {
	for _, x := range library().InOrder() {
		var b strings.Builder
		if err := diagram.Of(x).SVG(&b); err != nil {
			t.Fatal(err)
		}
		text := b.String()
		dec := xml.NewDecoder(strings.NewReader(text))
		for {
			if _, err := dec.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", x.ID, err)
			}
		}
		if n := strings.Count(text, "://"); n != 1 || strings.Contains(text, "<script") || strings.Contains(text, "href") {
			t.Errorf("%s: it asks for something: %d addresses", x.ID, n)
		}
		for _, want := range []string{`role="img"`, "<title", "<desc"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %s", x.ID, want)
			}
		}
	}
}

func Example() {
	lib, _ := tree.Load(trees.FS)
	d := diagram.Of(lib.Trees[house.DarkDisplay])
	fmt.Println(d.Steps[0].Number, d.Steps[0].Step.ID, strings.Split(d.Text(diagram.ASCII), "\n")[0])
	// Output: 1 display dark-display: The thermostat's display is dark
}
