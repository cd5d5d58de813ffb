package main

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/journal"
)

// longCall is one that goes behind a cover: looks, a lockout, readings live
// and dead.
func longCall(t *testing.T) *modelled {
	t.Helper()
	m := newModelled(t, catalog(t).Equipment(house.CoolGas), house.ContactorCoilOpen, "the ac is not cooling")
	setup := house.DefaultSetup().With(house.CoolCall)
	m.house.Reset()
	if err := m.house.Play(setup); err != nil {
		t.Fatal(err)
	}
	return m
}

const longCallFinding = "contactor-coil-open"

// A call that is killed after any of its events resumes with every answer that
// was replied to, with nothing proven dead, and comes to the same finding.
func TestKilledAfterEveryEvent(t *testing.T) {
	if testing.Short() {
		t.Skip("starts the program dozens of times")
	}
	for n := 1; ; n++ {
		state, m := t.TempDir(), longCall(t)
		talk := begin(t, state, "chat", "--json")
		q, ended := some(t, talk, m, n)
		kill(t, talk)
		if ended {
			if n < 20 {
				t.Fatalf("the call ended after %d answers: too short for this test", n)
			}
			return
		}
		if got := len(onlyCall(t, state).Events); got != n+1 {
			t.Fatalf("killed after answer %d: %d events on disk, wanted %d and the start", n, got, n)
		}
		goOn(t, state, m, q, n%5 == 0)
	}
}

// A call that is killed at any moment loses at most what had no reply yet.
func TestKilledAtAnyMoment(t *testing.T) {
	if testing.Short() {
		t.Skip("starts the program dozens of times")
	}
	seed := uint64(time.Now().UnixNano())
	rng := rand.New(rand.NewPCG(seed, 0))
	for range 12 {
		n := 1 + rng.IntN(18)
		state, m := t.TempDir(), longCall(t)
		talk := begin(t, state, "chat", "--json")
		q, _ := some(t, talk, m, n)
		s, err := m.reply(q)
		if err == nil {
			err = talk.send(s.wire)
		}
		if err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rng.IntN(4000)) * time.Microsecond)
		kill(t, talk)
		if got := len(onlyCall(t, state).Events); got != n+1 && got != n+2 {
			t.Errorf("seed %d: killed during answer %d: %d events on disk", seed, n+1, got)
		}
		second := begin(t, state, "resume", "--json")
		if _, err := second.next(); err != nil {
			t.Errorf("seed %d: killed during answer %d: %v", seed, n+1, err)
		}
		kill(t, second)
	}
}

func begin(t *testing.T, state string, args ...string) *talk {
	t.Helper()
	talk, err := startTalk(state, args...)
	if err != nil {
		t.Fatal(err)
	}
	return talk
}

// some answers n questions; q is the one that is open then.
func some(t *testing.T, talk *talk, m *modelled, n int) (q line, ended bool) {
	t.Helper()
	q, err := talk.next()
	for i := 0; i < n && err == nil && q.Type != "end"; i++ {
		var s said
		if s, err = m.reply(q); err == nil {
			err = talk.send(s.wire)
		}
		if err == nil {
			q, err = talk.next()
		}
	}
	if err != nil {
		t.Fatalf("%v\nafter %v", err, m.told)
	}
	return q, q.Type == "end"
}

func kill(t *testing.T, talk *talk) {
	t.Helper()
	if err := talk.cmd.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = talk.cmd.Wait() // killed
}

func onlyCall(t *testing.T, state string) journal.Call {
	t.Helper()
	dir := folder(filepath.Join(state, "stepdown", "calls"))
	names, err := dir.calls()
	if err != nil || len(names) != 1 {
		t.Fatalf("%v %v, wanted one call", names, err)
	}
	call, err := journal.Load(dir, names[0]+callEnding)
	if err != nil {
		t.Fatal(err)
	}
	return call
}

// goOn resumes a killed call, to its end where toEnd is set. A look or reading
// that was open is asked again, after whatever makes it safe again.
func goOn(t *testing.T, state string, m *modelled, open line, toEnd bool) {
	t.Helper()
	talk := begin(t, state, "resume", "--json")
	defer talk.wait()
	q, err := talk.next()
	if err != nil {
		t.Fatalf("resumed before %s %s: %v", open.Type, open.Step, err)
	}
	if !talk.lines[0].Resumed {
		t.Error("hello does not say that the call was resumed")
	}
	if dead := provenDead(t, q); len(dead) > 0 {
		t.Errorf("after resume %v counts as proven dead", dead)
	}
	if !toEnd {
		kill(t, talk)
		return
	}
	if _, err = talk.answer(q, m); err != nil {
		t.Fatalf("resumed before %s %s: %v\nafter %v", open.Type, open.Step, err, m.told)
	}
	if got := found(talk.lines); got.Finding != longCallFinding {
		t.Errorf("resumed before %s %s: ended at %q, wanted %s", open.Type, open.Step, got.Finding, longCallFinding)
	}
}

func provenDead(t *testing.T, q line) []string {
	t.Helper()
	var s struct {
		Dead []string `json:"proven-dead"`
	}
	if q.Setup != nil {
		if err := json.Unmarshal(q.Setup, &s); err != nil {
			t.Fatal(err)
		}
	}
	return s.Dead
}

// A disk that cannot be written does not stop a call: it is said at once, and
// the call goes on in memory.
func TestACallWithoutADiskGoesOn(t *testing.T) {
	if os.Getuid() == 0 {
		t.Log("run as root: a folder that is a file stands for one that cannot be written")
	}
	state := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(state, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	m := longCall(t)
	talk := begin(t, state, "chat", "--json")
	q, err := firstAfterProblem(talk)
	if err == nil {
		_, err = talk.answer(q, m)
	}
	if err != nil {
		t.Fatalf("%v\nafter %v", err, m.told)
	}
	if got := found(talk.lines); got.Finding != longCallFinding {
		t.Errorf("ended at %q, wanted %s", got.Finding, longCallFinding)
	}
	if code := talk.lines[1].Code; code != "record" {
		t.Errorf("the second line is %+v, wanted a problem with the record", talk.lines[1])
	}
	talk.wait()
}

// firstAfterProblem reads past the one problem that is wanted.
func firstAfterProblem(t *talk) (line, error) {
	if l, err := t.next(); l.Type != "problem" {
		return l, err
	}
	return t.next()
}
