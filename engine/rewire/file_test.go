package rewire_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/rewire"
)

var update = flag.Bool("update", false, "write the expected output anew")

const files = "../../testdata/rewire"

func caseFiles(t *testing.T, pattern string) []string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(files, pattern))
	if err != nil || len(names) == 0 {
		t.Fatalf("no files %s: %v", pattern, err)
	}
	return names
}

// TestFiles answers each file of testdata/rewire as its golden says; a file
// whose name starts with check- is a landing already made.
func TestFiles(t *testing.T) {
	for _, name := range caseFiles(t, "*.yaml") {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		c, problems := rewire.Parse(filepath.Base(name), data)
		if err := problems.Err(); err != nil {
			t.Fatal(err)
		}
		var text string
		if strings.HasPrefix(filepath.Base(name), "check-") {
			k, err := solver().Check(c)
			if err != nil {
				t.Fatal(err)
			}
			text = k.Text()
		} else {
			text = solve(t, c).Text()
		}
		for n, line := range strings.Split(text, "\n") {
			if len([]rune(line)) > 80 {
				t.Errorf("%s: line %d is wider than 80: %q", name, n+1, line)
			}
		}
		golden := strings.TrimSuffix(name, ".yaml") + ".golden"
		if *update {
			if err := os.WriteFile(golden, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if text != string(want) {
			t.Errorf("%s:\n%s\nwant\n%s", name, text, want)
		}
	}
}

// TestBadFiles finds each problem on the line that says so, and no other.
func TestBadFiles(t *testing.T) {
	for _, name := range caseFiles(t, "bad/*.yaml") {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var want, got []string
		for n, line := range strings.Split(string(data), "\n") {
			if _, codes, ok := strings.Cut(line, "# want: "); ok {
				for _, code := range strings.Fields(codes) {
					want = append(want, fmt.Sprintf("%d %s", n+1, code))
				}
			}
		}
		_, problems := rewire.Parse(filepath.Base(name), data)
		for _, p := range problems {
			got = append(got, fmt.Sprintf("%d %s", p.Pos.Line, p.Code))
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s:\n%s\ngot  %v\nwant %v", name, problems.Render(0), got, want)
		}
	}
}
