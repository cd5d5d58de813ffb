package suspects

import (
	"slices"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// faultsLeft are the faults a call still lists, in order.
func faultsLeft(c *Call) []house.Fault {
	var out []house.Fault
	for _, s := range c.Explain().Left {
		out = append(out, s.Fault)
	}
	slices.Sort(out)
	return out
}

// What a look is said to leave is what it leaves once it is made.
func TestSplitsSayWhatObserveLeaves(t *testing.T) {
	cool := house.DefaultSetup().With(house.CoolCall)
	for _, l := range []house.Look{house.OutdoorUnit, house.BreakerOutdoor, house.Display} {
		c, _ := open(t)
		g := forecast.Goal{Setup: cool, Probe: house.LookAt(l)}
		splits, err := c.Splits(g, false)
		if err != nil || len(splits) < 2 {
			t.Fatalf("%s: %v, %v", l, splits, err)
		}
		for _, s := range splits {
			after, _ := open(t)
			observe(t, after, Seen{Probe: g.Probe, Setup: cool, Answer: s.Answer})
			slices.Sort(s.Faults)
			if got := faultsLeft(after); !slices.Equal(got, s.Faults) {
				t.Errorf("%s %s leaves %v, said %v", l, l.AnswerID(s.Answer), got, s.Faults)
			}
		}
	}
}

// Every candidate is left or was ruled out by one reading, which then speaks
// against it.
func TestRuledOutOnce(t *testing.T) {
	c, d := open(t)
	all := faultsLeft(c)
	cool := house.DefaultSetup().With(house.CoolCall)
	for _, p := range []house.Probe{house.LookAt(house.Display), house.LookAt(house.OutdoorUnit), house.Volts(house.Y, house.C, house.AtThermostat)} {
		s, _ := d.probe(forecast.Goal{Setup: cool, Probe: p}, false)
		observe(t, c, s)
	}
	got := faultsLeft(c)
	for i, r := range c.Ruled() {
		for _, f := range r.Faults {
			if e := c.Evidence(f); !e[i].Against || slices.Contains(got, f) {
				t.Errorf("%s is said to be ruled out by %s: %+v", f, r.Seen.Probe, e)
			}
			got = append(got, f)
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, all) {
		t.Errorf("ruled out and left are %v, candidates %v", got, all)
	}
}

// A breaker that is on speaks for what leaves it on and against what trips it
// in most houses.
func TestEvidenceHasASign(t *testing.T) {
	c, _ := open(t)
	on, err := house.BreakerOutdoor.ParseAnswer("on")
	if err != nil {
		t.Fatal(err)
	}
	observe(t, c, Seen{Probe: house.LookAt(house.BreakerOutdoor), Setup: house.DefaultSetup(), Answer: on})
	if against, other := c.Evidence(house.NoLineOutdoor)[0].Bits, c.Evidence(house.ContactorCoilOpen)[0].Bits; against >= -0.3 || other <= 0 {
		t.Errorf("bits %.2f for a lost outdoor line, %.2f for an open coil", against, other)
	}
}

// A nominal house whose weak transformer makes the contactor chatter keeps that
// fault on the list, though few drawn houses chatter.
func TestChatterKeepsTheWeakTransformer(t *testing.T) {
	cat := catalog(t)
	for _, id := range []house.Equipment{house.CoolGas, house.CoolElectric} {
		for seed := range uint64(3) {
			b, err := circuit.NewBench(cat.Equipment(id).Nominal())
			if err != nil {
				t.Fatal(err)
			}
			chatter := complaints[len(complaints)-1]
			d := newDwelling(t, b, chatter.symptoms[0].Setup, house.TransformerWeak)
			e := New(forecast.New(cat, forecast.Options{Seed: seed, SlowFuse: forecast.SlowFuseUsual}), weights(t))
			c, err := e.Open(Case{Facts: house.Facts{Equipment: id}, Symptoms: chatter.symptoms})
			if err != nil {
				t.Fatal(err)
			}
			for _, l := range []house.Look{house.OutdoorUnit, house.Air, house.Display} {
				s, _ := d.probe(forecast.Goal{Setup: chatter.symptoms[0].Setup, Probe: house.LookAt(l)}, false)
				if observe(t, c, s); l == house.OutdoorUnit && l.AnswerID(s.Answer) != "chattering" {
					t.Fatalf("%s does not chatter: %s", id, l.AnswerID(s.Answer))
				}
			}
			if left := faultsLeft(c); !slices.Contains(left, house.TransformerWeak) {
				t.Errorf("%s, seed %d: left are %v", id, seed, left)
			}
		}
	}
}

// A valve that stays put is the wrong way in one mode only: where both modes are,
// it is the changeover setting, and with the setting right no one fault is left.
func TestAStuckValveIsWrongInOneModeOnly(t *testing.T) {
	cat := catalog(t)
	warm := look(house.Air, "warm").calling(house.ModeCool)
	e := New(forecast.New(cat, forecast.Options{SlowFuse: forecast.SlowFuseUsual}), weights(t))
	c, err := e.Open(Case{Facts: house.Facts{Equipment: house.PackagedPump}, Symptoms: []Symptom{warm}})
	if err != nil {
		t.Fatal(err)
	}
	see := func(setup house.Setup, l house.Look, word string) {
		t.Helper()
		a, err := l.ParseAnswer(word)
		if err != nil {
			t.Fatal(err)
		}
		observe(t, c, Seen{Probe: house.LookAt(l), Setup: setup, Answer: a})
	}
	see(warm.Setup, house.Air, "warm")
	if left := faultsLeft(c); !slices.Contains(left, house.ValveStuck) {
		t.Errorf("cooling that is warm leaves %v", left)
	}
	see(house.DefaultSetup().With(house.HeatCall), house.Air, "cool")
	if left := faultsLeft(c); !slices.Equal(left, []house.Fault{house.ChangeoverWrong}) {
		t.Errorf("both modes reversed leave %v", left)
	}
	see(house.DefaultSetup(), house.ChangeoverSetting, "cooling")
	if left := faultsLeft(c); len(left) > 0 {
		t.Errorf("with the setting right, both reversed leave %v", left)
	}
}
