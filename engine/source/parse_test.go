package source

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The whole text of the error is the contract: place, message, code, source
// line, caret, hint, and every problem of the file at once.
func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"anchor and alias", "a: &x 1\nb: *x\n", `
f.yaml:1:4: anchors are not read (anchor)
    a: &x 1
       ^
    hint: remove it
f.yaml:2:4: aliases are not read (alias)
    b: *x
       ^
    hint: write the value out`},
		{"alias to nothing", "a: 1\nb: [*who]\n", `
f.yaml:2:5: aliases are not read, and text starting with * is one (alias)
    b: [*who]
        ^
    hint: write the value out, or put the text in quotes`},
		{"tags: a condition that starts with !", "when: !ok\nb: ! foo\nc: !!str 5\n", `
f.yaml:1:7: tags are not read, and text starting with ! is one (tag)
    when: !ok
          ^
    hint: put the text in quotes
f.yaml:2:4: tags are not read, and text starting with ! is one (tag)
    b: ! foo
       ^
    hint: put the text in quotes
f.yaml:3:4: tags are not read, and text starting with ! is one (tag)
    c: !!str 5
       ^
    hint: put the text in quotes`},
		{"duplicate keys, one of them deep", "aa: 1\nb: {c: 1, 'c': 2}\naa: 2\n", `
f.yaml:2:11: key "c" is already given on line 2 (duplicate-key)
    b: {c: 1, 'c': 2}
              ^^^
f.yaml:3:1: key "aa" is already given on line 1 (duplicate-key)
    aa: 2
    ^^`},
		{"merge key", "<<: {a: 1}\n", `
f.yaml:1:1: merge keys are not read (merge-key)
    <<: {a: 1}
    ^^
    hint: write the keys out`},
		{"key that is a list", "? [a, b]\n: 2\n", `
f.yaml:1:3: a key is one word, not a list (bad-key)
    ? [a, b]
      ^`},
		{"second document", "a: 1\n---\nb: 2\n", `
f.yaml:2:1: a second document starts here (second-document)
    ---
    ^
    hint: keep one document in a file`},
		{"text after the end", "a: 1\n...\nb: 2\n", `
f.yaml:3:1: text after the end of the document (yaml-syntax)
    b: 2
    ^
    hint: keep one document in a file, and check the brackets`},
		{"empty", "# nothing but this\n", `
f.yaml:1:1: the file is empty (file-empty)
    # nothing but this
    ^`},
		{"indent that fits nothing", "steps:\n  one:\n    a: 1\n   b: 2\n", `
f.yaml:4:4: this line does not fit the ones above it (yaml-syntax)
       b: 2
       ^
    hint: check its indent and that brackets and quotes above are closed`},
		{"list left open far below the map's start", "steps:\n  x:\n    a: 1\n    b: [1, 2\n  y:\n    c: 3\n", `
f.yaml:4:5: a [ list is not closed (yaml-syntax)
        b: [1, 2
        ^
    hint: close it with ]`},
		{"list over several lines is not the culprit", "a: [1,\n  2,\n  3]\nb: c: d\n", `
f.yaml:4:1: a key is not expected here (yaml-syntax)
    b: c: d
    ^
    hint: put text that holds a colon and a space in quotes, or check the indent`},
		{"quote left open", "a: 1\nb: 'x\nc: 3\n", `
f.yaml:2:1: a quote is not closed (yaml-syntax)
    b: 'x
    ^
    hint: close it on the same line`},
		{"tab in the indent", "a:\n\tb: 1\n", "\n" + `f.yaml:2:1: a tab in the indent (yaml-syntax)` + "\n    \tb: 1\n    ^\n    hint: indent with spaces"},
		{"character that starts nothing", "a: 1\nkéy: [1, @x]\n", `
f.yaml:2:10: text cannot start with this character (yaml-syntax)
    kéy: [1, @x]
             ^
    hint: put the text in quotes`},
		{"escape sequence", "a: \x1b[31m\nb: \"x\u202ey\"\nc: \x00\n", `
f.yaml:1:4: control character U+001B (control-character)
    a: ?[31m
       ^
    hint: remove the character
f.yaml:2:6: control character U+202E (control-character)
    b: "x?y"
         ^
    hint: remove the character
f.yaml:3:4: control character U+0000 (control-character)
    c: ?
       ^
    hint: remove the character`},
		{"bare carriage return", "a: 1\rb: 2\n", `
f.yaml:1:5: control character U+000D (control-character)
    a: 1?b: 2
        ^
    hint: remove the character`},
		{"not UTF-8", "a: \xff\n", `
f.yaml:1:4: byte 0xff is not UTF-8 (not-utf8)
    a: ?
       ^
    hint: save the file as UTF-8`},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := NewReporter()
			Parse("f.yaml", []byte(c.in), r)
			if r.Err() == nil {
				t.Fatal("accepted")
			}
			if diff := cmp.Diff(strings.TrimPrefix(c.want, "\n"), r.Err().Error()); diff != "" {
				t.Error(diff)
			}
		})
	}
}

func TestParseLimits(t *testing.T) {
	for _, c := range []struct{ name, in, code string }{
		{"over 1 MiB", "a: 1\n" + strings.Repeat("#\n", SizeMax/2), CodeTooBig},
		{"long line", "a: " + strings.Repeat("x", LineMax), CodeLongLine},
		{"deep flow", strings.Repeat("[", depthMax+2) + strings.Repeat("]", depthMax+2), CodeTooDeep},
		{"deep block", nested(depthMax + 2), CodeTooDeep},
	} {
		r := NewReporter()
		if v := Parse("f.yaml", []byte(c.in), r); len(r.Problems()) != 1 || r.Problems()[0].Code != c.code {
			t.Errorf("%s: %v, want one %s", c.name, r.Problems(), c.code)
		} else if c.code != CodeLongLine && v != nil {
			t.Errorf("%s: a value came back", c.name)
		}
	}
	for _, in := range []string{"a: " + strings.Repeat("x", LineMax-3), nested(depthMax - 1), "\ufeffa: 1\r\nb: 2\r\n", "---\na: 1\n...\n"} {
		r := NewReporter()
		if Parse("f.yaml", []byte(in), r) == nil || r.Err() != nil {
			t.Errorf("%.20q: %v", in, r.Err())
		}
	}
}

func nested(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat(" ", i) + "a:\n")
	}
	return b.String()
}

// Inputs made to be slow: each must come back. With -short they are an eighth
// as long, since the race detector slows them most.
func TestParseHostile(t *testing.T) {
	mb := SizeMax
	if testing.Short() {
		mb /= 8
	}
	line := func(s string) string { return strings.Repeat(s, LineMax/len(s)-1) + "\n" }
	var laughs strings.Builder
	laughs.WriteString("a0: &a0 [x]\n")
	for i := 1; i < 30; i++ {
		fmt.Fprintf(&laughs, "a%d: &a%d [*a%d, *a%d, *a%d]\n", i, i, i-1, i-1, i-1)
	}
	for name, in := range map[string]string{
		"[":                 strings.Repeat("[\n", mb/2),
		"{a: ":              strings.Repeat("{a: \n", mb/5),
		"? ":                strings.Repeat(line("? "), mb/LineMax),
		"- - -":             strings.Repeat(line("- "), mb/LineMax),
		"comments":          strings.Repeat("- #\n", mb/4),
		"duplicates":        "{" + strings.Repeat(strings.TrimSuffix(line("a: 1, "), "\n")+"\n", mb/LineMax) + "}",
		"wide list":         "[" + strings.Repeat(line("a,"), mb/LineMax-1) + "]",
		"tags":              strings.Repeat("!a ", 500),
		"open quote":        "a: \"" + strings.Repeat("\n", mb-10),
		"open quote, small": "a: \"" + strings.Repeat("\n", searchBytesMax-10),
		"anchors":           laughs.String(),
		"controls":          strings.Repeat("\x00", mb),
	} {
		t.Run(name, func(t *testing.T) {
			r := NewReporter()
			Parse("f.yaml", []byte(in), r)
			r.Limit(10)
			if err := r.Err(); (name != "comments" && name != "wide list") != (err != nil) {
				t.Fatal(err)
			}
		})
	}
}

// Words other readers take for booleans are text here.
func TestParseWordsStayText(t *testing.T) {
	r := NewReporter()
	v := Parse("f.yaml", []byte("Y: on\nN: off\nyes: no\ny: 'Y'\n"), r)
	want := []string{"Y=on", "N=off", "yes=no", "y=Y"}
	var got []string
	for _, e := range v.Entries(r) {
		got = append(got, e.Key.String(r)+"="+e.Value.String(r))
	}
	if diff := cmp.Diff(want, got); diff != "" || r.Err() != nil {
		t.Error(diff, r.Err())
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"a: 1\n", "a: &x 1\nb: *x\n", "when: !ok\n", "<<: {a: 1}\n", "a: |\n  x\n\n  y\n", "a: >\n  x\n  y\n",
		"a: 'it''s'\n", "a: \"\\u0041\"\n", "a: [1, {b: c}]\n", "---\na\n---\nb\n", "? [a]\n: b\n", "a:\n\tb", "é: 日本\n", "{a, b: }\n", "- #\n-\n",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r := NewReporter()
		v := Parse("f.yaml", data, r)
		if v == nil && r.Err() == nil {
			t.Fatal("nothing read and nothing said")
		}
		text := r.Problems().Render(0)
		if CleanText(text) != strings.ReplaceAll(text, "\t", " ") {
			t.Fatalf("raw control characters in %q", text)
		}
		for _, p := range r.Problems() {
			if p.Pos.File != "f.yaml" || p.Code == "" || p.Message == "" {
				t.Fatalf("incomplete problem %+v", p)
			}
		}
		visit(v, func(v *Value) { checkAt(t, v) })
	})
}

func visit(v *Value, f func(*Value)) {
	if v == nil {
		return
	}
	f(v)
	for _, e := range v.entries {
		visit(e.Key, f)
		visit(e.Value, f)
	}
	for _, it := range v.items {
		visit(it, f)
	}
}

// checkAt: where At answers, the rune of the source there is the rune of the
// text.
func checkAt(t *testing.T, v *Value) {
	for i, c := range []rune(v.Text) {
		pos, ok := v.At(i)
		if !ok || c == '\n' {
			continue
		}
		line := []rune(v.lines[pos.Line-1])
		if pos.Col > len(line) || line[pos.Col-1] != c {
			t.Fatalf("%q: rune %d (%q) said to be at %s", v.Text, i, c, pos)
		}
	}
	v.Width()
}
