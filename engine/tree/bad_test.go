package tree

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"stepdown/engine/source"
)

var update = flag.Bool("update", false, "write the golden messages anew")

const badDir = "../../testdata/bad"

var (
	asForm   = regexp.MustCompile(`^# as: (\S+)\n`)
	wantForm = regexp.MustCompile(`# want: ([a-z0-9 -]+)$`)
)

// fixture is one bad file, which stands in for a file of the base trees.
type fixture struct {
	name, as string
	data     []byte
	want     []string // line: code
}

func fixtures(t testing.TB) []fixture {
	t.Helper()
	paths, err := filepath.Glob(badDir + "/*.yaml")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no fixtures in %s: %v", badDir, err)
	}
	var out []fixture
	for _, p := range paths {
		data, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		as := asForm.FindSubmatch(data)
		if as == nil {
			continue // a bad file of another kind
		}
		f := fixture{name: strings.TrimSuffix(filepath.Base(p), ".yaml"), as: string(as[1]), data: data}
		for i, line := range strings.Split(string(data), "\n") {
			if m := wantForm.FindStringSubmatch(line); m != nil {
				for _, code := range strings.Fields(m[1]) {
					f.want = append(f.want, fmt.Sprintf("%d: %s", i+1, code))
				}
			}
		}
		out = append(out, f)
	}
	return out
}

func (f fixture) load() (*Library, source.Problems) {
	var base fs.FS = os.DirFS("testdata/base")
	if f.as == findingsFile || f.as == limitsFile {
		base = onlyData() // a tree would complain of what is missing too
	}
	return Load(base, fstest.MapFS{f.as: {Data: f.data}})
}

// TestBad holds, for every kind of mistake, the place and code of each problem
// against the marks in the file, and the whole message against its golden.
func TestBad(t *testing.T) {
	for _, f := range fixtures(t) {
		t.Run(f.name, func(t *testing.T) {
			lib, problems := f.load()
			if lib != nil {
				t.Error("a library came of a bad file")
			}
			got := map[string]bool{}
			for _, p := range problems {
				if p.Pos.File != f.as {
					t.Errorf("a problem in another file: %s", p.Render())
				}
				got[fmt.Sprintf("%d: %s", p.Pos.Line, p.Code)] = true
			}
			want := map[string]bool{}
			for _, w := range f.want {
				want[w] = true
			}
			if d := cmp.Diff(sorted(want), sorted(got)); d != "" {
				t.Errorf("problems (-want +got):\n%s\n%s", d, problems.Error())
			}
			golden(t, f.name, problems.Error()+"\n")
		})
	}
}

func sorted(m map[string]bool) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
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
		t.Fatalf("no golden; run go test ./engine/tree -update: %v", err)
	}
	if d := cmp.Diff(string(want), got); d != "" {
		t.Errorf("message (-want +got):\n%s", d)
	}
}

// TestEveryCodeHasAFixture keeps the table of codes honest.
func TestEveryCodeHasAFixture(t *testing.T) {
	marked := map[string]bool{CodeFile: true, CodeCaution: true} // TestFiles, TestCautions
	for _, f := range fixtures(t) {
		for _, w := range f.want {
			_, code, _ := strings.Cut(w, ": ")
			marked[code] = true
		}
	}
	seen := map[string]bool{}
	for _, c := range Codes() {
		if seen[c.ID] || c.Title == "" {
			t.Errorf("code %q is there twice or has no title", c.ID)
		}
		seen[c.ID] = true
		if !marked[c.ID] {
			t.Errorf("no fixture is marked # want: %s", c.ID)
		}
	}
}

// with is the base trees with one file of the test's own.
func with(name, text string) fs.FS { return fstest.MapFS{name: {Data: []byte(text)}} }

// condition loads a tree whose one measuring step has a single branch.
func condition(when string) (*Library, source.Problems) {
	return Load(os.DirFS("testdata/base"), with("dark-display.yaml", `tree: dark-display
title: Dark
complaints: [dark]
symptom: {look: display, shows: [blank]}
fits: [cool-gas, cool-electric]
first: seen
steps:
  seen:
    look: display
    why: For a test.
    branches: {lit: step board, blank: step board, low-battery: step board, waiting: step board}
    unable: finding undecided
  board:
    volts: {rc: R-C, r-w: R-W}
    at: indoor
    why: For a test.
    branches:
      - when: `+when+`
        then: finding undecided
        because: for a test
    unable: finding undecided
`))
}

// TestBrackets gives 800,000 brackets, which overflow the stack of a parser
// that recurses by bracket, on one line and on many.
func TestBrackets(t *testing.T) {
	for _, c := range []struct{ open, shut, code string }{
		{"(", ")", source.CodeLongLine},
		{"[", "]", source.CodeLongLine},
		{"{", "}", source.CodeLongLine},
		{strings.Repeat("(", 1000) + "\n          ", strings.Repeat(")", 1000) + "\n          ", CodeLong},
	} {
		n := 400_000 / strings.Count(c.open+c.shut, c.open[:1])
		text := strings.Repeat(c.open, n) + "rc < control_min" + strings.Repeat(c.shut, n)
		_, problems := condition("'" + text + "'")
		if len(problems) != 1 || problems[0].Code != c.code {
			t.Errorf("%.10q: %.300s", c.open, problems.Error())
		}
		if n := len(problems.Error()); n > 1000 {
			t.Errorf("%.10q: the message has %d bytes", c.open, n)
		}
	}
}

// TestFiles are the problems of a file as a whole.
func TestFiles(t *testing.T) {
	big := []byte("tree: no-cooling\ntitle: " + strings.Repeat("x", 2<<20) + "\n")
	base := onlyData()
	for _, c := range []struct {
		name string
		base fs.FS
		over fs.FS
		want string
		pos  string
	}{
		{name: "2 MiB", base: base, over: fstest.MapFS{"no-cooling.yaml": {Data: big}}, want: source.CodeTooBig, pos: "mine/no-cooling.yaml"},
		{name: "no limits", base: fstest.MapFS{"findings.yaml": base["findings.yaml"]}, over: fstest.MapFS{}, want: CodeFile, pos: "limits.yaml"},
		{name: "no findings", base: fstest.MapFS{"limits.yaml": base["limits.yaml"]}, over: fstest.MapFS{}, want: CodeFile, pos: "findings.yaml"},
		{name: "no directory", base: base, over: os.DirFS("testdata/none"), want: CodeFile, pos: "mine"},
		{name: "a pipe", base: base, over: fstest.MapFS{"no-cooling.yaml": {Mode: fs.ModeNamedPipe}}, want: CodeFile, pos: "mine/no-cooling.yaml"},
		{name: "other ending", base: base, over: fstest.MapFS{"no-cooling.yml": {}}, want: CodeFileName, pos: "mine/no-cooling.yml"},
		{name: "a directory of that name", base: base, over: fstest.MapFS{"equipment/x.yaml": {}}, want: ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, problems := Load(c.base, At("mine", c.over))
			if c.want == "" {
				if len(problems) > 0 {
					t.Errorf("%v", problems)
				}
				return
			}
			if len(problems) != 1 || problems[0].Code != c.want || problems[0].Pos.String() != c.pos {
				t.Errorf("want %s at %s, got\n%v", c.want, c.pos, problems)
			}
		})
	}
}

// onlyData is the base without its trees.
func onlyData() fstest.MapFS {
	out := fstest.MapFS{}
	for _, name := range []string{limitsFile, findingsFile} {
		data, err := os.ReadFile("testdata/base/" + name)
		if err != nil {
			panic(err)
		}
		out[name] = &fstest.MapFile{Data: data}
	}
	return out
}
