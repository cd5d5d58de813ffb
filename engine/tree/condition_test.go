package tree

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// formula is a condition in this test's own terms: its text, and its value
// worked out here without the library.
type formula struct {
	text  string
	value func(rc, rw float64, display string) bool
}

var constants = map[string]float64{"control_min": 20.4, "control_max": 30, "0": 0, "20": 20, "24.5": 24.5, ".5": 0.5, "-3": -3, "-control_min": -20.4}

func constantNames() []string {
	return []string{"control_min", "control_max", "0", "20", "24.5", ".5", "-3", "-control_min"}
}

func compare(op string, a, b float64) bool {
	switch op {
	case "<":
		return a < b
	case "<=":
		return a <= b
	case ">":
		return a > b
	case ">=":
		return a >= b
	case "==":
		return a == b
	}
	return a != b
}

func atom() *rapid.Generator[formula] {
	return rapid.Custom(func(t *rapid.T) formula {
		op := rapid.SampledFrom([]string{"<", "<=", ">", ">=", "==", "!="}).Draw(t, "op")
		c := rapid.SampledFrom(constantNames()).Draw(t, "constant")
		name := rapid.SampledFrom([]string{"rc", "r_w"}).Draw(t, "name")
		of := func(rc, rw float64) float64 {
			if name == "rc" {
				return rc
			}
			return rw
		}
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			return formula{c + " " + op + " " + name, func(rc, rw float64, _ string) bool { return compare(op, constants[c], of(rc, rw)) }}
		case 1:
			hi := rapid.SampledFrom(constantNames()).Draw(t, "high")
			return formula{fmt.Sprintf("%s <= %s < %s", c, name, hi), func(rc, rw float64, _ string) bool {
				return constants[c] <= of(rc, rw) && of(rc, rw) < constants[hi]
			}}
		case 2:
			id := rapid.SampledFrom([]string{"lit", "blank", "waiting"}).Draw(t, "answer")
			word := rapid.SampledFrom([]string{"display", "seen"}).Draw(t, "word")
			if op != "!=" {
				op = "=="
			}
			return formula{fmt.Sprintf("%s %s %q", word, op, id), func(_, _ float64, display string) bool { return (display == id) == (op == "==") }}
		}
		return formula{name + " " + op + " " + c, func(rc, rw float64, _ string) bool { return compare(op, of(rc, rw), constants[c]) }}
	})
}

func formulas(depth int) *rapid.Generator[formula] {
	return rapid.Custom(func(t *rapid.T) formula {
		if depth == 0 {
			return atom().Draw(t, "atom")
		}
		a := formulas(depth-1).Draw(t, "left")
		switch rapid.IntRange(0, 5).Draw(t, "form") {
		case 0:
			return a
		case 1:
			return formula{"not (" + a.text + ")", func(x, y float64, d string) bool { return !a.value(x, y, d) }}
		case 2:
			b := formulas(depth-1).Draw(t, "right")
			return formula{"(" + a.text + ") or " + b.text, func(x, y float64, d string) bool { return a.value(x, y, d) || b.value(x, y, d) }}
		}
		b := formulas(depth-1).Draw(t, "right")
		return formula{"(" + a.text + ") && (" + b.text + ")", func(x, y float64, d string) bool { return a.value(x, y, d) && b.value(x, y, d) }}
	})
}

// TestConditionProperty: what is compiled, and what the table says, is what
// the text means, for every number near or on a constant and every answer.
func TestConditionProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := formulas(3).Draw(t, "formula")
		lib, problems := condition("'" + f.text + "'")
		if len(f.text) > conditionBytesMax {
			t.Skip("longer than a condition may be")
		}
		if err := problems.Err(); err != nil {
			t.Fatalf("%s\n%v", f.text, err)
		}
		board, seen := lib.Trees[house.DarkDisplay].Steps[1], lib.Trees[house.DarkDisplay].First
		e := board.Tree.NewEnv()
		near := rapid.Custom(func(t *rapid.T) float64 {
			x := math.Abs(constants[rapid.SampledFrom(constantNames()).Draw(t, "near")])
			return math.Max(0, x+rapid.SampledFrom([]float64{-1, -1e-9, 0, 1e-9, 1}).Draw(t, "by"))
		})
		for range 10 {
			rc, rw := near.Draw(t, "rc"), near.Draw(t, "rw")
			answer := rapid.SampledFrom(house.Display.Answers()).Draw(t, "display")
			if rapid.Bool().Draw(t, "reset") {
				e.Reset()
			}
			if e.Read(board, "rc", quantity.Of(rc)) != nil || e.Read(board, "r-w", quantity.Of(rw)) != nil || e.See(seen, answer) != nil {
				t.Fatal("refused")
			}
			want := f.value(rc, rw, house.Display.AnswerID(answer))
			if got, err := board.Branches[0].When.Holds(e); err != nil || got != want {
				t.Fatalf("%s: rc %v, r_w %v, %v: %v (%v), want %v", f.text, rc, rw, answer, got, err, want)
			}
			if _, _, err := board.Decide(e); (err == nil) != want {
				t.Fatalf("%s: rc %v, r_w %v, %v: decided %v, want %v", f.text, rc, rw, answer, err, want)
			}
		}
	})
}

// TestCarets: the caret stands under the word in every way to write a one-line
// condition.
func TestCarets(t *testing.T) {
	for _, c := range []struct{ when, word string }{
		{"rb < control_min", "rb"},
		{"'rb < control_min'", "rb"},
		{`"rb < control_min"`, "rb"},
		{`'display == "lit" and rb < control_min'`, "rb"},
		{`'display == ''lit'' and rb < control_min'`, "rb"},
		{"'(rc < control_min)   and   (rb < control_min)'", "rb"},
		{`'display == "litt"'`, `"litt"`},
		{"|\n          rc < control_min and rb < 3", "rb"},
		{"'rc < control_min and rc < coil_min'", "coil_min"},
		{"'rc < control_min and rc ? true : false'", "?"},
	} {
		_, problems := condition(c.when)
		if len(problems) != 1 {
			t.Errorf("%s: %d problems\n%v", c.when, len(problems), problems)
			continue
		}
		p := problems[0]
		line := []rune(p.Line)
		if p.Pos.Col < 1 || p.Pos.Col-1+p.Width > len(line) || string(line[p.Pos.Col-1:p.Pos.Col-1+p.Width]) != c.word {
			t.Errorf("%s: the caret is not under %s\n%s", c.when, c.word, p.Render())
		}
	}
}

// TestReadOnEveryPath: a number is there only where its probe gave one, and a
// look that two steps make goes by their names alone.
func TestReadOnEveryPath(t *testing.T) {
	const text = `tree: dark-display
title: Dark
complaints: [dark]
symptom: {look: display, shows: [blank]}
fits: [cool-gas, cool-electric, heat-only]
first: coil
steps:
  coil:
    ohms: {w-c: W-C}
    at: indoor
    why: For a test.
    branches:
      - {when: w_c < coil_min, then: step fan}
      - {when: w_c >= coil_min, then: step fan}
    ol: OL
    unable: UNABLE
  fan:
    look: indoor-fan
    why: For a test.
    branches: {running: step fan-again, stopped: step fan-again}
    unable: finding undecided
  fan-again:
    look: AGAIN
    setup: {mode: heat}
    why: For a test.
    branches: BRANCHES
    unable: finding undecided
  board:
    volts: {rc: R-C}
    at: indoor
    why: For a test.
    branches:
      - {when: WHEN, then: finding undecided}
    unable: finding undecided
`
	fan, display := "{running: step board, stopped: step board}", "{lit: step board, blank: step board, low-battery: step board, waiting: step board}"
	for _, c := range []struct{ ol, unable, again, branches, when, code string }{
		{"finding undecided", "finding undecided", "indoor-fan", fan, "w_c < coil_min", ""},
		{"step fan", "finding undecided", "indoor-fan", fan, "w_c < coil_min", CodeNotRead},
		{"finding undecided", "step fan", "indoor-fan", fan, "w_c < coil_min", CodeNotRead},
		{"finding undecided", "finding undecided", "indoor-fan", fan, `fan == "running" and fan_again == "stopped"`, ""},
		{"finding undecided", "finding undecided", "indoor-fan", fan, `indoor_fan == "running"`, CodeUnknown},
		{"finding undecided", "finding undecided", "display", display, `indoor_fan == "running" and display == "lit"`, ""},
	} {
		tree := strings.NewReplacer("OL", c.ol, "UNABLE", c.unable, "AGAIN", c.again, "BRANCHES", c.branches, "WHEN", "'"+c.when+"'").Replace(text)
		_, problems := Load(os.DirFS("testdata/base"), with("dark-display.yaml", tree))
		if (c.code == "") != (len(problems) == 0) || len(problems) > 0 && problems[0].Code != c.code {
			t.Errorf("%+v: %v", c, problems)
		}
	}
}

// TestTableAndPrograms: a step with too many cells for a table decides the
// same by its programs.
func TestTableAndPrograms(t *testing.T) {
	var parts []string
	for i := range 80 {
		parts = append(parts, fmt.Sprintf("rc==%d", i))
	}
	lib, problems := condition("'" + strings.Join(parts, " or ") + " or r_w>1'")
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	s := lib.Trees[house.DarkDisplay].Steps[1]
	e := s.Tree.NewEnv()
	for rc := range 90 {
		if e.Read(s, "rc", quantity.Of(float64(rc))) != nil || e.Read(s, "r-w", quantity.Of(0)) != nil {
			t.Fatal("refused")
		}
		if _, _, err := s.Decide(e); (err == nil) != (rc < 80) {
			t.Errorf("rc %d: %v", rc, err)
		}
	}
	if s.table == nil {
		t.Error("a table this size is made")
	}
	parts = nil
	for i := range 60 {
		parts = append(parts, fmt.Sprintf("rc==%d or r_w==%d", i, i))
	}
	if lib, problems = condition("'" + strings.Join(parts, " or ") + "'"); len(problems) > 0 {
		t.Skip("longer than a condition may be")
	}
	s = lib.Trees[house.DarkDisplay].Steps[1]
	if s.tabulate() != nil {
		t.Error("a table over the bound is made")
	}
}

// FuzzCondition: no text makes the compiler panic or hang, and what compiles
// runs to a plain true or false on every cell.
func FuzzCondition(f *testing.F) {
	for _, seed := range []string{"rc < control_min", "20 <= rc <= 30", "not (rc < 20) and display == \"lit\"", "$env", "let a = 1; a > 0",
		"rc ? true : false", "rc in [1]", "1..1e9", "\"\\u{1F600}\" == display", "rc < 1e400", "-9223372036854775808 < rc", "rc < .", "((", "`lit` == seen",
		"/* */ rc", "rc?.x", "not not not (rc<1)", "true", "rc == -0", "é < 1", "rc <\x00 1", "if true {rc<1} else {rc>1}", "0b1 < rc", "rc\t<\t20"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		lib, problems := condition("'" + strings.ReplaceAll(text, "'", "''") + "'")
		_ = problems.Error()
		if lib == nil {
			return
		}
		s := lib.Trees[house.DarkDisplay].Steps[1]
		for _, b := range s.Branches {
			e := s.Tree.NewEnv()
			for _, a := range s.Axes() {
				e.put(a, 0)
			}
			if _, err := b.When.Holds(e); err != nil {
				t.Errorf("%q: %v", text, err)
			}
		}
	})
}

// FuzzLoad: no tree file makes the loader panic or hang.
func FuzzLoad(f *testing.F) {
	for _, name := range []string{"no-cooling.yaml", "dark-display.yaml", "no-control-power.yaml", "findings.yaml", "limits.yaml"} {
		data, err := os.ReadFile("testdata/base/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(name, data)
	}
	for _, bad := range fixtures(f) {
		f.Add(bad.as, bad.data)
	}
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		if strings.ContainsAny(name, "/\x00") || !strings.HasSuffix(name, ".yaml") {
			return
		}
		lib, problems := Load(os.DirFS("testdata/base"), with(name, string(data)))
		if (lib == nil) != (len(problems) > 0) {
			t.Errorf("library %v with %d problems", lib != nil, len(problems))
		}
		_ = problems.Error()
		if lib == nil {
			return
		}
		for _, tr := range lib.InOrder() {
			tr.Graph()
			for _, s := range tr.Steps {
				lib.Reachable(s)
				s.Resolve(house.DefaultSetup())
				s.Axes()
				if s.Kind == MeasureStep {
					s.tabulate()
				}
			}
		}
	})
}
