package rewire_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/rewire"
)

// wall is a house whose wires are read and looked at: truth is what each
// conductor of the case really is.
type wall struct {
	t     testing.TB
	model *circuit.House
	truth []house.Terminal
}

func newWall(t testing.TB, d circuit.Draw, truth []house.Terminal) *wall {
	t.Helper()
	var err error
	for _, c := range []circuit.Choice{circuit.CommonWire, circuit.FaultWire} {
		if d, err = d.With(c, "yes"); err != nil {
			t.Fatal(err)
		}
	}
	if d, err = d.With(circuit.BaseR, "single"); err != nil {
		t.Fatal(err)
	}
	h, err := circuit.NewHouse(d)
	if err != nil {
		t.Fatal(err)
	}
	return &wall{t, h, truth}
}

// ohms reads between two conductors at the wall, face off, power locked out.
func (w *wall) ohms(a, b int) quantity.Reading {
	w.t.Helper()
	s := house.DefaultSetup()
	s.Thermostat, s.PowerIndoor, s.PowerOutdoor = house.Removed, house.LockedOut, house.LockedOut
	r, err := w.model.Read(s, house.Measure(quantity.Resistance, w.truth[a], w.truth[b], house.AtThermostat))
	if err != nil {
		w.t.Fatal(err)
	}
	return r
}

// reply answers an open question from the house, or gives it up.
func (w *wall) reply(c rewire.Case, q rewire.Question) rewire.Case {
	w.t.Helper()
	switch q.Kind {
	case rewire.AskReading:
		r := q.Reading
		if r.Quantity != quantity.Resistance {
			w.t.Fatalf("%s is not for a technician", q.ID)
		}
		r.Value = w.ohms(r.Red, r.Black)
		c.Readings = append(slices.Clone(c.Readings), r)
	case rewire.AskLook:
		seen := q.Seen
		word := "cooling"
		if w.model.Draw().Equipment.Calls.EnergisedIn == house.ModeHeat {
			word = "heating"
		}
		if seen.Jumper >= 0 {
			s := house.DefaultSetup()
			s.Thermostat, s.Jumper = house.Removed, house.LettersOf(w.truth[seen.Jumper])
			w.model.Reset()
			a, err := w.model.Look(s, seen.Look)
			if err != nil {
				w.t.Fatal(err)
			}
			word = seen.Look.AnswerID(a)
		}
		var err error
		if seen.Answer, err = seen.Look.ParseAnswer(word); err != nil {
			w.t.Fatal(err)
		}
		c.Looks = append(slices.Clone(c.Looks), seen)
	case rewire.AskBoard:
		c.Conductors = slices.Clone(c.Conductors)
		c.Conductors[q.Conductor].Board = rewire.Mark{State: rewire.OnLetter, Letter: w.truth[q.Conductor]}
		c.Conductors[q.Conductor].RungOut = strings.HasPrefix(q.ID, "ring-out:")
	case rewire.AskChoose:
		c.Equipment = w.model.Draw().Equipment.ID
	}
	return c
}

// follow answers every question from the house until none is open.
func (w *wall) follow(c rewire.Case) (rewire.Report, rewire.Case, []string) {
	w.t.Helper()
	var asked []string
	for range 20 {
		r := solve(w.t, c)
		if r.State != rewire.Asks {
			return r, c, asked
		}
		asked = append(asked, r.Question.ID)
		next := w.reply(c, *r.Question)
		c = next
	}
	w.t.Fatalf("no end of questions: %v", asked)
	return rewire.Report{}, c, nil
}

// right reports whether every conductor went where its true board screw
// belongs.
func (w *wall) right(r rewire.Report) bool {
	for k, p := range r.Landing {
		want := expected(w.model.Draw().Equipment.ID, w.truth[k], r.Case.New)
		got := ""
		if p.To != house.NoTerminal {
			got = r.Case.New.Word(p.To)
		}
		if got != want {
			return false
		}
	}
	return true
}

// TestOneEndLies: on every equipment, in its nominal house and two corners,
// two letters exchanged on the old base or at the equipment, the other end
// right, equipment named or not. The questions are answered by the model. The
// landing that comes out is the true one; where no reading can settle it,
// nothing is landed.
func TestOneEndLies(t *testing.T) {
	answers, open := 0, 0
	for _, id := range catalog().IDs() {
		e := catalog().Equipment(id)
		truth := e.Cables[0].Conductors
		draws := []circuit.Draw{e.Nominal(), e.Corner(3), e.Corner(6)}
		base := "R C Y Y2 G O/B W W2 E L"
		if id == house.SplitPower {
			base = "Rc Rh C Y G W"
		}
		for n, pair := range swaps(id) {
			w := newWall(t, draws[n%len(draws)], truth)
			c := straightCase(t, id, base, true)
			for k, wire := range c.Conductors {
				mark := &c.Conductors[k].Old
				if n%2 == 1 {
					mark = &c.Conductors[k].Board
				}
				switch wire.Old.Letter {
				case pair[0]:
					mark.Letter = pair[1]
				case pair[1]:
					mark.Letter = pair[0]
				}
			}
			if n%3 == 0 {
				c.Equipment = house.NoEquipment
			}
			r, _, asked := w.follow(c)
			name := fmt.Sprintf("%s, %s and %s exchanged at one end", id, pair[0], pair[1])
			switch r.State {
			case rewire.Answer:
				answers++
				if !w.right(r) {
					t.Errorf("%s: a wrong landing is called right: %s, asked %v", name, landing(r), asked)
				}
				hots := house.LettersOf(house.R, house.Rc, house.Rh)
				if len(asked) == 0 && !(hots.Has(pair[0]) && hots.Has(pair[1])) {
					t.Errorf("%s: nothing was asked", name)
				}
			case rewire.Undecided:
				open++
			default:
				t.Errorf("%s: %s %v", name, r.State, r.Why)
			}
		}
	}
	t.Logf("%d settled, %d left open", answers, open)
	if open > 4 {
		t.Errorf("%d settled, %d left open: the questions settle too little", answers, open)
	}
}

// TestCommonOnAnOldB: the old base held the common on B, with no other common
// and nothing looked up at the equipment: the reading finds it, on every
// equipment.
func TestCommonOnAnOldB(t *testing.T) {
	for _, id := range catalog().IDs() {
		e := catalog().Equipment(id)
		truth := e.Cables[0].Conductors
		base := "R C Y Y2 G O/B W W2 E L"
		if id == house.SplitPower {
			base = "Rc Rh C Y G W"
		}
		w := newWall(t, e.Nominal(), truth)
		c := straightCase(t, id, base, false)
		for k, l := range truth {
			if l == house.C {
				c.Conductors[k].Old.Letter = house.B
			}
			if l == house.B {
				c.Conductors[k].Old.Letter = house.O
			}
		}
		r, _, asked := w.follow(c)
		if r.State != rewire.Answer || !w.right(r) || len(asked) == 0 {
			t.Errorf("%s: %s %v %s, asked %v", id, r.State, r.Why, landing(r), asked)
		}
	}
}

// TestBandsHoldTheModel: what the questions say a reading comes to is what the
// model reads, at the nominal house and corners, between every two conductors:
// the truth always fits its own readings.
func TestBandsHoldTheModel(t *testing.T) {
	for _, id := range catalog().IDs() {
		e := catalog().Equipment(id)
		truth := e.Cables[0].Conductors
		base := "R C Y Y2 G O B W W2 E L"
		if id == house.SplitPower {
			base = "Rc Rh C Y G O B W"
		}
		for _, d := range []circuit.Draw{e.Nominal(), e.Corner(1), e.Corner(e.CornerCount() - 1)} {
			w := newWall(t, d, truth)
			c := straightCase(t, id, base, true)
			for a := range truth {
				for b := range truth[:a] {
					c.Readings = append(c.Readings, rewire.Reading{Quantity: quantity.Resistance, Red: a, Black: b, Value: w.ohms(a, b)})
				}
			}
			if r := solve(t, c); r.State != rewire.Answer || !w.right(r) {
				t.Errorf("%s: every reading made: %s %v %s", id, r.State, r.Why, landing(r))
			}
		}
	}
}
