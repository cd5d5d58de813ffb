package prove

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/parser"
	"pgregory.net/rapid"

	"stepdown/engine/house"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// stepOf is a tree of one measuring step after a look, with these conditions.
func stepOf(t testing.TB, pairs string, whens ...string) *tree.Step {
	t.Helper()
	var b strings.Builder
	b.WriteString(`tree: no-cooling
title: Made up for a test
complaints: [a test]
symptom: {look: air, shows: [room]}
fits: [cool-gas]
first: display
steps:
  display:
    look: display
    why: A test.
    branches: {blank: step board, lit: step board, low-battery: step board, waiting: step board}
    unable: finding undecided
  board:
`)
	fmt.Fprintf(&b, "    volts: {%s}\n    at: indoor\n    why: A test.\n    branches:\n", pairs)
	for _, w := range whens {
		fmt.Fprintf(&b, "      - {when: '%s', then: finding undecided, because: a test}\n", w)
	}
	b.WriteString("    unable: finding undecided\n")
	fsys := synthetic()
	fsys["no-cooling.yaml"] = &fstest.MapFile{Data: []byte(b.String())}
	lib, problems := tree.Load(fsys)
	if err := problems.Err(); err != nil {
		t.Fatalf("%v\n%s", err, b.String())
	}
	return lib.Trees[house.NoCooling].Steps[1]
}

func codesOf(ps source.Problems) string {
	seen := map[string]bool{}
	var out []string
	for _, p := range ps {
		if !seen[p.Code] {
			seen[p.Code] = true
			out = append(out, p.Code)
		}
	}
	return strings.Join(out, " ")
}

func judged(s *tree.Step) source.Problems {
	r := source.NewReporter()
	newGrid(s, s.Tree.NewEnv()).prove(r)
	return r.Problems()
}

func TestBranches(t *testing.T) {
	for _, c := range []struct {
		whens []string
		want  string
		words string
	}{
		{[]string{"a < 20", "a >= 20"}, "", ""},
		{[]string{"a < 20", "a > 20"}, "branch-gap", "a 20 V"},
		{[]string{"a <= 20", "a >= 20"}, "branch-overlap", "a 20 V"},
		{[]string{"a < 20", "20 <= a <= 30", "a > 30"}, "", ""},
		{[]string{"a < 20", "20 < a <= 30", "a >= 30"}, "branch-gap branch-overlap", ""},
		{[]string{"a < 20 and b < 5", "a >= 20 and b >= 5"}, "branch-gap", "a 0 V, b 5 V"},
		{[]string{"a < 20 or b < 5", "not (a < 20 or b < 5)"}, "", ""},
		{[]string{"a < 0", "a >= 0"}, "branch-never", "a < 0"},
		{[]string{"a <= 1000", "a > 1000"}, "branch-never", "a > 1000"},
		{[]string{"display == \"lit\" and a < 20", "display == \"lit\" and a >= 20", "display != \"lit\""}, "", ""},
		{[]string{"display == \"lit\" and a < 20", "display != \"lit\""}, "branch-gap", "display lit"},
		{[]string{"a < 20 and a > 30", "a >= 0"}, "branch-never", ""},
		{[]string{"a == 20", "a != 20"}, "", ""},
		{[]string{"true", "false"}, "branch-never", ""},
	} {
		got := judged(stepOf(t, "a: R-C, b: Y-C", c.whens...))
		if codesOf(got) != c.want {
			t.Errorf("%q: %q, want %q\n%s", c.whens, codesOf(got), c.want, got.Error())
		}
		if !strings.Contains(got.Error(), c.words) {
			t.Errorf("%q: no %q in\n%s", c.whens, c.words, got.Error())
		}
	}
}

// TestTwelveBranches is one step of 12 branches over 4 readings with 3
// constants each: 9 × 9 × 9 × 9 cells.
func TestTwelveBranches(t *testing.T) {
	sequential(t)
	s := stepOf(t, "a: R-C, b: Y-C, c: G-C, d: W-C", twelve()...)
	if got := judged(s); len(got) > 0 {
		t.Error(got.Error())
	}
	g := newGrid(s, s.Tree.NewEnv())
	if g.cells != 9*9*9*9 {
		t.Errorf("%d cells", g.cells)
	}
}

// twelve are conditions that part the four readings without gap or overlap.
func twelve() []string {
	var out []string
	for _, a := range []string{"a < 5", "5 <= a < 20", "20 <= a < 26", "a >= 26"} {
		out = append(out,
			a+" and (b < 5 or b >= 26 or (b >= 20 and b < 20))",
			a+" and not (b < 5 or b >= 26 or (b >= 20 and b < 20)) and (c < 5 or (c >= 20 and d < 20) or (c >= 26 and d < 26))",
			a+" and not (b < 5 or b >= 26 or (b >= 20 and b < 20)) and not (c < 5 or (c >= 20 and d < 20) or (c >= 26 and d < 26)) and (d < 5 or d >= 5)")
	}
	return out
}

// z3 is the outside oracle's path. It is in CI; elsewhere a test that needs it
// says so and passes over.
func z3(t testing.TB) string {
	t.Helper()
	path, err := exec.LookPath("z3")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("z3 is not installed, and CI needs it: apt-get install z3")
		}
		t.Skip("z3 is not installed: the branch proof is not held against it here")
	}
	return path
}

// smt writes a condition as z3's language, from the condition's own text.
func smt(n ast.Node, limits map[string]tree.Limit) string {
	switch x := n.(type) {
	case *ast.UnaryNode:
		if x.Operator == "-" {
			return "(- " + smt(x.Node, limits) + ")"
		}
		return "(not " + smt(x.Node, limits) + ")"
	case *ast.BinaryNode:
		a, b := smt(x.Left, limits), smt(x.Right, limits)
		op := map[string]string{"and": "and", "&&": "and", "or": "or", "||": "or", "<": "<", "<=": "<=", ">": ">", ">=": ">=", "==": "="}[x.Operator]
		if x.Operator == "!=" {
			return "(not (= " + a + " " + b + "))"
		}
		return "(" + op + " " + a + " " + b + ")"
	case *ast.IntegerNode:
		return fmt.Sprintf("%d.0", x.Value)
	case *ast.FloatNode:
		return fmt.Sprintf("%f", x.Value)
	case *ast.BoolNode:
		return fmt.Sprint(x.Value)
	case *ast.StringNode:
		return `"` + x.Value + `"`
	case *ast.IdentifierNode:
		if l, ok := limits[x.Value]; ok {
			return fmt.Sprintf("%f", l.Value)
		}
		return x.Value
	}
	panic(fmt.Sprintf("no SMT for %T", n))
}

// script asks z3 for a reading with no branch, one with two branches, and for
// each branch one at all.
func script(t testing.TB, s *tree.Step, limits map[string]tree.Limit) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("(reset)\n(set-logic ALL)\n")
	for _, n := range s.Uses() {
		if n.IsLook() {
			fmt.Fprintf(&b, "(declare-const %s String)\n(assert (or", n.ID)
			for _, a := range n.Look().Answers() {
				fmt.Fprintf(&b, " (= %s %q)", n.ID, n.Look().AnswerID(a))
			}
			b.WriteString("))\n")
			continue
		}
		fmt.Fprintf(&b, "(declare-const %s Real)\n(assert (<= 0.0 %s %f))\n", n.ID, n.ID, n.Quantity().Max())
	}
	var whens []string
	for _, branch := range s.Branches {
		parsed, err := parser.Parse(branch.When.Text)
		if err != nil {
			t.Fatal(err)
		}
		whens = append(whens, smt(parsed.Node, limits))
	}
	ask := func(what string) { fmt.Fprintf(&b, "(push)(assert %s)(check-sat)(pop)\n", what) }
	ask("(not (or false " + strings.Join(whens, " ") + "))")
	both := []string{"false"}
	for i := range whens {
		for j := range i {
			both = append(both, "(and "+whens[i]+" "+whens[j]+")")
		}
	}
	ask("(or " + strings.Join(both, " ") + ")")
	for _, w := range whens {
		ask(w)
	}
	return b.String()
}

// oracle is what z3 says of a step, as the prover's codes.
func oracle(t testing.TB, path string, steps []*tree.Step, limits map[string]tree.Limit) []string {
	t.Helper()
	var in bytes.Buffer
	for _, s := range steps {
		in.WriteString(script(t, s, limits))
	}
	cmd := exec.Command(path, "-in")
	cmd.Stdin = &in
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("z3: %v\n%s", err, out)
	}
	lines := strings.Fields(string(out))
	var verdicts []string
	for _, s := range steps {
		n := 2 + len(s.Branches)
		verdicts = append(verdicts, verdict(t, lines[:n]))
		lines = lines[n:]
	}
	return verdicts
}

func verdict(t testing.TB, lines []string) string {
	var codes []string
	add := func(code string, bad bool) {
		if bad {
			codes = append(codes, code)
		}
	}
	for _, l := range lines {
		if l != "sat" && l != "unsat" {
			t.Fatalf("z3 says %q", l)
		}
	}
	add("branch-gap", lines[0] == "sat")
	never := false
	for _, l := range lines[2:] {
		never = never || l == "unsat"
	}
	add("branch-never", never)
	add("branch-overlap", lines[1] == "sat")
	return strings.Join(codes, " ")
}

// TestAgainstZ3 holds the verdict on random steps against an SMT solver, which
// decides linear arithmetic by another way altogether (z3 4.8 from Debian).
func TestAgainstZ3(t *testing.T) {
	sequential(t)
	path := z3(t)
	var steps []*tree.Step
	rapid.Check(t, func(r *rapid.T) {
		if len(steps) >= 60 {
			return
		}
		n := rapid.IntRange(1, 4).Draw(r, "branches")
		var whens []string
		for range n {
			whens = append(whens, randomCondition(r, 3))
		}
		if rapid.Bool().Draw(r, "whole") {
			whens = append(whens, "not ("+strings.Join(whens, " or ")+")")
		}
		steps = append(steps, stepOf(t, "a: R-C, b: Y-C", whens...))
	})
	for i, want := range oracle(t, path, steps, nil) {
		got := strings.Fields(codesOf(judged(steps[i])))
		if sortedWords(got) != want {
			t.Errorf("step %d: %q, z3 says %q\n%s", i, sortedWords(got), want, texts(steps[i]))
		}
	}
}

func sortedWords(words []string) string {
	var out []string
	for _, code := range []string{"branch-gap", "branch-never", "branch-overlap"} {
		for _, w := range words {
			if w == code {
				out = append(out, w)
			}
		}
	}
	return strings.Join(out, " ")
}

func texts(s *tree.Step) string {
	var out []string
	for _, b := range s.Branches {
		out = append(out, b.When.Text)
	}
	return strings.Join(out, "\n")
}

func randomCondition(r *rapid.T, deep int) string {
	if deep == 0 || rapid.IntRange(0, 2).Draw(r, "kind") == 0 {
		name := rapid.SampledFrom([]string{"a", "b", "display"}).Draw(r, "name")
		if name == "display" {
			return "display " + rapid.SampledFrom([]string{"==", "!="}).Draw(r, "op") + ` "` +
				rapid.SampledFrom([]string{"lit", "blank"}).Draw(r, "answer") + `"`
		}
		op := rapid.SampledFrom([]string{"<", "<=", ">", ">=", "==", "!="}).Draw(r, "op")
		return name + " " + op + " " + rapid.SampledFrom([]string{"0", "5", "20.4", "20.5", "1000"}).Draw(r, "x")
	}
	if rapid.IntRange(0, 3).Draw(r, "not") == 0 {
		return "not (" + randomCondition(r, deep-1) + ")"
	}
	return "(" + randomCondition(r, deep-1) + rapid.SampledFrom([]string{" and ", " or "}).Draw(r, "op") + randomCondition(r, deep-1) + ")"
}

// TestEmbeddedAgainstZ3 holds every measuring step of the embedded trees
// against the solver.
func TestEmbeddedAgainstZ3(t *testing.T) {
	sequential(t)
	path := z3(t)
	book := embedded(t)
	var steps []*tree.Step
	for _, tr := range book.Trees.InOrder() {
		for _, s := range tr.Steps {
			if s.Kind == tree.MeasureStep {
				steps = append(steps, s)
			}
		}
	}
	for i, want := range oracle(t, path, steps, book.Trees.Limits) {
		if got := sortedWords(strings.Fields(codesOf(judged(steps[i])))); got != want {
			t.Errorf("%s: %q, z3 says %q", steps[i], got, want)
		}
	}
}
