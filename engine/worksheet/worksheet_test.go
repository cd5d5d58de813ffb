package worksheet

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"sync"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

var catalog = sync.OnceValue(func() *circuit.Catalog { return circuit.Must(circuit.Load(os.DirFS("../../trees/equipment"))) })

func find(t *testing.T, s Sheet, p house.Probe) Line {
	t.Helper()
	for _, page := range s.Pages {
		for _, l := range page.Lines {
			if l.Probe == p {
				return l
			}
		}
	}
	t.Fatalf("%s is not on the sheet", p)
	return Line{}
}

// A healthy cooling call: control voltage across every load that is called,
// nothing across a closed switch (an electrical text's switch rule, unit E-4).
func TestExpectCoolCall(t *testing.T) {
	s, err := Expect(catalog().Equipment(house.CoolGas), house.DefaultSetup().With(house.CoolCall), Options{Draws: 10, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range []house.Probe{
		house.Volts(house.R, house.C, house.AtThermostat), house.Volts(house.Y, house.C, house.AtIndoor), house.Volts(house.Coil1, house.Coil2, house.AtOutdoor)} {
		// From 85 % of 24 V (TM 5-683) to the 30 V of a Class 2 transformer, and
		// a meter's 0.6 V.
		if l := find(t, s, p); l.Range.Lo < 20.4 || l.Range.Hi > 30.6 || !l.Range.Contains(l.Nominal.Value) {
			t.Errorf("%s reads %v in %v", p, l.Nominal, l.Range)
		}
	}
	for _, p := range []house.Probe{
		house.Volts(house.R, house.Y, house.AtThermostat), house.Volts(house.Float1, house.Float2, house.AtIndoor), house.Volts(house.Pressure1, house.Pressure2, house.AtOutdoor)} {
		if l := find(t, s, p); l.Range.Hi > 1 {
			t.Errorf("%s reads %v across what is closed", p, l.Range)
		}
	}
	if l := find(t, s, house.Volts(house.L1, house.L2, house.AtOutdoor)); !l.Probe.LineClass() || l.mark() != " !" {
		t.Errorf("line voltage is not marked: %q", l.mark())
	}
}

// A few probes by themselves read as they do on the whole sheet.
func TestSomeReadings(t *testing.T) {
	e, o := catalog().Equipment(house.CoolGas), Options{Draws: 3, Seed: 2}
	setup := house.DefaultSetup().With(house.CoolCall)
	sheet, err := Expect(e, setup, o)
	if err != nil {
		t.Fatal(err)
	}
	p := house.Volts(house.Y, house.C, house.AtIndoor)
	lines, err := Readings(e, setup, []house.Probe{p, house.Volts(house.O, house.C, house.AtIndoor)}, o)
	if err != nil || len(lines) != 1 || lines[0] != find(t, sheet, p) {
		t.Errorf("%v %v, on the sheet %v", lines, err, find(t, sheet, p))
	}
	seen, err := Sight(e, setup, house.OutdoorUnit, o)
	if err != nil || seen.String() != "outdoor-unit: running" {
		t.Errorf("%s %v", seen, err)
	}
}

func TestExpectEverywhere(t *testing.T) {
	c := catalog()
	for _, id := range c.IDs() {
		e := c.Equipment(id)
		for _, call := range Calls(e)[1:2] {
			s, err := Expect(e, call.Setup, Options{Draws: 2, Seed: 3})
			if err != nil {
				t.Errorf("%s, %s: %v", id, call.Name, err)
				continue
			}
			if text := s.Text(); !strings.Contains(text, "invented") || len(s.Pages) == 0 {
				t.Errorf("%s, %s: %s", id, call.Name, text)
			}
			for _, line := range strings.Split(s.Text(), "\n") {
				if len(line) > 79 {
					t.Errorf("%s: a line of %d columns: %q", id, len(line), line)
				}
			}
			data, err := json.Marshal(s)
			if err != nil || !json.Valid(data) {
				t.Errorf("%s: %v", id, err)
			}
		}
	}
}

// A 40 VA transformer with two seated coils gives well under its rating: a
// contactor of 9 VA and a fan relay of 4 VA at 24 V, and the thermostat's
// 1.5 VA (the values' own sources), at about 26.5 V, so by the square of the
// voltage within a tenth.
func TestLoadsAgainstTheCoilsOwnRatings(t *testing.T) {
	loads, err := Loads(catalog().Equipment(house.CoolElectric).Nominal(), Added{})
	if err != nil {
		t.Fatal(err)
	}
	cool := named(t, loads, "cooling")
	sum := (24*24/64.0 + 24*24/144.0 + 1.5) * math.Pow(cool.Volts/24, 2)
	if math.Abs(cool.VA-sum) > 0.1*sum {
		t.Errorf("cooling takes %.2f VA, the coils' ratings add to %.2f", cool.VA, sum)
	}
	if cool.Over() || cool.Rating != 40 {
		t.Errorf("%+v", cool)
	}
	for _, c := range cool.Coils {
		if !c.In() || c.Pulling > c.Held {
			t.Errorf("%+v", c)
		}
	}
}

// What is added counts: on a heating-only furnace every load is resistive, so
// volt-amperes add, each at the voltage it stands at, to within a fiftieth.
func TestLoadsCountWhatIsAdded(t *testing.T) {
	c := catalog()
	furnace := c.Equipment(house.HeatOnly).Nominal()
	bare, err := Loads(furnace, Added{})
	if err != nil {
		t.Fatal(err)
	}
	with, err := Loads(furnace, Added{VA: 20})
	if err != nil {
		t.Fatal(err)
	}
	a, b := named(t, bare, "heat"), named(t, with, "heat")
	want := 20*math.Pow(b.Volts/24, 2) + a.VA*math.Pow(b.Volts/a.Volts, 2)
	if math.Abs(b.VA-want) > 0.02*want {
		t.Errorf("with 20 VA added it takes %.2f VA, want about %.2f", b.VA, want)
	}
}

func TestLoadsSeeTheCable(t *testing.T) {
	d := catalog().Equipment(house.CoolGas).Nominal()
	bare, err := Loads(d, Added{})
	if err != nil {
		t.Fatal(err)
	}
	far, err := Loads(d, Added{OutdoorMetres: 300, Gauge: "20"})
	if err != nil {
		t.Fatal(err)
	}
	near := named(t, bare, "cooling").Coils[0]
	if c := named(t, far, "cooling").Coils[0]; c.Pulling >= near.Pulling || c.In() {
		t.Errorf("300 m of 20 AWG leave %.1f V to pull in, 12 m of 18 AWG %.1f V", c.Pulling, near.Pulling)
	}
	if _, err := Loads(d, Added{VA: -1}); err == nil {
		t.Error("a negative load was taken")
	}
	if _, err := Loads(d, Added{Gauge: "99"}); err == nil {
		t.Error("a gauge of 99 was taken")
	}
}

// One transformer needs no name; of two, each line says which it is of.
func TestLoadsNameTheTransformer(t *testing.T) {
	for id, names := range map[house.Equipment][]string{house.CoolGas: nil, house.SplitPower: {"cooling's", "furnace's"}} {
		e := catalog().Equipment(id)
		loads, err := Loads(e.Nominal(), Added{})
		if err != nil {
			t.Fatal(err)
		}
		text := LoadText(e, loads)
		for _, n := range []string{"cooling's", "furnace's"} {
			if want := len(names) > 0; strings.Contains(text, n) != want {
				t.Errorf("%s: names %s is %v:\n%s", id, n, !want, text)
			}
		}
		if strings.Contains(text, "heat-transformer") || strings.Contains(text, "transformer            ") {
			t.Errorf("%s: a part's id is shown:\n%s", id, text)
		}
	}
}

// On a narrow screen a reading, a call and a coil stand in a line each, with what
// each number is; on paper and a wide screen in their tables.
func TestTablesInWords(t *testing.T) {
	e := catalog().Equipment(house.CoolGas)
	loads, err := Loads(e.Nominal(), Added{})
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := Expect(e, house.DefaultSetup().With(house.CoolCall), Options{Draws: 1, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	both := func(cells int) string { return sheet.TextWithin(cells) + LoadTextWithin(e, loads, cells) }
	l, cool := find(t, sheet, house.Volts(house.Y, house.C, house.AtIndoor)), named(t, loads, "cooling")
	coil := cool.Coils[0]
	for _, want := range []string{
		"  - Y to C: " + quantity.FormatASCII(l.Nominal, quantity.ACVolts) + " (" + l.span(quantity.ACVolts) + ")",
		fmt.Sprintf("  - cooling: %.1f of %.0f VA, %.1f V\n", cool.VA, cool.Rating, cool.Volts),
		fmt.Sprintf("  - cooling, %s: pulling in %.1f V, needs %.1f V, held %.1f V\n", coil.Part, coil.Pulling, coil.PickUp, coil.Held),
	} {
		if !strings.Contains(both(40), want) {
			t.Errorf("%q is not in\n%s", want, both(40))
		}
	}
	if wide := both(80); wide != sheet.Text()+LoadText(e, loads) || strings.Contains(wide, "  - ") {
		t.Errorf("a wide screen shows\n%s", wide)
	}
}

func named(t *testing.T, loads []Load, call string) Load {
	t.Helper()
	for _, l := range loads {
		if l.Call == call && l.Transformer == "transformer" {
			return l
		}
	}
	t.Fatalf("no call %q", call)
	return Load{}
}

func Example() {
	c := catalog()
	s, err := Expect(c.Equipment(house.HeatOnly), house.DefaultSetup(), Options{})
	fmt.Println(err, s.Pages[0].Lines[0].Probe, s.Pages[0].Lines[0].Nominal.Value > 24)
	// Output: <nil> volts R-C at thermostat true
}

func BenchmarkExpect(b *testing.B) {
	e := catalog().Equipment(house.PumpCoolingValve)
	for b.Loop() {
		if _, err := Expect(e, house.DefaultSetup().With(house.CoolCall), Options{Draws: 20, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
