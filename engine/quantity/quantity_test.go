package quantity

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestQuantity(t *testing.T) {
	for q, want := range map[Quantity][2]string{
		ACVolts: {"volts", "V"}, LowZVolts: {"volts-lowz", "V"}, DCVolts: {"volts-dc", "V"}, Resistance: {"ohms", "ohm"}, Current: {"amps", "A"},
	} {
		if got := [2]string{q.String(), q.Unit()}; got != want {
			t.Errorf("%v, want %v", got, want)
		}
		back, err := OfID(want[0])
		if back != q || err != nil {
			t.Errorf("%s: %v %v", want[0], back, err)
		}
		data, err := json.Marshal(map[Quantity]Quantity{q: q})
		var m map[Quantity]Quantity
		if err != nil || json.Unmarshal(data, &m) != nil || m[q] != q {
			t.Errorf("%s: %s %v", q, data, err)
		}
	}
	for _, id := range []string{"", "Volts", "volt", "watts"} {
		if _, err := OfID(id); err == nil {
			t.Errorf("%q is a quantity", id)
		}
	}
	if _, err := Quantity(0).MarshalText(); err == nil {
		t.Error("no quantity has an id")
	}
	var q Quantity
	if len(All()) != 5 || q.UnmarshalText([]byte("x")) == nil || Quantity(99).Unit() != "" {
		t.Error("the list is not closed")
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		r    Reading
		q    Quantity
		want string
	}{
		{Of(26.8), ACVolts, "26.8 V"}, {Of(23.9069), LowZVolts, "23.91 V"}, {Of(0.0106), ACVolts, "0.011 V"}, {Of(0.0001), ACVolts, "0 V"},
		{Of(240), ACVolts, "240 V"}, {Of(-0.2), DCVolts, "-0.2 V DC"}, {Of(-0.0001), DCVolts, "0 V DC"}, {Of(12), Resistance, "12 Ω"},
		{Of(1200), Resistance, "1.2 kΩ"}, {Of(999.96), Resistance, "1 kΩ"}, {Of(999.94), Resistance, "999.9 Ω"}, {Of(300e3), Resistance, "300 kΩ"},
		{Of(1.5e6), Resistance, "1.5 MΩ"}, {Of(0.2128), Current, "0.213 A"}, {Reading{OL: true}, Resistance, "OL"}, {Reading{Missing: true}, ACVolts, "not read"},
	} {
		if got := Format(c.r, c.q); got != c.want {
			t.Errorf("%v: %q, want %q", c.r, got, c.want)
		}
	}
	got := []string{FormatASCII(Of(1200), Resistance), Volts(26.8).String(), Ohms(12).String(), Amps(0.4).String()}
	if diff := cmp.Diff([]string{"1.2 kohm", "26.8 V", "12 Ω", "0.4 A"}, got); diff != "" {
		t.Error(diff)
	}
}

func TestReadingJSON(t *testing.T) {
	const text = `{"a":26.8,"b":"OL","c":null,"d":0}`
	want := map[string]Reading{"a": Of(26.8), "b": {OL: true}, "c": {Missing: true}, "d": Of(0)}
	var got map[string]Reading
	if err := json.Unmarshal([]byte(text), &got); err != nil || cmp.Diff(want, got) != "" {
		t.Fatal(err, cmp.Diff(want, got))
	}
	if data, err := json.Marshal(got); err != nil || string(data) != text {
		t.Fatal(string(data), err)
	}
	for _, bad := range []string{`"26.8"`, `"ol"`, `1e400`, `true`, `[1]`, `{}`, `""`} {
		var r Reading
		if err := json.Unmarshal([]byte(bad), &r); err == nil {
			t.Errorf("%s is %v", bad, r)
		}
	}
	for _, bad := range []string{"", "NaN", "Inf", "+1", "0x1p3", "-Inf", "1_0"} {
		var r Reading
		if err := r.UnmarshalJSON([]byte(bad)); err == nil {
			t.Errorf("%s is %v", bad, r)
		}
	}
	if _, err := json.Marshal(Of(math.NaN())); err == nil {
		t.Error("NaN was written")
	}
}

func TestNumber(t *testing.T) {
	for r, want := range map[Reading]bool{Of(0): true, Of(26.8): true, {OL: true}: false, {Missing: true}: false} {
		if v, ok := r.Number(); ok != want || v != r.Value {
			t.Errorf("%+v: %v %v", r, v, ok)
		}
	}
}

// What a program sends is held to the same limits as what a person types.
func TestCheck(t *testing.T) {
	for _, c := range []struct {
		r    Reading
		q    Quantity
		want string
	}{
		{Of(26.8), ACVolts, ""}, {Of(-1), DCVolts, ""}, {Reading{OL: true}, Resistance, ""}, {Reading{Missing: true}, Current, ""},
		{Of(-1), Current, "-1 A is negative, so the meter may be on DC: set it to AC and read again; amps AC are wanted, such as 0.4"},
		{Of(-1500), DCVolts, "-1500 V DC is over the most taken, 1000 V DC: check the unit and read again; volts DC are wanted, such as 0.3"},
		{Reading{OL: true}, DCVolts, "OL is an answer for ohms only: set the meter to DC and read again; volts DC are wanted, such as 0.3"},
		{Of(math.NaN()), ACVolts, "NaN V is not a number; volts AC are wanted, such as 26.8"},
		{Of(math.Inf(1)), ACVolts, "+Inf V is not a number; volts AC are wanted, such as 26.8"},
		{Of(1), 0, "quantity(0) is no quantity"},
	} {
		got := ""
		if err := c.r.Check(c.q); err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("%v %s: %q, want %q", c.r, c.q, got, c.want)
		}
	}
}

func TestInterval(t *testing.T) {
	i := Interval{22, 26}
	for _, c := range []struct {
		what      string
		got, want any
	}{
		{"ends are inside", [4]bool{i.Contains(22), i.Contains(26), i.Contains(21.9), i.Contains(math.NaN())}, [4]bool{true, true, false, false}},
		{"2 percent and 0.5", i.Widen(0.02, 0.5), Interval{22 - 0.44 - 0.5, 26 + 0.52 + 0.5}},
		{"widening is outwards below zero too", Interval{-10, -5}.Widen(0.5, 0), Interval{-15, -2.5}},
		{"touching overlaps", i.Overlaps(Interval{26, 30}), true},
		{"apart", i.Overlaps(Interval{26.1, 30}), false},
		{"nothing overlaps nothing", [3]bool{None().Overlaps(None()), None().Overlaps(i), i.Overlaps(None())}, [3]bool{}},
		{"union", i.Union(Interval{30, 31}), Interval{22, 31}},
		{"nothing adds nothing", [2]Interval{None().Union(i), i.Union(None())}, [2]Interval{i, i}},
		{"intersect", i.Intersect(Interval{24, 30}), Interval{24, 26}},
		{"empty", [4]bool{None().Empty(), i.Intersect(Interval{27, 28}).Empty(), Point(3).Empty(), Interval{math.NaN(), 1}.Empty()}, [4]bool{true, true, false, true}},
		{"widened nothing", None().Widen(1, 1).Empty(), true},
		{"size", [3]float64{i.Width(), i.Mid(), None().Width()}, [3]float64{4, 24, 0}},
	} {
		if diff := cmp.Diff(c.want, c.got); diff != "" {
			t.Errorf("%s: %s", c.what, diff)
		}
	}
}

// 1 % + 3 counts of 0.01 V, the usual form of a data sheet: 0.27 V at 24 V,
// 0.03 V at nothing. Absolute tolerance 1e-12: the sum of two exact products.
func TestAccuracy(t *testing.T) {
	a := Accuracy{Percent: 1, Counts: 3, Resolution: 0.01}
	for x, want := range map[float64]float64{24: 0.27, -24: 0.27, 0: 0.03} {
		if got := a.Guard(x); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %v: %v, want %v", x, got, want)
		}
	}
	if got := a.Shows(24); math.Abs(got.Lo-23.73) > 1e-12 || math.Abs(got.Hi-24.27) > 1e-12 {
		t.Error(got)
	}
	if got := (Accuracy{}).Shows(24); got != Point(24) {
		t.Error(got)
	}
}

func TestIntervalProperties(t *testing.T) {
	number := rapid.Float64Range(-1000, 1000)
	interval := rapid.Custom(func(t *rapid.T) Interval {
		a, b := number.Draw(t, "a"), number.Draw(t, "b")
		return Interval{min(a, b), max(a, b)}
	})
	rapid.Check(t, func(t *rapid.T) {
		i, j, x := interval.Draw(t, "i"), interval.Draw(t, "j"), number.Draw(t, "x")
		a := Accuracy{rapid.Float64Range(0, 5).Draw(t, "percent"), rapid.IntRange(0, 10).Draw(t, "counts"), 0.01}
		if i.Overlaps(j) != j.Overlaps(i) || i.Overlaps(j) == i.Intersect(j).Empty() {
			t.Fatal("overlap and intersection disagree")
		}
		if (i.Contains(x) || j.Contains(x)) && !i.Union(j).Contains(x) {
			t.Fatal("the union lost a value")
		}
		if (i.Contains(x) && j.Contains(x)) != i.Intersect(j).Contains(x) {
			t.Fatal("the intersection is not both")
		}
		// Ends of the widened range may differ from Shows in the last bit only.
		if w := a.Widen(i); i.Contains(x) && (a.Shows(x).Lo < w.Lo-1e-9 || a.Shows(x).Hi > w.Hi+1e-9) {
			t.Fatal("a meter on a value inside shows a value outside the widened range")
		}
	})
}
