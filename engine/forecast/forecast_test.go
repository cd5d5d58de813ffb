package forecast

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

func catalog(t testing.TB) *circuit.Catalog {
	t.Helper()
	c, problems := circuit.Load(os.DirFS("../../trees/equipment"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return c
}

func coolCall() house.Setup {
	s := house.DefaultSetup()
	s.Mode, s.Calling = house.ModeCool, true
	return s
}

func sheet(t testing.TB, o Options, k Kind) *Sheet {
	t.Helper()
	s, err := New(catalog(t), o).Sheet(k)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A healthy house and a few faults, by what anybody who knows the circuit
// expects: the source on an open path, nothing past it, the coil's ohms.
func TestColumns(t *testing.T) {
	s := sheet(t, Options{Draws: 12, Seed: 1}, Kind{Equipment: house.CoolGas, StatSupply: house.SupplyCommon, Symptom: coolCall()})
	row := map[house.Fault]int{}
	for r, f := range s.Rows() {
		row[f] = r
	}
	atBoard := coolCall()
	atBoard.CoverIndoor = true
	columns, err := s.Columns(nil,
		Goal{atBoard, house.Volts(house.Y, house.C, house.AtIndoor)},
		Goal{coolCall(), house.LookAt(house.OutdoorUnit)},
		Goal{atBoard, house.LookAt(house.FuseLook)})
	if err != nil {
		t.Fatal(err)
	}
	yc, unit, fuse := columns[0], columns[1], columns[2]
	for _, c := range []struct {
		column *Column
		fault  house.Fault
		x      float64
		want   bool
	}{
		{yc, house.None, 25.5, true}, {yc, house.None, 0, false},
		{yc, house.OpenY, 0, true}, {yc, house.OpenY, 25.5, false},
		{yc, house.ContactorCoilOpen, 26.5, true}, {yc, house.TransformerSecondaryOpen, 0, true},
		{unit, house.None, AtAnswer(1), true}, {unit, house.OpenY, AtAnswer(5), true}, {unit, house.OpenY, AtAnswer(1), false},
		{fuse, house.ShortYC, AtAnswer(2), true}, {fuse, house.None, AtAnswer(2), false},
	} {
		if got := c.column.Holds(row[c.fault], c.x); got != c.want {
			t.Errorf("%s with %s: %g inside is %v, want %v (%v)", c.column.Goal.Probe, c.fault, c.x, got, c.want, c.column.Row(row[c.fault]))
		}
	}
	if _, ok := row[house.StatBatteryDead]; ok {
		t.Error("a thermostat fed by the common has a dead battery")
	}
}

// The same table for any number of workers, and however it is asked for.
func TestTableDoesNotDependOnWorkers(t *testing.T) {
	k := Kind{Equipment: house.HeatOnly, Symptom: func() house.Setup { s := coolCall(); s.Mode = house.ModeHeat; return s }()}
	one := sheet(t, Options{Draws: 10, Seed: 3, Workers: 1}, k)
	many := sheet(t, Options{Draws: 10, Seed: 3, Workers: 5}, k)
	goals := one.Goals()
	a, err := one.Columns(nil, goals...)
	if err != nil {
		t.Fatal(err)
	}
	some := make([]bool, len(many.Rows()))
	some[3] = true
	if _, err := many.Columns(some, goals[:4]...); err != nil {
		t.Fatal(err)
	}
	for i := len(goals) - 1; i >= 0; i-- {
		b, err := many.Columns(nil, goals[i])
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(a[i].rows, b[0].rows) {
			t.Fatalf("%s in %s differs:\n%v\n%v", goals[i].Probe, goals[i].Setup, a[i].rows, b[0].rows)
		}
	}
}

// A house drawn from the forecast's own ranges, read with a meter anywhere in
// its accuracy, lies inside. The corners reach the ends of the ranges, the guard
// band what they miss; what a fault does by a threshold (a fuse that holds, a
// coil that just pulls in) may still fall outside, so a share is asked for.
func TestHousesLieInside(t *testing.T) {
	const seed, least = 11, .99
	inside, all := 0, 0
	rng := rand.New(rand.NewPCG(seed, seed))
	s := sheet(t, Options{Draws: 24, Seed: 1}, Kind{Equipment: house.CoolGas, Symptom: coolCall()})
	var goals []Goal
	for _, g := range s.Goals() {
		if g.Probe.At == house.AtThermostat || g.Probe.IsLook() {
			goals = append(goals, g)
		}
	}
	columns, err := s.Columns(nil, goals...)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		b, err := circuit.NewBench(s.eq.Sample(rng, 1))
		if err != nil {
			t.Fatal(err)
		}
		for r, f := range s.Rows() {
			h, err := b.House(f)
			if err == nil {
				err = h.Play(coolCall())
			}
			if err != nil {
				t.Fatal(err)
			}
			for i, g := range goals {
				x, ok := display(t, h, g)
				if !ok || len(columns[i].Row(r)) == 0 {
					continue
				}
				if all++; columns[i].Holds(r, x) {
					inside++
				}
			}
		}
	}
	t.Logf("seed %d: %d of %d lie inside", seed, inside, all)
	if float64(inside) < least*float64(all) {
		t.Errorf("%d of %d lie inside, want %.1f %%", inside, all, 100*least)
	}
}

func display(t *testing.T, h *circuit.House, g Goal) (float64, bool) {
	t.Helper()
	var refused *circuit.Refusal
	if g.Probe.IsLook() {
		a, err := h.Look(g.Setup, g.Probe.Look)
		if err != nil && !errors.As(err, &refused) {
			t.Fatal(err)
		}
		return AtAnswer(a), err == nil
	}
	r, err := h.Read(g.Setup, g.Probe)
	if err != nil && !errors.As(err, &refused) {
		t.Fatal(err)
	}
	return At(g.Probe.Quantity, r), err == nil
}

func TestAxisIsInvertible(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.SampledFrom(quantity.All()).Draw(t, "quantity")
		x := rapid.Float64Range(0, 1e5).Draw(t, "x")
		back := Reading(q, At(q, quantity.Of(x))).Value
		// 1e-9 relative: one logarithm and one power
		if math.Abs(back-x) > 1e-9*(1+x) {
			t.Fatalf("%s %g comes back as %g", q, x, back)
		}
	})
	if !Reading(quantity.Resistance, At(quantity.Resistance, quantity.Reading{OL: true})).OL {
		t.Error("over limit does not come back")
	}
}

// Whatever is added to a sketch lies in one of its intervals, however many are
// added.
func TestSketchHoldsWhatItSaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s sketch
		p := house.Volts(house.R, house.C, house.AtIndoor)
		seen := rapid.SliceOfN(rapid.Float64Range(0, 250), 1, 60).Draw(t, "seen")
		for _, x := range seen {
			s.add(x, rapid.Float64Range(0, 5).Draw(t, "gap"), false)
		}
		c := NewColumn(Goal{}, [][]Piece{s.pieces(p, 1)})
		var share float64
		for _, piece := range c.Row(0) {
			share += piece.Share
		}
		if math.Abs(share-1) > 1e-9 {
			t.Fatalf("shares sum to %g", share)
		}
		for _, x := range seen {
			if !c.Holds(0, x) || c.Density(0, x) <= 0 {
				t.Fatalf("%g was seen and is not in %v", x, c.Row(0))
			}
		}
	})
}

func TestTwoFaultsTogether(t *testing.T) {
	s := sheet(t, Options{Draws: 8, Seed: 1}, Kind{Equipment: house.CoolGas, StatSupply: house.SupplyBattery, Symptom: coolCall()})
	g := Goal{coolCall(), house.LookAt(house.IndoorFan)}
	columns, err := s.Together([]Goal{g}, []Faults{{house.OpenY, house.OpenG}, {house.OpenY}}, 0)
	if err != nil {
		t.Fatal(err)
	}
	running, stopped := AtAnswer(1), AtAnswer(2)
	if columns[0].Holds(0, running) || !columns[0].Holds(0, stopped) || !columns[0].Holds(1, running) {
		t.Errorf("fan with G open too: %v, with Y open alone: %v", columns[0].Row(0), columns[0].Row(1))
	}
}

func Example() {
	catalog, problems := circuit.Load(os.DirFS("../../trees/equipment"))
	if len(problems) > 0 {
		fmt.Println(problems)
		return
	}
	symptom := house.DefaultSetup().With(house.CoolCall)
	f := New(catalog, Options{Draws: 8})
	sheet, err := f.Sheet(Kind{Equipment: house.CoolGas, Symptom: symptom})
	if err != nil {
		fmt.Println(err)
		return
	}
	goal := Goal{Setup: symptom, Probe: house.LookAt(house.OutdoorUnit)}
	columns, err := sheet.Columns(nil, goal)
	fmt.Println(sheet.Rows()[0], columns[0].Holds(0, AtAnswer(1)), err)
	// Output: none true <nil>
}

func BenchmarkOpen(b *testing.B) {
	c := catalog(b)
	for _, id := range []house.Equipment{house.CoolGas, house.PumpCoolingValve} {
		b.Run(id.String(), func(b *testing.B) {
			for b.Loop() {
				if _, err := New(c, Options{}).Sheet(Kind{Equipment: id, Symptom: coolCall()}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// What a chat pays the first time it reads in a setup.
func BenchmarkFirstReadingInASetup(b *testing.B) {
	s := sheet(b, Options{}, Kind{Equipment: house.PumpCoolingValve, Symptom: coolCall()})
	goal := Goal{coolCall(), house.Volts(house.Y, house.C, house.AtIndoor)}
	for b.Loop() {
		clear(s.columns)
		if _, err := s.Columns(nil, goal); err != nil {
			b.Fatal(err)
		}
	}
}

// Memory does not grow with the draws: the bytes held are printed for two.
func BenchmarkDraws(b *testing.B) {
	for _, n := range []int{8, 64} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := sheet(b, Options{Draws: n}, Kind{Equipment: house.HeatOnly, Symptom: house.DefaultSetup()})
			rows := make([]Faults, len(s.rows))
			for i, f := range s.rows {
				rows[i] = Faults{f}
			}
			goals := s.Goals()
			b.ReportAllocs()
			for b.Loop() {
				if _, err := s.Together(goals, rows, n); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// With slow fuses among the houses, a short has a row of houses whose fuse is
// blown and one of those whose fuse holds, and what they show is not mixed: only
// with the fuse blown is R–C dead at the thermostat. A float switch has a row for each place it may
// be drawn in; a healthy house stays as it was.
func TestWhatNeverGoesTogetherHasTwoRows(t *testing.T) {
	off := house.DefaultSetup()
	off.Thermostat = house.Removed
	fuse, rc := Goal{Setup: coolCall(), Probe: house.LookAt(house.FuseLook)}, Goal{Setup: off, Probe: house.Volts(house.R, house.C, house.AtThermostat)}
	good, _ := house.FuseLook.ParseAnswer("good")
	blown, _ := house.FuseLook.ParseAnswer("blown")
	s := sheet(t, Options{SlowFuse: SlowFuseUsual}, Kind{Equipment: house.PumpCoolingValve, Symptom: coolCall()})
	columns, err := s.Columns(nil, fuse, rc)
	if err != nil {
		t.Fatal(err)
	}
	rows, share := map[house.Fault]int{}, map[house.Fault]float64{}
	for r, f := range s.Rows() {
		rows[f]++
		share[f] += s.Share(r)
		whole, out := columns[0].Holds(r, AtAnswer(good)), columns[0].Holds(r, AtAnswer(blown))
		switch f {
		case house.ShortYC: // off its base nothing is called: R–C is whole with the fuse
			if whole == out {
				t.Errorf("%s shows %v in one row", f, columns[0].Row(r))
			}
			if columns[1].Holds(r, 0) != out || columns[1].Holds(r, 26.5) != whole {
				t.Errorf("%s shows %v at the thermostat, fuse %v", f, columns[1].Row(r), columns[0].Row(r))
			}
		case house.None:
			if out {
				t.Errorf("a healthy house shows %v", columns[0].Row(r))
			}
		}
	}
	for f, want := range map[house.Fault]int{house.None: 1, house.OpenY: 1, house.FloatOpen: 2, house.ShortRC: 2, house.ShortYC: 2} {
		if rows[f] != want || math.Abs(share[f]-1) > 1e-12 {
			t.Errorf("%s has %d rows for %g of its houses", f, rows[f], share[f])
		}
	}
	pump := sheet(t, Options{Draws: 8, SlowFuse: SlowFuseUsual}, Kind{Equipment: house.PumpCoolingValve, Symptom: coolCall()})
	stuck := 0
	for _, f := range pump.Rows() {
		if f == house.ValveStuck {
			stuck++
		}
	}
	if stuck != 2 {
		t.Errorf("a valve stuck one way or the other has %d rows", stuck)
	}
	plain := sheet(t, Options{Draws: 8}, Kind{Equipment: house.PumpCoolingValve, Symptom: coolCall()})
	if rows := plain.Rows(); len(rows) != len(plain.eq.Faults()) {
		t.Errorf("%d rows without slow fuses, %d faults", len(rows), len(plain.eq.Faults()))
	}
}

// A conductor that floats reads anything from nothing to what the cable gives it:
// the few houses a row of two stands for leave no hole between them.
func TestAFloatingConductorHasNoHole(t *testing.T) {
	s := sheet(t, Options{SlowFuse: SlowFuseUsual}, Kind{Equipment: house.CoolGas, Symptom: coolCall()})
	fan := house.DefaultSetup().With(house.FanCall)
	columns, err := s.Columns(nil, Goal{fan, house.Volts(house.Y, house.C, house.AtThermostat)})
	if err != nil {
		t.Fatal(err)
	}
	for r, f := range s.Rows() {
		if f != house.FloatOpen {
			continue
		}
		if shows := columns[0].Row(r); len(shows) != 1 {
			t.Errorf("row %d shows %v", r, shows)
		}
	}
}

// Sheets filled together hold what each holds that is filled by itself.
func TestFill(t *testing.T) {
	kinds := []Kind{{Equipment: house.PackagedPump, Symptom: coolCall()}, {Equipment: house.PackagedPump, Symptom: house.DefaultSetup()}}
	options := Options{Draws: 10, Seed: 3, SlowFuse: SlowFuseUsual, Workers: 2}
	together, alone := New(catalog(t), options), New(catalog(t), options)
	var wanted []Wanted
	for _, k := range kinds {
		s, err := together.Sheet(k)
		if err != nil {
			t.Fatal(err)
		}
		wanted = append(wanted, Wanted{Sheet: s, Goals: s.Goals()})
	}
	if err := Fill(wanted...); err != nil {
		t.Fatal(err)
	}
	for i, k := range kinds {
		s, err := alone.Sheet(k)
		if err != nil {
			t.Fatal(err)
		}
		want, err := s.Columns(nil, s.Goals()...)
		if err != nil {
			t.Fatal(err)
		}
		got, err := wanted[i].Sheet.Columns(nil, s.Goals()...)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s: sheets filled together hold something else", k.Symptom)
		}
	}
}
