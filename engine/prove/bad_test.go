package prove

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/session"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

var update = flag.Bool("update", false, "write the golden messages anew")

const badDir = "../../testdata/bad"

var (
	proveForm   = regexp.MustCompile(`^# prove: (\S+) (\S+)\n`)
	plannerForm = regexp.MustCompile(`(?m)^without: (\S+).*\nhouse: (\S+)$`)
	wantForm    = regexp.MustCompile(`# want: ([a-z0-9 -]+)$`)
)

// badTree is one bad tree, the only one of its library, proven on the nominal
// house of one equipment, or of every one it fits; or a planner that has
// forgotten a rule, walked in the spaces of one house.
type badTree struct {
	name, as  string
	equipment house.Equipment // none: every one
	forgets   planner.Rule
	house     string // of the spaces walked
	data      []byte
	want      []string // line: code
}

func badTrees(t testing.TB) []badTree {
	t.Helper()
	paths, err := filepath.Glob(badDir + "/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var out []badTree
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		b := badTree{name: strings.TrimSuffix(filepath.Base(p), ".yaml"), data: data}
		if !b.read(t) {
			continue // a bad file of another kind
		}
		for i, line := range strings.Split(string(data), "\n") {
			if m := wantForm.FindStringSubmatch(line); m != nil {
				for _, code := range strings.Fields(m[1]) {
					b.want = append(b.want, fmt.Sprintf("%d: %s", i+1, code))
				}
			}
		}
		out = append(out, b)
	}
	return out
}

// read tells what a fixture is from its head; false where it is none of these.
func (b *badTree) read(t testing.TB) bool {
	t.Helper()
	if head := plannerForm.FindSubmatch(b.data); head != nil {
		b.as, b.house = b.name+".yaml", string(head[2])
		i := slices.IndexFunc(planner.Rules(), func(r planner.Rule) bool { return r.String() == string(head[1]) })
		if i < 0 {
			t.Fatalf("%s: the planner has no rule %s", b.name, head[1])
		}
		b.forgets = planner.Rules()[i]
		return true
	}
	head := proveForm.FindSubmatch(b.data)
	if head == nil {
		return false
	}
	b.as = string(head[1])
	if e := string(head[2]); e != "every" {
		var err error
		if b.equipment, err = house.ParseEquipment(e); err != nil {
			t.Fatalf("%s: %v", b.name, err)
		}
	}
	return true
}

// prove gives the problems of the fixture.
func (b badTree) prove(t *testing.T) source.Problems {
	t.Helper()
	to := source.NewReporter()
	to.AddFile(b.as, b.data)
	r := &Report{}
	if b.forgets != 0 {
		spaces := slices.DeleteFunc(Spaces(true), func(s Space) bool { return !strings.HasPrefix(s.Name, b.house+",") })
		line := 1 + strings.Count(string(b.data[:strings.Index(string(b.data), "without: ")]), "\n")
		r.proveSafety(planner.Without(b.forgets), spaces, to, source.Pos{File: b.as, Line: line, Col: len("without: ") + 1}, 2)
		return to.Problems()
	}
	fsys := synthetic()
	fsys[b.as] = &fstest.MapFile{Data: b.data}
	lib, problems := tree.Load(fsys)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	f := forecast.New(catalog(t), forecast.Options{Draws: 8, Seed: 1, Workers: 2})
	o := Options{Equipment: b.equipment, Houses: 1, Workers: 2}
	if b.equipment != house.NoEquipment { // a matter of one tree
		c, err := house.ParseComplaint(strings.TrimSuffix(b.as, ".yaml"))
		if err != nil {
			t.Fatal(err)
		}
		o.Complaints = []house.Complaint{c}
	}
	book := &session.Book{Trees: lib, Cautions: embedded(t).Cautions}
	r.proveBranches(book, to, o)
	if err := r.proveCalls(book, f, to, o); err != nil {
		t.Fatal(err)
	}
	return to.Problems()
}

// TestBad holds, for every rule, the place and code of each problem against the
// marks in a bad tree, and the whole message against its golden.
func TestBad(t *testing.T) {
	sequential(t)
	for _, b := range badTrees(t) {
		t.Run(b.name, func(t *testing.T) {
			problems := b.prove(t)
			got := map[string]bool{}
			for _, p := range problems {
				if p.Pos.File != b.as {
					continue // what the rest of the library lacks
				}
				got[fmt.Sprintf("%d: %s", p.Pos.Line, p.Code)] = true
			}
			want := map[string]bool{}
			for _, w := range b.want {
				want[w] = true
			}
			if d := cmp.Diff(keysOf(want), keysOf(got)); d != "" {
				t.Errorf("problems (-want +got):\n%s\n%s", d, problems.Error())
			}
			golden(t, b.name, problems.Error()+"\n")
		})
	}
}

func keysOf(m map[string]bool) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join(badDir, name+".golden")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("no golden; run go test ./engine/prove -update: %v", err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("message (-want +got):\n%s", d)
	}
}

// TestEveryRuleHasAFixture keeps the rules honest: each has its text, and a bad
// file that breaks it.
func TestEveryRuleHasAFixture(t *testing.T) {
	marked := map[string]bool{}
	for _, b := range badTrees(t) {
		for _, w := range b.want {
			_, code, _ := strings.Cut(w, ": ")
			marked[code] = true
		}
	}
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.Code] || r.Title == "" || r.Why == "" || r.Bad == "" || r.Good == "" || r.Proof == "" {
			t.Errorf("rule %q is there twice or says too little", r.Code)
		}
		seen[r.Code] = true
		if !marked[r.Code] {
			t.Errorf("nothing in %s is marked # want: %s", badDir, r.Code)
		}
		text, ok := Explain(r.Code)
		if !ok || !strings.Contains(text, "Why") || !strings.Contains(text, "Good") {
			t.Errorf("%s is explained as %q", r.Code, text)
		}
		for line := range strings.Lines(text) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > lineCells {
				t.Errorf("%s is explained in a line of %d cells: %s", r.Code, n, line)
			}
		}
	}
	for _, c := range tree.Codes() {
		if text, ok := Explain(c.ID); !ok || !strings.Contains(text, c.Title) {
			t.Errorf("%s is explained as %q", c.ID, text)
		}
	}
	if _, ok := Explain("no-such-rule"); ok {
		t.Error("a code that is none is explained")
	}
}
