package rewire_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/letter"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
	"stepdown/engine/rewire"
)

var catalog = sync.OnceValue(func() *circuit.Catalog { return circuit.Must(circuit.Load(os.DirFS("../../trees/equipment"))) })

// solver is shared: it makes the houses of each equipment once.
var solver = sync.OnceValue(func() *rewire.Solver { return rewire.New(catalog()) })

// wire is a conductor: its colour is its name, then the old letter, the letter
// at the equipment and, for a landing already made, the screw on the new base.
func wire(t testing.TB, words ...string) rewire.Conductor {
	t.Helper()
	w := rewire.Conductor{Name: words[0]}
	if slices.Contains(letter.Jackets, words[0]) {
		w.Colour = words[0]
	}
	for i, m := range []*rewire.Mark{&w.Old, &w.Board, &w.Now} {
		if i+1 < len(words) && words[i+1] != "" {
			var err error
			if *m, err = rewire.ParseMark(words[i+1]); err != nil {
				t.Fatal(err)
			}
		}
	}
	return w
}

// swap writes a case from words: "red R, blue C C, …".
func swap(t testing.TB, e house.Equipment, wires, base string, p rewire.Power) rewire.Case {
	t.Helper()
	b, err := rewire.ParseBase(base)
	if err != nil {
		t.Fatal(err)
	}
	b.Power = p
	c := rewire.Case{Equipment: e, Meter: house.MeterBoth, New: b}
	for _, w := range strings.Split(wires, ",") {
		c.Conductors = append(c.Conductors, wire(t, strings.Split(strings.TrimSpace(w), " ")...))
	}
	return c
}

func solve(t testing.TB, c rewire.Case) rewire.Report {
	t.Helper()
	r, err := solver().Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// landing writes where everything went: "red→R blue→C".
func landing(r rewire.Report) string {
	var out []string
	for _, p := range r.Landing {
		to := "cap"
		if p.To != house.NoTerminal {
			to = r.Case.New.Word(p.To)
		}
		out = append(out, p.Conductor.Name+"→"+to)
	}
	return strings.Join(out, " ")
}

// bases are the letter sets new bases commonly come with (common practice).
var bases = []string{
	"R C Y G W", "Rc Rh C Y G W", "R C Y Y2 G O/B W2 E L", "Rc Rh C Y Y2 G O B W W2 E L",
	"Rc Rh C Y Y2 G O/B W W2 L", "R C Y G O/B W", "R C Y G O/B AUX/E L", "Rc Rh C Y G O B W2 E", "R C W", "R W",
}

// expected is the right landing, written from the wiring rules alone: where a
// board screw's conductor goes on a base, "" for a cap, "-" for no landing.
func expected(id house.Equipment, t house.Terminal, base rewire.Base) string {
	has := base.Letters.Has
	first := func(ts ...house.Terminal) string {
		for _, x := range ts {
			if has(x) {
				return base.Word(x)
			}
		}
		return "-"
	}
	switch t {
	case house.R:
		return first(house.R, house.Rc)
	case house.Rc:
		if !has(house.Rc) {
			return "-"
		}
		return "Rc"
	case house.Rh:
		if !has(house.Rh) {
			return "-"
		}
		return "Rh"
	case house.O, house.B:
		if base.OB {
			return "O/B"
		}
		return first(t)
	case house.W2:
		return first(house.W2, house.W)
	case house.C, house.L, house.Y2:
		if !has(t) {
			return ""
		}
	}
	return first(t)
}

// straightCase is an equipment's own conductors, each under its own letter on
// an old base, and at the equipment where board is set.
func straightCase(t testing.TB, id house.Equipment, base string, board bool) rewire.Case {
	t.Helper()
	var wires []string
	for _, l := range catalog().Equipment(id).Cables[0].Conductors {
		w := "w" + l.String() + " " + l.String()
		if board {
			w += " " + l.String()
		}
		wires = append(wires, w)
	}
	return swap(t, id, strings.Join(wires, ","), base, rewire.PowerEither)
}

// readB answers the question about a B conductor as a good valve would: 30 Ω
// to the common or to R.
func readB(t testing.TB, c rewire.Case, r rewire.Report, ohms float64) rewire.Case {
	t.Helper()
	if r.State != rewire.Asks || r.Question.Kind != rewire.AskReading {
		t.Fatalf("no reading is asked: %s %v", r.State, r.Why)
	}
	got := r.Question.Reading
	got.Value = quantity.Of(ohms)
	c.Readings = append(slices.Clone(c.Readings), got)
	return c
}

// TestAllPairsOfBases: every equipment's conductors under their own letters, on
// every common new base: the landing that the wiring rules give, or none where
// the base lacks a screw; a B is read first.
func TestAllPairsOfBases(t *testing.T) {
	for _, id := range catalog().IDs() {
		for _, base := range bases {
			c := straightCase(t, id, base, false)
			r := solve(t, c)
			name := fmt.Sprintf("%s on %s", id, base)
			if id == house.PumpHeatingValve {
				if r.State != rewire.Asks || r.Question.ID != "ohms:wB:wC" {
					t.Errorf("%s: a B lands unread: %s %v", name, r.State, r.Question)
					continue
				}
				r = solve(t, readB(t, c, r, 30))
			}
			var want []string
			for _, l := range catalog().Equipment(id).Cables[0].Conductors {
				to := expected(id, l, c.New)
				if to == "" {
					to = "cap"
				}
				want = append(want, "w"+l.String()+"→"+to)
			}
			text := strings.Join(want, " ")
			switch {
			case strings.Contains(text, "→-"):
				if r.State != rewire.Blocked || len(r.Why) == 0 || len(r.Landing) > 0 {
					t.Errorf("%s: %s %v, and the base lacks a screw (%s)", name, r.State, r.Why, text)
				}
			case r.State != rewire.Answer || landing(r) != text:
				t.Errorf("%s: %s %v\n got %s\nwant %s", name, r.State, r.Why, landing(r), text)
			}
		}
	}
}

// c2 is the place of the common, −1 where there is none.
func c2(c rewire.Case) int {
	return slices.IndexFunc(c.Conductors, func(w rewire.Conductor) bool { return w.Old.Letter == house.C })
}

// reading is ohms between two conductors of a case.
func reading(_ rewire.Case, red, black int, ohms float64) rewire.Reading {
	return rewire.Reading{Quantity: quantity.Resistance, Red: red, Black: black, Value: quantity.Of(ohms)}
}

func planIDs(steps []planner.Action) []string {
	var out []string
	for _, s := range steps {
		out = append(out, s.ID)
	}
	return out
}
