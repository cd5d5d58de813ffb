package rewire_test

import (
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/rewire"
)

// ownLanding is an equipment's conductors on a base of its own letters, solved.
func ownLanding(t *testing.T, id house.Equipment, p rewire.Power) rewire.Report {
	t.Helper()
	c := made(t, id, house.NoTerminal, house.NoTerminal, p)
	r := solve(t, c)
	if r.State != rewire.Answer {
		t.Fatalf("%s: %s %v", id, r.State, r.Why)
	}
	return r
}

// volts gives each wanted load's pull-in volts, by call and part.
func volts(p rewire.Proof) map[string]float64 {
	out := map[string]float64{}
	for _, c := range p.Calls {
		for _, coil := range c.Coils {
			if slices.Contains(c.Wanted, coil.Part) {
				out[c.ID+" "+coil.Part] = coil.Pulling
			}
		}
	}
	return out
}

// TestEveryLandingIsTriedAtTheEnds: besides the house at the centre each answer
// is tried in six more, and there a low line, a long cable and hungry coils
// leave every load less than the centre does, a high line more: by Ohm's law.
func TestEveryLandingIsTriedAtTheEnds(t *testing.T) {
	for _, id := range catalog().IDs() {
		r := ownLanding(t, id, rewire.PowerCommon)
		if len(r.Edges) != 6 {
			t.Fatalf("%s: %d houses at the ends", id, len(r.Edges))
		}
		centre := volts(r.Proofs[0])
		for _, e := range r.Edges {
			if len(e.Proof.Calls) != len(r.Proofs[0].Calls) {
				t.Errorf("%s, %s: %d calls of %d", id, e.House, len(e.Proof.Calls), len(r.Proofs[0].Calls))
			}
			high := strings.HasPrefix(e.House, "high line")
			for name, v := range volts(e.Proof) {
				if high && v <= centre[name] || !high && v >= centre[name] {
					t.Errorf("%s, %s, %s: %.2f V, and %.2f at the centre", id, e.House, name, v, centre[name])
				}
			}
		}
	}
}

// TestTightIsSaid: with hungry coils a heat pump's auxiliary heat asks more of
// 40 VA than it has; a furnace with cooling does not.
func TestTightIsSaid(t *testing.T) {
	text := strings.Join(ownLanding(t, house.PumpHeatingValve, rewire.PowerCommon).Tight, "\n")
	if !strings.Contains(text, "VA of 40; on auxiliary heat") || !strings.Contains(text, "outdoor unit: ") {
		t.Errorf("the heat pump: %q", text)
	}
	if r := ownLanding(t, house.CoolGas, rewire.PowerCommon); len(r.Tight) > 0 {
		t.Errorf("cool-gas: %v", r.Tight)
	}
}

// TestAWrongLoadAtAnEndIsNoAnswer: a thermostat fed through the furnace's input
// runs no furnace at the centre of the range; where that input may be light
// enough to take the leak for a call, nothing is landed and nothing made is
// called good.
func TestAWrongLoadAtAnEndIsNoAnswer(t *testing.T) {
	light := changed(t, "ohms: {nominal: 900, low: 600, high: 1500", "ohms: {nominal: 900, low: 600, high: 20000")
	c := made(t, house.HeatOnly, house.NoTerminal, house.NoTerminal, rewire.PowerThroughLoad)
	c.New.Letters = house.LettersOf(house.R, house.W)
	for k, w := range c.Conductors {
		if w.Old.Letter == house.C {
			c.Conductors = slices.Delete(slices.Clone(c.Conductors), k, k+1)
			break
		}
	}
	if r := solve(t, c); r.State != rewire.Answer {
		t.Fatalf("as drawn: %s %v", r.State, r.Why)
	}
	if k := check(t, c); !k.Good {
		t.Fatalf("as drawn: %v", k.Wrong)
	}
	s := rewire.New(light)
	r, err := s.Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	if r.State != rewire.Blocked || len(r.Landing) > 0 || !strings.Contains(strings.Join(r.Why, "\n"), "coils that ask little: comes on and should not: furnace") {
		t.Errorf("%s %v", r.State, r.Why)
	}
	k, err := s.Check(c)
	if err != nil {
		t.Fatal(err)
	}
	if k.Good || len(k.Wrong) == 0 {
		t.Errorf("a check calls it good: %v", k.Wrong)
	}
}
