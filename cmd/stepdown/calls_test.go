package main

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"
)

// One file in the middle of many is damaged: it is named, left out, and the
// exit code says so; all the others are listed and counted.
func TestADamagedCallIsNamedAndSkipped(t *testing.T) {
	state := t.TempDir()
	dir := keepCalls(t, state, 30)
	names, err := dir.calls()
	if err != nil || len(names) != 30 {
		t.Fatal(names, err)
	}
	damage(t, dir, names[11])
	for _, verb := range [][]string{{"calls"}, {"calls", "stats"}, {"calls", "export"}} {
		w, out := stateWorld(t, state)
		var said bytes.Buffer
		w.stderr = &said
		if code := run(w, verb); code != exitUndecided {
			t.Errorf("%v: exit %d", verb, code)
		}
		if !strings.Contains(said.String(), names[11]+callEnding+":") || !strings.Contains(said.String(), "was changed after it was written") {
			t.Errorf("%v: the damaged file is not named: %s", verb, said.String())
		}
		shown, err := os.ReadFile(out.Name())
		if err != nil {
			t.Fatal(err)
		}
		lines := bytes.Count(shown, []byte("\n"))
		if verb[len(verb)-1] == "stats" {
			if !bytes.HasPrefix(shown, []byte("calls 29, ")) {
				t.Errorf("%s", shown)
			}
		} else if lines != 29 {
			t.Errorf("%v: %d lines, wanted 29", verb, lines)
		}
	}
}

// damage changes a line of a call that is kept.
func damage(t *testing.T, dir folder, name string) {
	t.Helper()
	path := dir.path(name + callEnding)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, bytes.Replace(data, []byte("running"), []byte("stopped"), 1), 0o600); err != nil {
		t.Fatal(err)
	}
}

// Of many calls that cannot be read a few are told of in full, the others by name.
func TestManyDamagedCallsAreToldShortly(t *testing.T) {
	state := t.TempDir()
	dir := keepCalls(t, state, brokenMost+2)
	names, err := dir.calls()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		damage(t, dir, name)
	}
	w, _ := stateWorld(t, state)
	var said bytes.Buffer
	w.stderr = &said
	if code := run(w, []string{"calls"}); code != exitUndecided {
		t.Errorf("exit %d", code)
	}
	if n := strings.Count(said.String(), "was changed after it was written"); n != brokenMost {
		t.Errorf("%d are told of in full:\n%s", n, said.String())
	}
	last := fmt.Sprintf("2 more cannot be read, stepdown calls show says why: %s, %s\n", names[brokenMost], names[brokenMost+1])
	if !strings.HasSuffix(said.String(), last) {
		t.Errorf("the last line is not %q:\n%s", last, said.String())
	}
}

// A call is forgotten by its whole name only, and not while it is open
// elsewhere.
func TestForget(t *testing.T) {
	state := t.TempDir()
	dir := keepCalls(t, state, 2)
	names, err := dir.calls()
	if err != nil {
		t.Fatal(err)
	}
	w, _ := stateWorld(t, state)
	held, err := dir.lock(names[0])
	if err != nil {
		t.Fatal(err)
	}
	if code := run(w, []string{"calls", "forget", names[0]}); code != exitOpen {
		t.Errorf("an open call: exit %d", code)
	}
	held.free(true)
	for _, word := range []string{"latest", names[0][:8], "../" + names[0]} {
		if code := run(w, []string{"calls", "forget", word}); code != exitUsage {
			t.Errorf("%s: exit %d", word, code)
		}
	}
	if code := run(w, []string{"calls", "forget", names[0]}); code != exitDone {
		t.Errorf("exit %d", code)
	}
	if left, _ := dir.calls(); len(left) != 1 || left[0] != names[1] {
		t.Errorf("left: %v", left)
	}
}

// What a damaged call or an unknown fault takes out of what is learned is said,
// and nothing of either is lost.
func TestLearningNamesWhatItLeavesOut(t *testing.T) {
	state := t.TempDir()
	dir := keepCalls(t, state, 3)
	names, err := dir.calls()
	if err != nil {
		t.Fatal(err)
	}
	w, _ := stateWorld(t, state)
	for _, n := range names {
		if code := run(w, []string{"calls", "close", n, "open-y"}); code != exitDone {
			t.Fatalf("closing %s: exit %d", n, code)
		}
	}
	change := func(name, from, to string) []byte {
		data, err := os.ReadFile(dir.path(name + callEnding))
		if err != nil || !bytes.Contains(data, []byte(from)) {
			t.Fatal(name, err)
		}
		data = bytes.Replace(data, []byte(from), []byte(to), 1)
		if err := os.WriteFile(dir.path(name+callEnding), data, 0o600); err != nil {
			t.Fatal(err)
		}
		return data
	}
	unknown, damaged := change(names[0], `"fault":"open-y"`, `"fault":"open-q"`), change(names[1], "running", "stopped")
	w, out := stateWorld(t, state)
	var said bytes.Buffer
	w.stderr = &said
	if code := run(w, []string{"calls", "learn"}); code != exitUndecided {
		t.Errorf("exit %d", code)
	}
	for _, want := range []string{"call " + names[0] + ` is closed as "open-q", which is no fault`, names[1] + callEnding + ":", "was changed after it was written"} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("%q is not said:\n%s", want, said.String())
		}
	}
	if shown, err := os.ReadFile(out.Name()); err != nil || !bytes.Contains(shown, []byte("Closed calls: 1;")) {
		t.Errorf("%s %v", shown, err)
	}
	for name, data := range map[string][]byte{names[0]: unknown, names[1]: damaged} {
		if now, err := os.ReadFile(dir.path(name + callEnding)); err != nil || !bytes.Equal(now, data) {
			t.Errorf("%s was changed: %v", name, err)
		}
	}
}
