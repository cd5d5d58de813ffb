package quantity

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		q    Quantity
		want Reading
		in   []string
	}{
		{ACVolts, Of(26.8), []string{
			"26.8", "26.8v", "26.8 V", "26.8vac", "26.8 v ac", "26.8 VAC", "26.8 volts", "26.8 volts ac", "26.8 ac volts", "26.8 V~",
			"26.8 v.a.c.", "26.8 a/c", "26.8 vrms", "26.80", "26,8", "26,8 V", "026.8", "+26.8", "about 26.8", "approx. 26.8 volts",
			"~26.8", "≈26.8", "~ 26.8 vac", "26.8-ish", "26.8ish", "26.8 volts or so", "26.8.", "26.8!", "26.8?", "it reads 26.8",
			"I got 26.8 volts", "it's about 26.8v", "the meter says 26.8", "= 26.8", "26800 mV", "26800mv", "26800 millivolts", "0.0268 kV",
			"2.68e1", "\t26.8\u00a0V ", "２６.８", "26.8 volt",
		}},
		{ACVolts, Of(0.4), []string{".4", "0.4", ",4", "0,4", "0,400", ".4v", "400 mV", "about .4"}},
		{ACVolts, Of(24.5), []string{"24.5", "24 and a half", "24 1/2", "24½", "24 and a half volts"}},
		{ACVolts, Of(0), []string{"0", "zero", "0.0", "Zero volts", "0 v", "zero.", "almost zero", "0,0", "1e-9999"}},
		{ACVolts, Of(0.24), []string{"240 mV", "240 mv", "240m"}},
		{ACVolts, Of(200), []string{"0.2 kV", "0.2 KV", "200"}},
		{ACVolts, Of(1000), []string{"1000", "1 kV", "1000 V"}},
		{LowZVolts, Of(23.9), []string{"23.9", "23.9 vac", "23.9 lowz", "23.9 v lo-z", "23.9 V low z"}},
		{DCVolts, Of(-0.2), []string{"-0.2", "−0.2", "–0.2 V", "-.2 vdc", "-200 mV dc", "- 0.2", "-0.2 volts DC", "about -0.2"}},
		{DCVolts, Of(0), []string{"-0", "-0.0 vdc", "0"}},
		{Resistance, Reading{OL: true}, []string{
			"OL", "ol", "o.l.", "O.L", "0L", ".0L", "0.L", "OL.", "open", "Open!", "open circuit", "open line", "OL ohms", "OL MΩ", "0L kΩ", "overload", "over limit", "it reads OL", "about OL",
		}},
		{Resistance, Of(12), []string{"12", "12Ω", "12 Ω", "12 \u2126", "12 ohms", "12 ohm", "12ω", "12R", "0.012k", "12000 mΩ", "12000 milliohms"}},
		{Resistance, Of(1200), []string{"1.2k", "1.2K", "1,2k", "1.2 kΩ", "1.2 kohm", "1.2 kilohms", "1.2 kilo ohms", "1k2", "1200", "1.2e3"}},
		{Resistance, Of(300e3), []string{"0.3 MΩ", "0.3M", "0.3 Mohm", "0.3 meg", "0.3 megohm", "0.3 mega ohms", "300k", "300 kΩ"}},
		{Resistance, Of(2.2), []string{"2R2", "2.2"}},
		{Current, Of(0.24), []string{".24", "240 mA", "0.24 amps", "0.24a", "240 milliamps", "0.24 A ac", "0.24 aac", "240ma"}},
	} {
		for _, in := range c.in {
			if got, err := Parse(in, c.q); err != nil || got != c.want {
				t.Errorf("%s %q: %v %v, want %v", c.q, in, got, err, c.want)
			}
		}
	}
}

// What is refused, and the line that says so.
func TestParseRefuses(t *testing.T) {
	const ac, ohms = "; volts AC are wanted, such as 26.8", "; ohms are wanted, such as 12.5 or OL"
	negAC := " is negative, so the meter may be on DC: set it to AC and read again" + ac
	for _, c := range []struct {
		q        Quantity
		in, want string
	}{
		{ACVolts, "", "nothing was typed" + ac},
		{ACVolts, " \t", "nothing was typed" + ac},
		{ACVolts, ".", `"." is not a number` + ac},
		{ACVolts, "12 ohms", `"12 ohms" is in ohms` + ac},
		{ACVolts, "1.2kΩ", `"1.2kΩ" is in ohms` + ac},
		{ACVolts, "3 amps", `"3 amps" is in amps` + ac},
		{ACVolts, "26 vdc", `"26 vdc" is a DC reading: set the meter to AC` + ac},
		{ACVolts, "-3", `"-3"` + negAC},
		{ACVolts, "-0.0", `"-0.0"` + negAC},
		{ACVolts, "NaN", `"NaN" is not a number` + ac},
		{ACVolts, "inf", `"inf" is not a number (a meter that shows no end says OL)` + ac},
		{ACVolts, "1e400", `"1e400" is over the most taken, 1000 V: check the unit and read again` + ac},
		{ACVolts, "1e99999999999999999999", `"1e99999999999999999999" is over the most taken, 1000 V: check the unit and read again` + ac},
		{ACVolts, "1500", `"1500" is over the most taken, 1000 V: check the unit and read again` + ac},
		{ACVolts, "0x1F", `"0x1F" holds more than one number: type one` + ac},
		{ACVolts, "1,234", `"1,234" could be 1.234 or 1234: type it without the comma` + ac},
		{ACVolts, "1,234.5", `"1,234.5" has a comma and a point: type the number with a point alone` + ac},
		{ACVolts, "24.6.1", `"24.6.1" has more than one decimal point` + ac},
		{ACVolts, "24-25", `"24-25" holds more than one number: type one` + ac},
		{ACVolts, "24 to 25", `"24 to 25" holds more than one number: type one` + ac},
		{ACVolts, "26.8 0.1", `"26.8 0.1" holds more than one number: type one` + ac},
		{ACVolts, "<1", `"<1" is a limit, not a reading: type what the meter shows` + ac},
		{ACVolts, "over 24", `"over 24" is a limit, not a reading: type what the meter shows` + ac},
		{ACVolts, "240 MV", `"240 MV" is in mega (capital M): type a small m for milli` + ac},
		{ACVolts, "OL", `"OL" is an answer for ohms only: set the meter to AC and read again` + ac},
		{ACVolts, "open", `"open" is an answer for ohms only: set the meter to AC and read again` + ac},
		{ACVolts, "26 lowz", `"26 lowz" was read in the low-impedance mode: read again in the ordinary AC mode` + ac},
		{ACVolts, "twenty", `"twenty" is not a number` + ac},
		{ACVolts, "zero point four", `"zero point four" is not a reading` + ac},
		{ACVolts, "26 bananas", `"26 bananas" is not a reading` + ac},
		{ACVolts, "26 v v", `"26 v v" is not a reading` + ac},
		{ACVolts, "26 v k", `"26 v k" is not a reading` + ac},
		{ACVolts, "yes", `"yes" is not a number` + ac},
		{ACVolts, "26\x1b[31m", `"26\x1b[31m" holds more than one number: type one` + ac},
		{ACVolts, "x\u202ey", `"x\u202ey" is not a number` + ac},
		{ACVolts, strings.Repeat("9", 80), `"` + strings.Repeat("9", 40) + `..." is too long for one reading` + ac},
		{DCVolts, "0.3 vac", `"0.3 vac" is an AC reading: set the meter to DC; volts DC are wanted, such as 0.3`},
		{Resistance, "-3", `"-3" is negative, so voltage may still be there: check that power is off and read again` + ohms},
		{Resistance, "0.3m", `"0.3m" could be milli or mega: type M for mega, or the number in plain ohms` + ohms},
		{Resistance, "3 mohms", `"3 mohms" could be milli or mega: type M for mega, or the number in plain ohms` + ohms},
		{Resistance, "infinite", `"infinite" is not a number (a meter that shows no end says OL)` + ohms},
		{Resistance, "26.8 v", `"26.8 v" is in volts` + ohms},
		{Resistance, "OL v", `"OL v" is in volts` + ohms},
		{Resistance, "12 ohms dc", `"12 ohms dc" is no resistance` + ohms},
		{Resistance, "old", `"old" is not a number` + ohms},
		{Current, "2 A dc", `"2 A dc" is a DC reading: set the meter to AC; amps AC are wanted, such as 0.4`},
		{Current, "200 MA", `"200 MA" is in mega (capital M): type a small m for milli; amps AC are wanted, such as 0.4`},
		{0, "26.8", "quantity(0) is no quantity"},
	} {
		got, err := Parse(c.in, c.q)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s %q: %v\n got %v\nwant %s", c.q, c.in, got, err, c.want)
		}
	}
}

// What is shown can be typed back: the value within the rounding of Format
// (four figures, a thousandth), and the second showing is the first.
func TestFormatParseRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.SampledFrom(All()).Draw(t, "quantity")
		lo := 0.0
		if q == DCVolts {
			lo = -q.Max()
		}
		r := Of(rapid.Float64Range(lo, q.Max()).Draw(t, "value"))
		if q == Resistance && rapid.Bool().Draw(t, "ol") {
			r = Reading{OL: true}
		}
		for _, show := range []func(Reading, Quantity) string{Format, FormatASCII} {
			text := show(r, q)
			back, err := Parse(text, q)
			if err != nil {
				t.Fatalf("%v shows as %q: %v", r, text, err)
			}
			if d := math.Abs(back.Value - r.Value); back.OL != r.OL || d > 5.1e-4+5.1e-4*math.Abs(r.Value) {
				t.Fatalf("%v shows as %q, read back as %v", r, text, back)
			}
			if again := show(back, q); again != text {
				t.Fatalf("%q shows again as %q", text, again)
			}
		}
	})
}

// A number typed with up to three decimals is the float of those digits,
// however it is dressed.
func TestParseExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		milli := rapid.IntRange(0, 999_999).Draw(t, "milli")
		want := Of(float64(milli) / 1000)
		plain := fmt.Sprintf("%d.%03d", milli/1000, milli%1000)
		lead := rapid.SampledFrom([]string{"", "~", "about ", "it reads "}).Draw(t, "lead")
		tail := rapid.SampledFrom([]string{"", "v", " V AC", "-ish", " volts or so."}).Draw(t, "tail")
		for _, in := range []string{lead + plain + tail, lead + strings.TrimSuffix(plain, "0") + tail, fmt.Sprintf("%s%d mV", lead, milli)} {
			if got, err := Parse(in, ACVolts); err != nil || got != want {
				t.Fatalf("%q: %v %v, want %v", in, got, err, want)
			}
		}
	})
}

func TestParseBatch(t *testing.T) {
	both := map[string]Reading{"yc": Of(0.1), "rc": Of(26.8)}
	missing := map[string]Reading{"yc": {Missing: true}, "rc": Of(26.8)}
	names := []string{"yc", "rc"}
	for _, c := range []struct {
		names []string
		want  map[string]Reading
		in    []string
	}{
		{names, both, []string{
			"yc 0.1 rc 26.8", "rc 26.8 yc 0.1", "yc=0.1, rc=26.8", "yc=0.1,rc=26.8", "yc: .1; rc: 26.8", "YC 0.1 Rc 26.8", "yc 0,1 rc 26,8",
			"yc=0,1,rc=26,8", "0.1 26.8", "0.1, 26.8", "0.1,26.8", "0.1; 26.8", "0.1 v 26.8 v", "0.1 and 26.8", "about .1 about 26.8 v", "100 mV 26.8 V",
			"yc 0.1v rc about 26.8 volts ac", "y-c 0.1 r-c 26.8", "Y/C 0.1 R/C 26.8", "yc is 0.1 and rc is 26.8", "0.1 on yc, 26.8 on rc",
			"R to C is 26.8, Y to C is .1", "i got yc .1 rc 26.8", "yc.1 rc26.8v", "yc 0.1 & rc 26.8", "yc 0.1\nrc 26.8",
		}},
		{names, missing, []string{"yc - rc 26.8", "- 26.8", "skip 26.8", "yc cannot rc 26.8", "yc=n/a rc=26.8", "yc can't, rc 26.8", "yc — rc 26.8", "yc: can not; rc: 26.8", "cant 26.8"}},
		{names, map[string]Reading{"rc": Of(26.8)}, []string{"rc 26.8", "26.8 rc", "rc: 26.8 v"}},
		{[]string{"rc"}, map[string]Reading{"rc": Of(26.8)}, []string{"26.8", "rc 26.8", "26,8", "about 26.8 v", "26.8 on r-c", "26.8 r to c"}},
		{[]string{"rc"}, map[string]Reading{"rc": {Missing: true}}, []string{"-", "skip", "cannot", "rc -"}},
		{[]string{"l1l2", "t1t2"}, map[string]Reading{"l1l2": Of(241), "t1t2": Of(0)}, []string{"l1l2 241 t1t2 0", "L1-L2 241, T1-T2 zero", "241 0", "l1l2=241 t1t2=0"}},
		{[]string{"yc", "rc", "gc"}, map[string]Reading{"yc": Of(24.5), "rc": Of(26), "gc": Of(0)}, []string{"24.5 26 zero", "24,5 26,0 0", "24 and a half, 26 and 0", "gc 0 yc 24.5 rc 26"}},
	} {
		for _, in := range c.in {
			got, err := ParseBatch(in, ACVolts, c.names)
			if diff := cmp.Diff(c.want, got); diff != "" || err != nil {
				t.Errorf("%q: %v\n%s", in, err, diff)
			}
		}
	}
}

func TestParseBatchRefuses(t *testing.T) {
	const like = "; type it like yc 26.8 rc 26.8"
	names := []string{"yc", "rc"}
	for in, want := range map[string]string{
		"":                 "nothing was typed" + like,
		" , ":              "nothing was typed" + like,
		"26.8":             `"26.8": 2 readings are wanted and 1 typed` + like,
		"24,6":             `"24,6": 2 readings are wanted and 1 typed` + like,
		"1 2 3":            `"1 2 3": 2 readings are wanted and 3 typed` + like,
		"24 - 26":          `"24 - 26": 2 readings are wanted and 3 typed` + like,
		"yc 1 yc 2":        "yc is given twice; type each name once, like yc 26.8 rc 26.8",
		"yc 1 yc 1":        "yc is given twice; type each name once, like yc 26.8 rc 26.8",
		"yc rc 26.8":       "yc has no reading" + like,
		"yc 1 2":           `yc: "1 2" holds more than one number: type one; volts AC are wanted, such as 26.8`,
		"yc 0.1 gc 3":      `yc: "0.1 gc 3" holds more than one number: type one; volts AC are wanted, such as 26.8`,
		"gc 3 yc 0.1":      `"gc 3 yc 0.1": not clear which reading is which` + like,
		"yc - 0.1 rc 3":    `yc: "- 0.1" could be a minus sign or a reading left out; type the number alone, or - alone`,
		"yc-0.1 rc 3":      `"yc-0.1 rc 3": not clear which reading is which` + like,
		"1,234.5":          `"1,234.5": 2 readings are wanted and 1 typed` + like,
		"yc 12 ohm rc 3":   `yc: "12 ohm" is in ohms; volts AC are wanted, such as 26.8`,
		"yc -3 rc 3":       `yc: "-3" is negative, so the meter may be on DC: set it to AC and read again; volts AC are wanted, such as 26.8`,
		"the cat sat":      `"the cat sat": 2 readings are wanted and 1 typed` + like,
		"0.1 yc 26.8 rc 5": `"0.1 yc 26.8 rc 5": not clear which reading is which` + like,
	} {
		got, err := ParseBatch(in, ACVolts, names)
		if err == nil || err.Error() != want {
			t.Errorf("%q: %v\n got %v\nwant %s", in, got, err, want)
		}
	}
	for _, c := range []struct {
		q     Quantity
		in    string
		names []string
	}{
		{ACVolts, "rc 26.8", []string{"yc"}}, {ACVolts, "26.8", nil}, {0, "26.8", []string{"rc"}}, {ACVolts, strings.Repeat("1 ", 400), names},
		{ACVolts, "26.8 0.1", []string{"rc"}},
	} {
		if got, err := ParseBatch(c.in, c.q, c.names); err == nil {
			t.Errorf("%.20q for %v: %v", c.in, c.names, got)
		}
	}
}

// Any subset of the names in any order, dressed any way, comes back as typed.
func TestParseBatchProperty(t *testing.T) {
	all := []string{"yc", "rc", "gc", "wc", "l1l2", "float"}
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.Permutation(all).Draw(t, "names")[:rapid.IntRange(1, len(all)).Draw(t, "n")]
		typed := rapid.Permutation(names).Draw(t, "typed")
		equals := rapid.SampledFrom([]string{" ", "=", ": ", " is about "}).Draw(t, "equals")
		between := rapid.SampledFrom([]string{" ", ", ", "; ", " and ", "\n"}).Draw(t, "between")
		want := map[string]Reading{}
		var parts, bare []string
		for _, n := range typed {
			text, r := "skip", Reading{Missing: true}
			if rapid.Float64Range(0, 1).Draw(t, "p") < 0.8 {
				deci := rapid.IntRange(0, 9999).Draw(t, "deci")
				text, r = fmt.Sprintf("%d.%d", deci/10, deci%10), Of(float64(deci)/10)
			}
			want[n] = r
			if text == "skip" {
				parts = append(parts, n+"="+text)
			} else {
				parts = append(parts, n+equals+text)
			}
			bare = append(bare, text)
		}
		line := strings.Join(parts, between)
		got, err := ParseBatch(line, ACVolts, names)
		if diff := cmp.Diff(want, got); diff != "" || err != nil {
			t.Fatalf("%q: %v\n%s", line, err, diff)
		}
		line = strings.Join(bare, " ")
		got, err = ParseBatch(line, ACVolts, typed)
		if diff := cmp.Diff(want, got); diff != "" || err != nil {
			t.Fatalf("%q: %v\n%s", line, err, diff)
		}
	})
}

var fuzzSeeds = []string{
	"26.8", "24.3 vac", ".4", "24,6", "240 mV", "about 26", "26.5-ish", "OL", "o.l.", "1.2k", "12Ω", "0.3 MΩ", "zero", "1e400", "0x1f", "-0.2", "1,234", "4k7",
	"24 and a half", "yc 0.1 rc 26.8", "yc=0.1, rc=26.8", "- 26.8", "r to c 1", "\x1b[31m", "24½", "～", "\xff",
}

func FuzzParse(f *testing.F) {
	for i, s := range fuzzSeeds {
		f.Add(s, uint8(i%6))
	}
	f.Fuzz(func(t *testing.T, text string, q uint8) {
		r, err := Parse(text, Quantity(q))
		if err != nil {
			oneLine(t, err)
			return
		}
		sound(t, r, Quantity(q))
		if r.Missing {
			t.Fatalf("%q is missing", text)
		}
	})
}

func FuzzParseBatch(f *testing.F) {
	for i, s := range fuzzSeeds {
		f.Add(s, uint8(i%6), "yc rc")
	}
	f.Fuzz(func(t *testing.T, text string, q uint8, asked string) {
		names := strings.Fields(asked)
		got, err := ParseBatch(text, Quantity(q), names)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without a word")
			}
			return
		}
		if len(got) == 0 || len(got) > len(names) {
			t.Fatalf("%q: %d readings for %q", text, len(got), names)
		}
		for _, r := range got {
			sound(t, r, Quantity(q))
		}
	})
}

func oneLine(t *testing.T, err error) {
	t.Helper()
	if s := err.Error(); s == "" || strings.ContainsFunc(s, func(c rune) bool { return !unicode.IsPrint(c) }) {
		t.Fatalf("not one clean line: %q", s)
	}
}

func sound(t *testing.T, r Reading, q Quantity) {
	t.Helper()
	if err := r.Check(q); err != nil {
		t.Fatal(err)
	}
	if (r.OL || r.Missing) && r.Value != 0 || r.Value == 0 && math.Signbit(r.Value) {
		t.Fatalf("unclean %+v", r)
	}
}
