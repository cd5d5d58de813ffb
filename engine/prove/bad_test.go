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
	"stepdown/engine/session"
	"stepdown/engine/tree"
)

var update = flag.Bool("update", false, "write the golden messages anew")

const badDir = "../../testdata/bad"

var (
	proveForm = regexp.MustCompile(`^# prove: (\S+) (\S+)\n`)
	wantForm  = regexp.MustCompile(`# want: ([a-z0-9 -]+)$`)
)

// badTree is one bad tree, the only one of its library, proven on the nominal
// house of one equipment.
type badTree struct {
	name, as  string
	equipment house.Equipment
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
		head := proveForm.FindSubmatch(data)
		if head == nil {
			continue // a bad file of another kind
		}
		b := badTree{name: strings.TrimSuffix(filepath.Base(p), ".yaml"), as: string(head[1]), data: data}
		if b.equipment, err = house.ParseEquipment(string(head[2])); err != nil {
			t.Fatalf("%s: %v", p, err)
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

func (b badTree) prove(t *testing.T) *Report {
	t.Helper()
	fsys := synthetic()
	fsys[b.as] = &fstest.MapFile{Data: b.data}
	lib, problems := tree.Load(fsys)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	cat := catalog(t)
	f := forecast.New(cat, forecast.Options{Draws: 8, Seed: 1, Workers: 2})
	c, err := house.ParseComplaint(strings.TrimSuffix(b.as, ".yaml"))
	if err != nil {
		t.Fatal(err)
	}
	r, err := Prove(&session.Book{Trees: lib, Cautions: embedded(t).Cautions}, f, map[string][]byte{b.as: b.data},
		Options{Complaints: []house.Complaint{c}, Equipment: b.equipment, Houses: 1, Workers: 2})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestBad holds, for every rule, the place and code of each problem against the
// marks in a bad tree, and the whole message against its golden.
func TestBad(t *testing.T) {
	for _, b := range badTrees(t) {
		t.Run(b.name, func(t *testing.T) {
			problems := b.prove(t).Problems
			got := map[string]bool{}
			for _, p := range problems {
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
// tree that breaks it. Two are about no tree: an unsafe step is the planner's,
// and a fault that shows nothing needs every tree at once; they have tests of
// their own.
func TestEveryRuleHasAFixture(t *testing.T) {
	marked := map[string]bool{unsafeStep.Code: true, faultShowsNothing.Code: true}
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
			t.Errorf("no bad tree is marked # want: %s", r.Code)
		}
		text, ok := Explain(r.Code)
		if !ok || !strings.Contains(text, "Why") || !strings.Contains(text, "Good") {
			t.Errorf("%s is explained as %q", r.Code, text)
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
