package prove

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// large is n steps over two trees, each step a look or a reading, each leading
// to the next: a chain as long as a tree can be, made up.
func large(t testing.TB, n int) *tree.Library {
	t.Helper()
	fsys := synthetic()
	half := n / 2
	fsys["no-cooling.yaml"] = &fstest.MapFile{Data: []byte(chain("no-cooling", half, "tree no-heat"))}
	fsys["no-heat.yaml"] = &fstest.MapFile{Data: []byte(chain("no-heat", n-half, "finding undecided"))}
	lib, problems := tree.Load(fsys)
	if err := problems.Err(); err != nil {
		t.Fatal(problems.Render(3))
	}
	return lib
}

func chain(id string, n int, end string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "tree: %s\ntitle: Made up\ncomplaints: [a test %s]\nsymptom: {look: air, shows: [room]}\nfits: [cool-gas]\nfirst: s0\nsteps:\n", id, id)
	for i := range n {
		next := end
		if i+1 < n {
			next = fmt.Sprintf("step s%d", i+1)
		}
		if i%2 == 0 {
			fmt.Fprintf(&b, "  s%d: {look: indoor-fan, why: x, branches: {running: %s, stopped: %s}, unable: %s}\n", i, next, next, next)
			continue
		}
		fmt.Fprintf(&b, "  s%d: {volts: {a%d: R-C}, at: indoor, why: x, branches: [{when: a%d < dead_max, then: %s}, {when: a%d >= dead_max, then: %s}], unable: %s}\n", i, i, i, next, i, next, next)
	}
	return b.String()
}

// TestTenThousandSteps proves the branches of 10,000 steps.
func TestTenThousandSteps(t *testing.T) {
	sequential(t)
	lib := large(t, 10_000)
	r := source.NewReporter()
	var n BranchCount
	for _, tr := range lib.InOrder() {
		got := ProveBranches(tr, r)
		n.Steps, n.Branches, n.Cells = n.Steps+got.Steps, n.Branches+got.Branches, n.Cells+got.Cells
	}
	if problems := r.Problems(); len(problems) > 0 {
		t.Error(problems.Render(5))
	}
	if n.Steps != 5000 || n.Branches != 20_000 {
		t.Errorf("%+v", n)
	}
}

func TestTwelveBranchesAgainstZ3(t *testing.T) {
	sequential(t)
	s := stepOf(t, "a: R-C, b: Y-C, c: G-C, d: W-C", twelve()...)
	if got := oracle(t, z3(t), []*tree.Step{s}, nil)[0]; got != codesOf(judged(s)) {
		t.Errorf("z3 says %q", got)
	}
}

func BenchmarkTwelveBranches(b *testing.B) {
	s := stepOf(b, "a: R-C, b: Y-C, c: G-C, d: W-C", twelve()...)
	for b.Loop() {
		newGrid(s, s.Tree.NewEnv()).prove(source.NewReporter())
	}
}
