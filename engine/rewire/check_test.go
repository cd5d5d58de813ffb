package rewire_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/rewire"
)

// made is every conductor of an equipment on a base of its own letters, known
// at the equipment and on the old base, with two of them exchanged: a and b
// are the board screws, or the same twice for none.
func made(t testing.TB, id house.Equipment, a, b house.Terminal, p rewire.Power) rewire.Case {
	t.Helper()
	var wires, base []string
	for _, l := range catalog().Equipment(id).Cables[0].Conductors {
		now := l
		switch l {
		case a:
			now = b
		case b:
			now = a
		}
		wires = append(wires, fmt.Sprintf("w%s %s %s %s", l, l, l, now))
		base = append(base, l.String())
	}
	c := swap(t, id, strings.Join(wires, ","), strings.Join(base, " "), p)
	for k, w := range c.Conductors {
		if w.Old.Letter == house.B { // a valve's coil, read before
			c.Readings = append(c.Readings, reading(c, k, c2(c), 30))
		}
	}
	return c
}

func check(t testing.TB, c rewire.Case) rewire.Checked {
	t.Helper()
	k, err := solver().Check(c)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// swaps lists every pair of an equipment's conductors.
func swaps(id house.Equipment) [][2]house.Terminal {
	ts := catalog().Equipment(id).Cables[0].Conductors
	var out [][2]house.Terminal
	for i, a := range ts {
		for _, b := range ts[:i] {
			out = append(out, [2]house.Terminal{a, b})
		}
	}
	return out
}

// TestEveryRightLandingIsCalledGood on every equipment, with either supply.
func TestEveryRightLandingIsCalledGood(t *testing.T) {
	for _, id := range catalog().IDs() {
		for _, p := range []rewire.Power{rewire.PowerCommon, rewire.PowerBattery} {
			k := check(t, made(t, id, house.NoTerminal, house.NoTerminal, p))
			if !k.Good || len(k.Wrong) > 0 || len(k.Blown) > 0 {
				t.Errorf("%s, %s: good %v, %v %v %v", id, p, k.Good, k.State, k.Why, k.Wrong)
			}
		}
	}
}

// TestEverySwapIsCalledWrong: each exchange of two conductors, with either
// supply. None is called good, each says which conductors are wrong, and what
// the model shows is what joining wires shows by hand.
func TestEverySwapIsCalledWrong(t *testing.T) {
	tried, silent := 0, 0
	for _, id := range catalog().IDs() {
		for _, pair := range swaps(id) {
			for _, p := range []rewire.Power{rewire.PowerBattery, rewire.PowerCommon} {
				c := made(t, id, pair[0], pair[1], p)
				k := check(t, c)
				tried++
				name := fmt.Sprintf("%s, %s and %s exchanged, %s", id, pair[0], pair[1], p)
				if k.Good || k.State != rewire.Answer {
					t.Errorf("%s: good %v, %s %v", name, k.Good, k.State, k.Why)
					continue
				}
				for _, l := range pair {
					if !slices.ContainsFunc(k.Wrong, func(s string) bool { return strings.HasPrefix(s, "w"+l.String()+" ") }) {
						t.Errorf("%s: %s is not said to be wrong: %v", name, l, k.Wrong)
					}
				}
				if len(k.Effects[0].Calls) == 0 {
					t.Fatal("no call was tried")
				}
				if k.Effects[0].Good() {
					silent++
					if !hides(pair) {
						t.Errorf("%s: no call shows it", name)
					}
				}
				if p == rewire.PowerBattery {
					byHand(t, name, c, k.Effects[0])
				}
			}
		}
	}
	t.Logf("%d exchanges, %d of which no call shows", tried, silent)
}

// hides lists the exchanges that may show in no call, by the wiring alone: R
// under a screw whose contact every call closes; the fault signal with a common
// nobody needs; Y with Y2, called together; two transformers' R, each through
// the cabinets' metal.
func hides(pair [2]house.Terminal) bool {
	set := house.LettersOf(pair[0], pair[1])
	for _, s := range []house.Letters{
		house.LettersOf(house.R, house.G), house.LettersOf(house.Rc, house.G),
		house.LettersOf(house.R, house.W), house.LettersOf(house.Rh, house.W),
		house.LettersOf(house.L, house.C), house.LettersOf(house.Y, house.Y2), house.LettersOf(house.Rc, house.Rh),
	} {
		if set == s {
			return true
		}
	}
	return false
}

// byHand holds a proof against wires joined by hand: on batteries a contact
// joins its screw to R's, a load runs where its conductor is joined to the R
// conductor and the common is not, and R joined to the common is a short. It
// knows nothing of volts. The two transformers are taken apart.
func byHand(t *testing.T, name string, c rewire.Case, got rewire.Proof) {
	t.Helper()
	e := catalog().Equipment(got.Equipment)
	split := got.Equipment == house.SplitPower
	for _, call := range got.Calls {
		node := map[house.Terminal]house.Terminal{} // by screw: what it is joined to
		for _, s := range c.New.Letters.List() {
			node[s] = s
		}
		join := func(a, b house.Terminal) {
			from, to := node[a], node[b]
			for s := range node {
				if node[s] == from {
					node[s] = to
				}
			}
		}
		for _, s := range call.Live.List() {
			hot := house.R
			if split {
				hot = house.Rc
				if s == house.W {
					hot = house.Rh
				}
			}
			join(s, hot)
		}
		under := func(t house.Terminal) house.Terminal { // the node of a conductor
			for _, w := range c.Conductors {
				if w.Old.Letter == t {
					return node[w.Now.Letter]
				}
			}
			return house.NoTerminal
		}
		hot := house.R
		if split {
			hot = house.Rc
		}
		shorted := under(hot) == under(house.C) && under(house.C) != house.NoTerminal
		crossed := split && under(house.Rc) == under(house.Rh)
		if call.Blown != (shorted || crossed) {
			t.Errorf("%s, %s: fuse blown %v; by hand R to the common is %v", name, call.Title, call.Blown, shorted || crossed)
			continue
		}
		if split || shorted {
			continue // two transformers feed into each other's loads; a blown fuse is covered
		}
		for _, l := range e.Cables[0].Conductors {
			for _, part := range e.Driven(l) {
				if part == "gas-valve" {
					continue // the furnace's control decides
				}
				if runs := under(l) == under(hot); slices.Contains(call.In, part) != runs {
					t.Errorf("%s, %s: %s in is %v, by hand %v", name, call.Title, part, !runs, runs)
				}
			}
		}
	}
}

// TestEveryCommonAndBMistake: on every equipment, the common and the B or O
// conductor on each other's screw, and the common put on B with the valve
// capped, on a base with O and B apart: what blows and when.
func TestEveryCommonAndBMistake(t *testing.T) {
	for _, id := range catalog().IDs() {
		change := catalog().Equipment(id).Calls.Changeover
		base := "R C Y Y2 G O B W W2"
		if id == house.SplitPower {
			base = "Rc Rh C Y G O B W"
		}
		c := made(t, id, house.NoTerminal, house.NoTerminal, rewire.PowerBattery)
		b, err := rewire.ParseBase(base)
		if err != nil {
			t.Fatal(err)
		}
		b.Power = rewire.PowerBattery
		c.New = b
		for k, w := range c.Conductors {
			switch w.Old.Letter {
			case house.C:
				c.Conductors[k].Now = rewire.Mark{State: rewire.OnLetter, Letter: house.B}
			case change:
				c.Conductors[k].Now = rewire.Mark{State: rewire.OnNone}
			case house.L:
				c.Conductors[k].Now = rewire.Mark{State: rewire.OnNone}
			}
		}
		k := check(t, c)
		if k.Good {
			t.Errorf("%s: the common on B is called good", id)
		}
		for _, call := range k.Effects[0].Calls {
			// B apart is live in heating on every thermostat, so R meets the common.
			heats := call.ID == "heat" || call.ID == "auxiliary" || call.ID == "emergency" && change != house.NoTerminal
			if call.Blown != heats {
				t.Errorf("%s, the common on B, %s: fuse blown %v", id, call.Title, call.Blown)
			}
		}
		if !strings.Contains(strings.Join(k.Blown, "\n"), "fuse: on heating") ||
			!strings.Contains(strings.Join(k.Blown, "\n"), "contact for B") {
			t.Errorf("%s: what may have blown: %v", id, k.Blown)
		}
	}
}

// TestCheckNamesTheConsequence reads a few checks as a technician would say
// them (common practice).
func TestCheckNamesTheConsequence(t *testing.T) {
	for _, x := range []struct {
		id   house.Equipment
		a, b house.Terminal
		call string
		want string
	}{
		{house.CoolGas, house.Y, house.G, "fan", "comes on and should not: outdoor unit"},
		{house.CoolGas, house.Y, house.W, "heat", "comes on and should not: outdoor unit"},
		{house.CoolGas, house.Y, house.C, "cool", "the board's fuse blows"},
		{house.CoolElectric, house.W, house.C, "heat", "the board's fuse blows"},
		{house.PumpHeatingValve, house.B, house.C, "heat", "the board's fuse blows"},
		{house.PumpCoolingValve, house.O, house.C, "cool", "the board's fuse blows"},
		{house.PumpCoolingValve, house.O, house.Y, "cool", "Right"},
		{house.PumpCoolingValve, house.O, house.Y, "heat", "does not come on: outdoor unit"},
		{house.TwoStagePump, house.Y, house.Y2, "cool", "Right"},
	} {
		c := made(t, x.id, x.a, x.b, rewire.PowerBattery)
		k := check(t, c)
		for _, call := range k.Effects[0].Calls {
			if call.ID != x.call {
				continue
			}
			text := strings.Join(call.Wrong, "; ")
			if text == "" {
				text = "Right"
			}
			if !strings.Contains(text, x.want) {
				t.Errorf("%s, %s and %s exchanged, %s: %q, want %q", x.id, x.a, x.b, call.Title, text, x.want)
			}
		}
	}
}
