package circuit

import (
	"slices"
	"testing"

	"stepdown/engine/house"
)

// straight lands every conductor of an equipment on its own letter.
func straight(e *Equipment, supply string) Landing {
	l := Landing{Supply: supply, On: map[house.Terminal]house.Terminal{}}
	for _, t := range e.Cables[0].Conductors {
		l.Screws = l.Screws.Add(t)
		l.On[t] = t
	}
	return l
}

func landedHouse(t *testing.T, e *Equipment, l Landing) *House {
	t.Helper()
	d, err := e.Nominal().Land(l)
	if err != nil {
		t.Fatal(err)
	}
	h, err := NewHouse(d)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func effect(t *testing.T, h *House, live house.Letters) Effect {
	t.Helper()
	e, err := h.Effect(live)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// A base landed straight is the house as it was: the same armatures come in on
// every call, and the transformer gives the same.
func TestStraightLandingIsTheHouseAsItWas(t *testing.T) {
	for _, id := range loadAll(t).IDs() {
		e := loadAll(t).Equipment(id)
		d, err := e.Nominal().With(FaultWire, "yes")
		if err != nil {
			t.Fatal(err)
		}
		before, err := NewHouse(d)
		if err != nil {
			t.Fatal(err)
		}
		l := straight(e, "common")
		dl, err := d.Land(l)
		if err != nil {
			t.Fatal(err)
		}
		after, err := NewHouse(dl)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range healthyCalls(e) {
			before.Reset()
			if err := before.Play(s); err != nil {
				t.Fatal(err)
			}
			got := effect(t, after, before.outputs(s))
			for _, c := range got.Coils {
				i := before.bench.plan.armature(c.Part)
				want := modulus(before.ac.voltage(&before.bench.plan.elements[before.bench.plan.armatures[i].element]))
				// The same network but for the order of its elements: what is
				// left is rounding.
				if diff := c.Held - want; diff > 1e-6 || diff < -1e-6 {
					t.Errorf("%s, %s: %s holds %.9f V, was %.9f", id, s, c.Part, c.Held, want)
				}
				if slices.Contains(got.In, c.Part) != before.in(c.Part) {
					t.Errorf("%s, %s: %s in is not as it was", id, s, c.Part)
				}
			}
			if got.Blown || !got.Lit || len(got.Chatter) > 0 {
				t.Errorf("%s, %s: %+v", id, s, got)
			}
		}
	}
}

// The common under Y is joined to R by the cooling call: the fuse goes. By
// ohms alone, 26.9 V over 1.73 Ω of transformer, 0.63 Ω of cable there and
// back, and 0.22 Ω of joints, contact and fuse is 10.4 A.
func TestCommonOnYBlowsTheFuse(t *testing.T) {
	e := loadAll(t).Equipment(house.CoolGas)
	l := straight(e, "battery")
	l.On[house.C], l.On[house.Y] = house.Y, house.C
	h := landedHouse(t, e, l)
	if quiet := effect(t, h, 0); quiet.Blown || len(quiet.In) > 0 {
		t.Errorf("nothing called: %+v", quiet)
	}
	got := effect(t, h, house.LettersOf(house.Y, house.G))
	const amps, tolerance = 10.4, 0.2 // joints are counted by hand to a tenth of an ohm
	if a := got.Sources[0].Amps; !got.Blown || a < amps-tolerance || a > amps+tolerance {
		t.Errorf("blown %v at %.2f A, want about %.1f A", got.Blown, a, amps)
	}
}

// Y and G exchanged: the fan call runs the compressor alone.
func TestExchangedConductorsExchangeLoads(t *testing.T) {
	e := loadAll(t).Equipment(house.CoolGas)
	l := straight(e, "battery")
	l.On[house.G], l.On[house.Y] = house.Y, house.G
	h := landedHouse(t, e, l)
	if got := effect(t, h, house.LettersOf(house.G)); !slices.Equal(got.In, []string{"contactor"}) {
		t.Errorf("fan call brings in %v", got.In)
	}
}

// Without its common a thermostat that needs it is dark and calls nothing.
func TestCappedCommonLeavesItDark(t *testing.T) {
	e := loadAll(t).Equipment(house.CoolGas)
	l := straight(e, "common")
	delete(l.On, house.C)
	got := effect(t, landedHouse(t, e, l), house.LettersOf(house.Y, house.G))
	if got.Lit || len(got.In) > 0 {
		t.Errorf("%+v", got)
	}
}

// Two transformers out of phase, joined by an Rc–Rh jumper, drive each other.
func TestJoinedTransformersBlowTheFuse(t *testing.T) {
	e := loadAll(t).Equipment(house.SplitPower)
	l := straight(e, "battery")
	l.Joined = [][2]house.Terminal{{house.Rc, house.Rh}}
	if got := effect(t, landedHouse(t, e, l), 0); !got.Blown {
		t.Errorf("%+v", got)
	}
}

func TestLandRefusesWhatIsNotThere(t *testing.T) {
	e := loadAll(t).Equipment(house.CoolGas)
	screws := house.LettersOf(house.R, house.Y)
	for name, l := range map[string]Landing{
		"no such supply":    {Screws: screws, Supply: "sun"},
		"no C screw":        {Screws: screws, Supply: "common"},
		"no R":              {Screws: house.LettersOf(house.Y), Supply: "battery"},
		"no such conductor": {Screws: screws, Supply: "battery", On: map[house.Terminal]house.Terminal{house.O: house.Y}},
		"no such screw":     {Screws: screws, Supply: "battery", On: map[house.Terminal]house.Terminal{house.Y: house.G}},
		"nothing to leak":   {Screws: house.LettersOf(house.R, house.G), Supply: "through-load"},
	} {
		if _, err := e.Nominal().Land(l); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	plain, err := NewHouse(e.Nominal())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := plain.Effect(0); err == nil {
		t.Error("an effect of a base that was not landed")
	}
}
