package circuit

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"
	"testing/fstest"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

const badDir = "../../testdata/bad/equipment"

// TestBadEquipmentFiles: every problem is reported at once, each on the line
// that its file marks with "# want: CODE", and none elsewhere.
func TestBadEquipmentFiles(t *testing.T) {
	cat, problems := Load(os.DirFS(badDir))
	if len(cat.IDs()) != 0 {
		t.Errorf("bad equipment was loaded: %v", cat.IDs())
	}
	var got, want []string
	for _, p := range problems {
		got = append(got, fmt.Sprintf("%s:%d %s", p.Pos.File, p.Pos.Line, p.Code))
		if p.Pos.Col < 1 || p.Message != strings.TrimSuffix(p.Message, ".") {
			t.Errorf("no column, or a full stop: %s", p.Render())
		}
	}
	mark := regexp.MustCompile(`# want: (.*)$`)
	files, _ := filepath.Glob(filepath.Join(badDir, "*.yaml"))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(data), "\n") {
			if m := mark.FindStringSubmatch(line); m != nil {
				for _, code := range strings.Fields(m[1]) {
					want = append(want, fmt.Sprintf("%s:%d %s", filepath.Base(file), i+1, code))
				}
			}
		}
	}
	sort.Strings(got)
	sort.Strings(want)
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s\n\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"), problems.Error())
	}
}

// TestProblemText holds one whole report, caret and hint.
func TestProblemText(t *testing.T) {
	_, problems := Load(os.DirFS(badDir))
	want := `unknown-part.yaml:20:14: unknown part "rolout" (unknown-part)
        - {part: rolout, ends: [rollout-1, rollout-2]} # want: unknown-part
                 ^^^^^^
    hint: did you mean rollout?`
	if !strings.Contains(problems.Error(), want) {
		t.Errorf("no such problem:\n%s\nin\n%s", want, problems.Error())
	}
}

func TestLoadNothing(t *testing.T) {
	if _, problems := Load(fstest.MapFS{}); len(problems) == 0 {
		t.Error("an empty folder is no equipment")
	}
}

// TestEveryValueHasASource walks what was loaded, so that a file laid over ours
// is held to the same.
func TestEveryValueHasASource(t *testing.T) {
	cat := loadAll(t)
	if len(cat.IDs()) != len(house.Equipments()) {
		t.Errorf("%d equipments loaded of %d", len(cat.IDs()), len(house.Equipments()))
	}
	for _, id := range cat.IDs() {
		for _, v := range cat.Equipment(id).Values() {
			if v.Source == "" || v.Known == "" || v.Unit == "" {
				t.Errorf("%s: %s lacks a source, a way of knowing or a unit", id, v.Name())
			}
		}
	}
}

func FuzzLoad(f *testing.F) {
	for _, name := range []string{"values.yaml", "cool-gas.yaml"} {
		data, err := os.ReadFile(filepath.Join("../../trees/equipment", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
	shared, err := os.ReadFile("../../trees/equipment/values.yaml")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		cat, problems := Load(fstest.MapFS{"values.yaml": {Data: shared}, "x.yaml": {Data: []byte(text)}})
		for _, id := range cat.IDs() {
			if len(problems) != 0 {
				t.Errorf("%s was loaded with problems", id)
			}
			if _, err := NewBench(cat.Equipment(id).Nominal()); err != nil {
				t.Errorf("%s loads and does not build: %v", id, err)
			}
		}
		_ = source.Problems(problems).Render(3)
	})
}
