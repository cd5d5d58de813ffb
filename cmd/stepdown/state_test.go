package main

import (
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
)

func TestStateFolder(t *testing.T) {
	if runtime.GOOS == "windows" || runtime.GOOS == "darwin" {
		t.Skip("the places below are those of other platforms")
	}
	for _, c := range []struct{ xdg, home, want string }{
		{"/x", "/h", "/x/stepdown"},
		{"", "/h", "/h/.local/state/stepdown"},
		{"relative", "/h", "/h/.local/state/stepdown"}, // a relative value counts for nothing
		{"", "", ""},
		{"relative", "here", ""},
	} {
		w := world{env: func(name string) string { return map[string]string{"XDG_STATE_HOME": c.xdg, "HOME": c.home}[name] }}
		got, err := w.stateFolder()
		if got != c.want || (err == nil) != (c.want != "") {
			t.Errorf("XDG_STATE_HOME=%q HOME=%q: %q %v, wanted %q", c.xdg, c.home, got, err, c.want)
		}
	}
}

// What people said on a call is theirs alone.
func TestCallsAreTheOwnersAlone(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("modes are kept otherwise there")
	}
	state := t.TempDir()
	leave(t, state)
	for name, want := range map[string]os.FileMode{"stepdown": 0o700, "stepdown/calls": 0o700, "stepdown/calls/*.jsonl": 0o600, "stepdown/calls/*.lock": 0o600} {
		found, err := filepath.Glob(filepath.Join(state, name))
		if err != nil || len(found) != 1 {
			t.Fatalf("%s: %v %v", name, found, err)
		}
		info, err := os.Stat(found[0])
		if err != nil {
			t.Fatal(err)
		}
		if got := info.Mode().Perm(); got != want {
			t.Errorf("%s has mode %o, wanted %o", name, got, want)
		}
	}
}

func TestCallsInTheOrderTheyStarted(t *testing.T) {
	want := []string{"20251231-2359", "20260714-1504", "20260714-1504-2", "20260714-1504-10", "20260714-1505"}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, byAge)
	if !slices.Equal(got, want) {
		t.Errorf("%v, wanted %v", got, want)
	}
}

func TestCallNamesStayInTheFolder(t *testing.T) {
	for name, want := range map[string]bool{
		"20260714-1504": true, "20260714-1504-2": true, "": false, "..": false, "../a": false, "a/b": false, `a\b`: false, "a\x1b": false, ".hidden": false,
	} {
		if validCall(name) != want {
			t.Errorf("%q: %v", name, !want)
		}
	}
}

func TestTheFingerprintIsOfTheContent(t *testing.T) {
	dir := t.TempDir()
	built, err := library{}.fingerprint()
	if err != nil {
		t.Fatal(err)
	}
	empty, err := library{own: dir}.fingerprint()
	if err != nil || empty != built {
		t.Errorf("an empty folder changes %s to %s (%v)", built, empty, err)
	}
	if err := os.WriteFile(filepath.Join(dir, "limits.yaml"), []byte("limits: {}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	own, err := library{own: dir}.fingerprint()
	if err != nil || own == built {
		t.Errorf("a file of one's own does not show in %s (%v)", own, err)
	}
}
