package source

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestFields(t *testing.T) {
	const in = `title: A house
tilte: B
count: 24.5
oct: 010
hex: 0x10
under: 1_000
inf: .inf
quoted: "24"
flag: yes
list: word
word: outdor
none:
blank: '  '
kinds: {a: 1}
`
	r := NewReporter()
	f := Parse("f.yaml", []byte(in), r).Fields(r, "title", "count", "oct", "hex", "under", "inf", "quoted", "flag", "list", "word", "none", "blank", "kinds", "first")
	f.Need("first").String(r) // missing: one problem, not two
	if got := f.Need("title").String(r); got != "A house" {
		t.Errorf("title %q", got)
	}
	f.Get("count").Int(r)
	f.Get("oct").Int(r)
	f.Get("hex").Int(r)
	f.Get("under").Float(r)
	f.Get("inf").Float(r)
	f.Get("quoted").Float(r)
	f.Get("flag").Bool(r)
	f.Get("list").Strings(r)
	f.Get("word").OneOf(r, "place", "indoor", "outdoor")
	f.Get("none").String(r)
	f.Get("blank").String(r)
	f.Get("kinds").String(r)
	f.Get("absent").String(r) // optional and left out: silent
	var got []string
	for _, p := range r.Problems() {
		got = append(got, fmt.Sprintf("%d:%d %s | %s | %s", p.Pos.Line, p.Pos.Col, p.Message, p.Code, p.Hint))
	}
	want := []string{
		`1:1 key "first" is missing | missing-key | add first: ...`,
		`2:1 unknown key "tilte" | unknown-key | did you mean title?`,
		`3:8 "24.5" is no whole number | not-an-integer | write it as 24`,
		`4:6 "010" is no whole number | not-an-integer | write it as 24`,
		`5:6 "0x10" is no whole number | not-an-integer | write it as 24`,
		`6:8 "1_000" is no number | not-a-number | write it as 24 or 24.5`,
		`7:6 ".inf" is no number | not-a-number | write it as 24 or 24.5`,
		`8:9 "24" is no number | not-a-number | write it without quotes`,
		`9:7 "yes" is neither true nor false | not-true-or-false | write true or false`,
		`10:7 a value is given where a list is wanted | wrong-kind | write [word]`,
		`11:7 unknown place "outdor" | unknown-word | did you mean outdoor?`,
		`12:6 nothing is given where a value is wanted | empty-value | `,
		`13:8 text is wanted and this is empty | empty-value | `,
		`14:8 a map is given where a value is wanted | wrong-kind | `,
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func TestClosedWords(t *testing.T) {
	r := NewReporter()
	v := Parse("f.yaml", []byte("at: [indoor, garage, {a: 1}]\nlist: [x, '']\n"), r)
	f := v.Fields(r, "at", "list", "more")
	if !f.Has("at") || f.Has("more") {
		t.Error("Has")
	}
	items := f.Need("at").Items(r)
	if w, ok := items[0].OneOf(r, "place", "indoor", "outdoor"); w != "indoor" || !ok {
		t.Error(w, ok)
	}
	items[1].OneOf(r, "place", "indoor", "outdoor")
	items[1].OneOf(r, "place", strings.Fields("a1 b2 c3 d4 e5 f6 g7 h8 i9 j0 k1 l2 m3")...)
	items[2].OneOf(r, "place", "indoor")
	f.Need("list").Strings(r)
	f.Need("list").Entries(r)
	want := `f.yaml:1:14: unknown place "garage" (unknown-word)
    at: [indoor, garage, {a: 1}]
                 ^^^^^^
    hint: one of indoor, outdoor
f.yaml:1:22: a map is given where a value is wanted (wrong-kind)
    at: [indoor, garage, {a: 1}]
                         ^
f.yaml:2:7: a list is given where a map is wanted (wrong-kind)
    list: [x, '']
          ^
f.yaml:2:11: text is wanted and this is empty (empty-value)
    list: [x, '']
              ^^`
	if diff := cmp.Diff(want, r.Err().Error()); diff != "" {
		t.Error(diff)
	}
}

func TestNumbers(t *testing.T) {
	for text, want := range map[string]float64{"0": 0, "-1.5": -1.5, "24": 24, ".5": 0.5, "1e-3": 1e-3, "0.05": 0.05, "+2": 2} {
		r := NewReporter()
		if got := Parse("f", []byte("a: "+text), r).Fields(r, "a").Need("a").Float(r); got != want || r.Err() != nil {
			t.Errorf("%s: %v %v", text, got, r.Err())
		}
	}
	for _, text := range []string{"00", "1e400", "--1", "1,5", "0b1", "0o7", "1:30", "nan", "-010", "e5", "."} {
		r := NewReporter()
		Parse("f", []byte("a: "+text), r).Fields(r, "a").Need("a").Float(r)
		if r.Err() == nil {
			t.Errorf("%s was read as a number", text)
		}
	}
	r := NewReporter()
	f := Parse("f", []byte("a: -3\nb: true\nc: [x, 'y', 2]"), r).Fields(r, "a", "b", "c")
	if f.Need("a").Int(r) != -3 || !f.Need("b").Bool(r) || cmp.Diff([]string{"x", "y", "2"}, f.Need("c").Strings(r)) != "" || r.Err() != nil {
		t.Error(r.Err())
	}
}

func TestAt(t *testing.T) {
	const in = "plain: rc < 20 and é # note\n" +
		"single: 'it''s < 3'\n" +
		"double: \"yc > 1\"\n" +
		"escaped: \"a\\x41b\"\n" +
		"folded: >\n  one\n  two\n" +
		"wrapped: one\n  two\n" +
		"block: |\n    rc < 1\n\n      yc\n" +
		"flow: {when: rc >= 2, then: x}\n"
	r := NewReporter()
	v := Parse("f.yaml", []byte(in), r)
	at := map[string]*Value{}
	for _, e := range v.Entries(r) {
		at[e.Key.Text] = e.Value
	}
	at["flow"] = at["flow"].Fields(r, "when", "then").Need("when")
	for _, c := range []struct {
		key, word string
		want      string // "" where it cannot be placed
	}{
		{"plain", "20", "f.yaml:1:13"},
		{"plain", "é", "f.yaml:1:20"},
		{"single", "<", "f.yaml:2:16"},
		{"double", "1", "f.yaml:3:15"},
		{"escaped", "b", ""},
		{"folded", "two", ""},
		{"wrapped", "two", ""},
		{"block", "rc", "f.yaml:11:5"},
		{"block", "1", "f.yaml:11:10"},
		{"block", "yc", "f.yaml:13:7"},
		{"flow", "2", "f.yaml:14:20"},
	} {
		val := at[c.key]
		before, _, _ := strings.Cut(val.Text, c.word)
		pos, ok := val.At(runeLen(before))
		if ok != (c.want != "") || ok && pos.String() != c.want {
			t.Errorf("%s %q: %s %v, want %q", c.key, c.word, pos, ok, c.want)
		}
	}
	if _, ok := at["plain"].At(99); ok {
		t.Error("an offset past the end was placed")
	}
	at["single"].ReportAt(r, 5, 1, "x", "", "m")
	if got := r.Problems()[0].Pos.String(); got != "f.yaml:2:16" {
		t.Error(got)
	}
}

func TestRender(t *testing.T) {
	r := NewReporter()
	r.AddFile("b.yaml", []byte("x\n\ta: 日本 bad\n"))
	r.AddFile("a.yaml", []byte("first\n"+strings.Repeat("x", 150)+"HERE"+strings.Repeat("y", 150)))
	r.AddSpan(Pos{"b.yaml", 2, 8}, 3, "two", "mend it", "is %q", "\x1b[1m")
	r.Add(Pos{"a.yaml", 1, 6}, "end", "", "past the end")
	r.Add(Pos{"a.yaml", 1, 6}, "end", "", "past the end")
	r.AddSpan(Pos{"a.yaml", 2, 151}, 4, "long", "", "far out")
	r.Add(Pos{File: "c.yaml"}, "file", "", "no place")
	want := "a.yaml:1:6: past the end (end)\n    first\n         ^\n" +
		"a.yaml:2:151: far out (long)\n    ..." + strings.Repeat("x", 50) + "HERE" + strings.Repeat("y", 46) + "...\n    " +
		strings.Repeat(" ", 53) + "^^^^\n" +
		"b.yaml:2:8: is \"\\x1b[1m\" (two)\n    \ta: 日本 bad\n    \t        ^^^\n    hint: mend it\n" +
		"c.yaml: no place (file)"
	if diff := cmp.Diff(want, r.Err().Error()); diff != "" {
		t.Error(diff)
	}
	r.Limit(1)
	if got := r.Err().Error(); !strings.HasSuffix(got, "^\nand 3 more") {
		t.Error(got)
	}
	var ps Problems
	if !errors.As(r.Err(), &ps) || len(ps) != 4 {
		t.Error("the problems are lost in the error")
	}
	if NewReporter().Err() != nil || (Problems)(nil).Err() != nil {
		t.Error("no problem is an error")
	}
}

func TestNearest(t *testing.T) {
	words := []string{"indoor", "outdoor", "thermostat", "volts", "ohms"}
	for word, want := range map[string]string{
		"outdor": "outdoor", "Indoor": "indoor", "otudoor": "outdoor", "vlots": "volts", "thermostst": "thermostat",
		"volt": "volts", "garage": "", "": "", "o": "", "oms": "ohms",
	} {
		if got, _ := Nearest(word, words); got != want {
			t.Errorf("%q: %q, want %q", word, got, want)
		}
	}
}

// The bounded distance agrees with the textbook recurrence, and one edit is
// never further than one.
func TestNearestProperties(t *testing.T) {
	word := rapid.StringMatching(`[a-d]{0,7}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := []rune(word.Draw(t, "a")), []rune(word.Draw(t, "b"))
		full := distance(a, b, 100)
		if full != distance(b, a, 100) {
			t.Fatal("not symmetric")
		}
		if got := distance(a, b, 3); got != min(full, 3) {
			t.Fatalf("bounded %d, full %d", got, full)
		}
		if (full == 0) != (string(a) == string(b)) {
			t.Fatal("zero only for equal words")
		}
		if len(a) > 1 {
			i := rapid.IntRange(0, len(a)-2).Draw(t, "i")
			swapped := append([]rune(nil), a...)
			swapped[i], swapped[i+1] = swapped[i+1], swapped[i]
			if distance(a, swapped, 100) > 1 {
				t.Fatal("a swap of neighbours is one edit")
			}
		}
	})
}

func TestClean(t *testing.T) {
	for in, want := range map[string]string{
		"plain é 日本 Ω":        "plain é 日本 Ω",
		"\x1b[31mred\x1b[0m":  `\x1b[31mred\x1b[0m`,
		"bell\a nul\x00 del":  `bell\x07 nul\x00 del`,
		"\x7f":                `\x7f`,
		"\u009b31m":           `\u009b31m`,
		"a\u202eb\u2066c":     `a\u202eb\u2066c`,
		"tab\there":           "tab here",
		"two\nlines\r":        `two\nlines\x0d`,
		"bad\xffbyte":         `bad\xffbyte`,
		"zero\u200bwidth":     `zero\u200bwidth`,
		"line\u2028separator": `line\u2028separator`,
		"tag\U000e0041":       `tag\U000e0041`,
	} {
		if got := Clean(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	if got := CleanText("a\nb\x1b"); got != "a\nb\\x1b" {
		t.Errorf("%q", got)
	}
}

func TestCleanProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := string(rapid.SliceOf(rapid.Byte()).Draw(t, "bytes")) + rapid.String().Draw(t, "text")
		once := Clean(s)
		if strings.ContainsFunc(once, unsafeRune) || strings.ToValidUTF8(once, "") != once {
			t.Fatalf("unsafe: %q", once)
		}
		if Clean(once) != once {
			t.Fatalf("not idempotent: %q", once)
		}
	})
}

// A generated document comes back as it was written, with each scalar where it
// stands.
func TestParseRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		keys := rapid.SliceOfNDistinct(rapid.StringMatching(`[a-z][a-z-]{0,8}`), 1, 8, rapid.ID[string]).Draw(t, "keys")
		var b strings.Builder
		want := map[string]string{}
		for _, k := range keys {
			want[k] = rapid.StringMatching(`[a-zé' ]{1,12}`).Draw(t, "text")
			fmt.Fprintf(&b, "%s: '%s'\n", k, strings.ReplaceAll(want[k], "'", "''"))
		}
		r := NewReporter()
		v := Parse("f.yaml", []byte(b.String()), r)
		if r.Err() != nil {
			t.Fatal(r.Err())
		}
		for i, e := range v.Entries(r) {
			if e.Key.Text != keys[i] || e.Value.Text != want[keys[i]] {
				t.Fatalf("%q: %q, want %q: %q", e.Key.Text, e.Value.Text, keys[i], want[keys[i]])
			}
			pos, ok := e.Value.At(0)
			if !ok || pos != (Pos{"f.yaml", i + 1, runeLen(keys[i]) + 4}) {
				t.Fatalf("%s %v", pos, ok)
			}
		}
	})
}
