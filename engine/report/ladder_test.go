package report

import (
	"io/fs"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/trees"
)

func catalog(t *testing.T) *circuit.Catalog {
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

// Every fault of every equipment has its place on the drawing, but for those
// that sit in no part of it.
func TestEveryFaultIsOnTheDrawing(t *testing.T) {
	nowhere := []house.Fault{house.None, house.BlowerNoResponse}
	c := catalog(t)
	for _, id := range c.IDs() {
		e := c.Equipment(id)
		for _, f := range e.Faults() {
			l := draw(e, &Report{Finding: &Finding{Faults: []Fault{{ID: f.String(), Title: f.String()}}}})
			marks := 0
			for _, r := range l.rungs {
				for _, x := range r.elements {
					if x.mark == failed {
						marks++
					}
				}
			}
			if on := marks > 0; on == slices.Contains(nowhere, f) {
				t.Errorf("%s, %s: marked on %d places, apart %v", id, f, marks, l.apart)
			}
		}
	}
}

// Every part of an equipment that carries control current stands on a rung,
// each rung runs from R to the common, and the drawing is as wide as its
// widest rung.
func TestEveryLoadHasItsRung(t *testing.T) {
	c := catalog(t)
	for _, id := range c.IDs() {
		e := c.Equipment(id)
		l := draw(e, &Report{})
		var ids []string
		for _, r := range l.rungs {
			if len(r.joints) != len(r.elements)+1 {
				t.Fatalf("%s, %s: %d joints, %d elements", id, r.name, len(r.joints), len(r.elements))
			}
			for _, x := range r.elements {
				ids = append(ids, x.id)
				if x.text[0] == "" {
					t.Errorf("%s: %s has no words", id, x.id)
				}
			}
		}
		for _, load := range loadIDs {
			if _, ok := e.Part(load); ok && !slices.Contains(ids, load) {
				t.Errorf("%s: %s is not drawn", id, load)
			}
		}
		s := l.sketch()
		for _, x := range s.Lines {
			if min(x.X1, x.X2) < 0 || max(x.X1, x.X2) > s.Width || max(x.Y1, x.Y2) > s.Height {
				t.Errorf("%s: a line leaves the drawing: %+v of %d by %d", id, x, s.Width, s.Height)
			}
		}
	}
}

// The contactor's rung of a plain air conditioner, written down by hand from
// its wiring.
func TestContactorRungByHand(t *testing.T) {
	l := draw(catalog(t).Equipment(house.CoolGas), &Report{})
	for _, r := range l.rungs {
		if r.name != "contactor coil" {
			continue
		}
		var ids []string
		for _, x := range r.elements {
			ids = append(ids, x.id)
		}
		want := []string{"contact Y", "wire Y thermostat", "wire Y outdoor", "pressure", "contactor", "wire C outdoor"}
		if !slices.Equal(ids, want) {
			t.Errorf("%v, want %v", ids, want)
		}
		return
	}
	t.Error("there is no such rung")
}

// A reading stands where its leads were: across the coil, on the coil's rung;
// a clamp at its conductor; and one that fits no rung is listed in words.
func TestReadingsStandWhereTheyWereMade(t *testing.T) {
	e := catalog(t).Equipment(house.CoolGas)
	w := &writer{}
	var r Report
	for i, p := range []house.Probe{
		house.Volts(house.Coil1, house.Coil2, house.AtOutdoor),
		house.Clamp(house.Conductor{Terminal: house.Y, At: house.AtOutdoor}),
		house.Volts(house.L1, house.T1, house.AtOutdoor),
		house.Volts(house.SecondFeed1, house.SecondFeed2, house.AtIndoor),
	} {
		x := w.probe(session.Seen{Probe: p, Setup: house.DefaultSetup(), Reading: quantity.Of(24)})
		x.No = i + 1
		r.Probes = append(r.Probes, x)
	}
	l := draw(e, &r)
	words := strings.Join(l.words(), "\n")
	for _, want := range []string{"1: 24 V", "2: 24 A in Y", "3: 24 V"} {
		if !strings.Contains(words, want) {
			t.Errorf("%q is not in\n%s", want, words)
		}
	}
	if len(l.apart) != 1 || !strings.Contains(l.apart[0], "feed2-1") {
		t.Errorf("apart: %v", l.apart)
	}
}

// A conductor is said as people say it, in what was measured and in how the
// house stood.
func TestConductorsInWords(t *testing.T) {
	y := house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtThermostat}
	seen := session.Seen{Probe: house.Clamp(y), Setup: house.DefaultSetup(), Reading: quantity.Of(0.3)}
	seen.Setup.Lifted = house.ConductorsOf(house.Conductor{Terminal: house.G, At: house.AtIndoor, To: house.AtThermostat})
	x := (&writer{}).probe(seen)
	if x.What != "amps in Y, indoor unit to thermostat" || x.House != "nothing called; lifted: G, indoor unit to thermostat" {
		t.Errorf("%s (%s)", x.What, x.House)
	}
	if x.Conductor != "Y@indoor>thermostat" {
		t.Errorf("to a program: %s", x.Conductor)
	}
}

// Every name on a side of the drawing has room there, rungs of one R stand
// together, and each transformer of a house shows its line side.
func TestNamesOnTheSidesFit(t *testing.T) {
	c := catalog(t)
	for _, id := range c.IDs() {
		l := draw(c.Equipment(id), &Report{})
		s := l.sketch()
		for _, x := range s.Texts {
			if wide := letterWide * len(x.Text); x.Class == "screw" && (x.Anchor == "end" && x.X < wide || x.Anchor == "start" && x.X+wide > s.Width) {
				t.Errorf("%s: %s at %d of %d has no room", id, x.Text, x.X, s.Width)
			}
		}
		left := map[string]bool{}
		last := ""
		for _, r := range l.rungs {
			words := r.joints[0].label()
			name := words[0] + " " + words[1]
			if name != last && strings.HasSuffix(name, " base") && left[name] {
				t.Errorf("%s: rungs of %s stand apart", id, name)
			}
			left[name], last = true, name
		}
		if id == house.SplitPower && !slices.ContainsFunc(l.rungs, func(r *rung) bool { return r.line && r.joints[0].has("heat-pri-1", house.AtIndoor) }) {
			t.Error("the furnace's line side is missing")
		}
	}
}
