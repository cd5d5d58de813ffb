// Package engine_test holds the layout of the project: what DEVELOPERS.md says
// of the packages against what they import, and the rules no compiler checks.
package engine_test

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const module = "stepdown/"

// row is one line of the package table.
type row struct {
	tier int
	may  []string
}

// shared may be imported from every higher tier without being named.
var shared = []string{"source", "quantity", "house", "paragraph"}

// table reads the packages of DEVELOPERS.md.
func table(t *testing.T) map[string]row {
	t.Helper()
	data, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	rows := map[string]row{}
	for line := range strings.Lines(string(data)) {
		cells := strings.Split(strings.TrimSpace(line), "|")
		if len(cells) != 6 {
			continue
		}
		tier, err := strconv.Atoi(strings.TrimSpace(cells[1]))
		if err != nil {
			continue // the heading
		}
		rows[strings.Trim(cells[2], " `")] = row{tier, words(cells[4])}
	}
	if len(rows) == 0 {
		t.Fatal("DEVELOPERS.md has no package table")
	}
	return rows
}

func words(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;.`–\n", r) })
}

// file is one Go file of the project; name is its path from the top.
type file struct {
	name string
	data []byte
	tree *ast.File
}

func (f file) isTest() bool     { return strings.HasSuffix(f.name, "_test.go") }
func (f file) inEngine() bool   { return strings.HasPrefix(f.name, "engine/") }
func (f file) folder() string   { return path.Dir(f.name) }
func (f file) engineOf() string { return strings.TrimPrefix(f.folder(), "engine/") }

func (f file) imports() []string {
	var out []string
	for _, i := range f.tree.Imports {
		p, _ := strconv.Unquote(i.Path.Value)
		out = append(out, p)
	}
	return out
}

// files parses every Go file under the top.
func files(t *testing.T) []file {
	t.Helper()
	var out []file
	set := token.NewFileSet()
	err := filepath.WalkDir("..", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(p) != ".go" {
			return err
		}
		data, err := os.ReadFile(p)
		if err != nil {
			return err
		}
		tree, err := parser.ParseFile(set, p, data, parser.ParseComments)
		out = append(out, file{strings.TrimPrefix(filepath.ToSlash(p), "../"), data, tree})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestImportsFollowTheTable(t *testing.T) {
	rows := table(t)
	missing := map[string]bool{}
	for _, f := range files(t) {
		if !f.inEngine() || f.isTest() || f.folder() == "engine" {
			continue
		}
		r, ok := rows[f.engineOf()]
		if !ok {
			missing[f.engineOf()] = true
			continue
		}
		for _, p := range f.imports() {
			name, ours := strings.CutPrefix(p, module+"engine/")
			switch {
			case !ours:
			case slices.Contains(r.may, name):
			case slices.Contains(shared, name) && rows[name].tier < r.tier:
			default:
				t.Errorf("%s imports %s; the table allows %s", f.name, name, strings.Join(r.may, ", "))
			}
		}
	}
	for name := range missing {
		t.Errorf("package %s has no line in the table of DEVELOPERS.md", name)
	}
}

func TestTheTableIsOfOnePiece(t *testing.T) {
	rows := table(t)
	for name, r := range rows {
		if _, err := os.Stat(name); err != nil {
			t.Errorf("the table has a line for %s, which is not there", name)
		}
		for _, other := range r.may {
			if o, ok := rows[other]; ok && o.tier >= r.tier {
				t.Errorf("%s (tier %d) may not import %s (tier %d): imports go down", name, r.tier, other, o.tier)
			}
		}
	}
}

// who may import what, whatever the table says; tests are free where free is
// set.
func TestWhoMayImportWhat(t *testing.T) {
	for _, rule := range []struct {
		imports string
		only    []string // folders
		free    bool
	}{
		{"gopkg.in/yaml.v3", []string{"engine/source"}, false},
		{"github.com/chzyer/readline", []string{"cmd/stepdown"}, false},
		{"github.com/spf13/cobra", []string{"cmd/stepdown"}, false},
		{"github.com/gofrs/flock", []string{"cmd/stepdown"}, false},
		{"gonum.org/v1/gonum/mat", nil, true},
		{module + "trees", []string{"cmd/stepdown", "trees"}, true},
		{module + "cautions", []string{"cmd/stepdown", "cautions"}, true},
	} {
		for _, f := range files(t) {
			if slices.Contains(f.imports(), rule.imports) && !slices.Contains(rule.only, f.folder()) && !(rule.free && f.isTest()) {
				t.Errorf("%s imports %s; only %v may", f.name, rule.imports, rule.only)
			}
		}
	}
	for _, f := range files(t) {
		if f.folder() == "engine/session" && slices.Contains(f.imports(), module+"engine/circuit") {
			t.Errorf("%s imports circuit: the conversation must not know the true fault", f.name)
		}
	}
}

// impure packages and functions belong to cmd/: the engine takes files,
// streams, a clock and a seed as values.
var (
	impurePackages  = []string{"os", "os/exec", "os/signal", "os/user", "syscall", "net", "net/http", "io/ioutil", "math/rand", "crypto/rand", "log"}
	impureFunctions = map[string][]string{
		"time":         {"Now", "Since", "Until", "After", "AfterFunc", "Sleep", "Tick", "NewTimer", "NewTicker"},
		"math/rand/v2": {"Int", "IntN", "Int64", "Int64N", "Uint64", "Float64", "NormFloat64", "ExpFloat64", "Perm", "Shuffle", "N"},
		"fmt":          {"Print", "Printf", "Println"},
	}
)

func TestTheEngineIsPure(t *testing.T) {
	for _, f := range files(t) {
		if !f.inEngine() || f.isTest() {
			continue
		}
		for _, p := range f.imports() {
			if slices.Contains(impurePackages, p) {
				t.Errorf("%s imports %s, which only cmd/ may", f.name, p)
			}
		}
		ast.Inspect(f.tree, func(n ast.Node) bool {
			call, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if x, ok := call.X.(*ast.Ident); ok && slices.Contains(impureFunctions[f.pathOf(x.Name)], call.Sel.Name) {
				t.Errorf("%s uses %s.%s: take it as a value", f.name, x.Name, call.Sel.Name)
			}
			return true
		})
	}
}

// pathOf is the import that a name stands for.
func (f file) pathOf(name string) string {
	for _, i := range f.tree.Imports {
		p, _ := strconv.Unquote(i.Path.Value)
		switch {
		case i.Name != nil && i.Name.Name == name:
			return p
		case i.Name == nil && (path.Base(p) == name || p == "math/rand/v2" && name == "rand"):
			return p
		}
	}
	return ""
}

func TestFilesCanBeReadInOneSitting(t *testing.T) {
	const linesMax = 500
	for _, f := range files(t) {
		if n := bytes.Count(f.data, []byte("\n")); n > linesMax {
			t.Errorf("%s has %d lines, the most is %d", f.name, n, linesMax)
		}
	}
}

// Each package under engine/ says in its doc.go what it is for and what it
// may import, as the table does, and shows itself in an example.
func TestEachPackageExplainsItself(t *testing.T) {
	rows := table(t)
	examples := map[string]bool{}
	docs := map[string]string{}
	for _, f := range files(t) {
		if !f.inEngine() || f.folder() == "engine" {
			continue
		}
		if path.Base(f.name) == "doc.go" && f.tree.Doc != nil {
			docs[f.engineOf()] = f.tree.Doc.Text()
		}
		for _, d := range f.tree.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && f.isTest() && strings.HasPrefix(fn.Name.Name, "Example") {
				examples[f.engineOf()] = true
			}
		}
	}
	for name, r := range rows {
		_, said, ok := strings.Cut(docs[name], "May import:")
		switch {
		case docs[name] == "":
			t.Errorf("engine/%s has no doc.go with a package comment", name)
		case !ok:
			t.Errorf("engine/%s/doc.go has no line May import", name)
		case !slices.Equal(beyondShared(words(said)), beyondShared(r.may)):
			t.Errorf("engine/%s/doc.go: May import %v; the table of DEVELOPERS.md says %v", name, beyondShared(words(said)), beyondShared(r.may))
		}
		if !examples[name] {
			t.Errorf("engine/%s has no Example test", name)
		}
	}
}

// beyondShared is a list of packages in order, without those every package
// above them may import.
func beyondShared(list []string) []string {
	var out []string
	for _, w := range list {
		if !slices.Contains(shared, w) && !slices.Contains([]string{"nothing", "under", "engine/"}, w) {
			out = append(out, w)
		}
	}
	slices.Sort(out)
	return out
}

func TestTheTopLevelIsShort(t *testing.T) {
	known := []string{"cmd", "engine", "trees", "cautions", "testdata", "go.mod", "go.sum",
		"README.md", "DEVELOPERS.md", "LICENSE", ".ci", ".gitignore", ".git", "stepdown"}
	entries, err := os.ReadDir("..")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !slices.Contains(known, e.Name()) {
			t.Errorf("%s does not belong at the top", e.Name())
		}
	}
}
