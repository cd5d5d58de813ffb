package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// plain is a folder without syncs, for benchmarks that only read.
type plain struct{ folder }

func (p plain) Create(name string) (journal.File, error) {
	f, err := os.Create(p.path(name))
	return unsynced{f}, err
}
func (plain) Sync() error { return nil }

type unsynced struct{ *os.File }

func (unsynced) Sync() error { return nil }

// keepCalls fills a state folder with so many calls of 40 events.
func keepCalls(t testing.TB, state string, calls int) folder {
	t.Helper()
	dir := folder(filepath.Join(state, "stepdown", "calls"))
	if err := os.MkdirAll(string(dir), 0o700); err != nil {
		t.Fatal(err)
	}
	at := time.Date(2026, 1, 1, 8, 0, 0, 0, time.UTC)
	findings := []string{"fuse-blown", "open-y", "float-open", "stat-y-open", "undecided"}
	for i := range calls {
		at = at.Add(time.Minute)
		j, err := journal.Create(plain{dir}, at.Format(nameLayout)+callEnding, journal.Head{Version: version, Started: at})
		if err != nil {
			t.Fatal(err)
		}
		for n := range 40 {
			e := session.Event{Kind: session.Done, At: at.Add(time.Duration(n) * 20 * time.Second)}
			switch {
			case n == 0:
				e.Kind, e.Open = session.Start, &session.Opening{Audience: house.Tech, Equipment: "cool-gas", Complaint: "the ac is not cooling"}
			case n%4 == 1:
				e.Kind, e.Reply = session.Answer, "running"
			case n%4 == 2:
				e.Kind, e.Read = session.Values, map[string]quantity.Reading{"rc": quantity.Of(26.8), "yc": quantity.Of(0.1)}
			}
			err = j.Append(e)
		}
		if err == nil {
			err = j.Finish(journal.End{Finding: findings[i%len(findings)]})
		}
		if err != nil {
			t.Fatal(err)
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func stateWorld(t testing.TB, state string) (world, *os.File) {
	t.Helper()
	out, err := os.Create(filepath.Join(state, "out"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = out.Close() })
	env := func(name string) string { return map[string]string{"XDG_STATE_HOME": state, "LC_ALL": "C.UTF-8"}[name] }
	return world{stdin: os.Stdin, stdout: out, stderr: io.Discard, env: env, now: time.Now}, out
}

// BenchmarkCalls lists and counts kept calls of 40 events, beside reading
// their files and nothing else; µs/call stays the same as calls grow.
func BenchmarkCalls(b *testing.B) {
	for _, calls := range []int{1000, 10000} {
		if calls > 1000 && testing.Short() {
			continue
		}
		state := b.TempDir()
		dir := keepCalls(b, state, calls)
		w, _ := stateWorld(b, state)
		run := func(name string, do func() error) {
			b.Run(fmt.Sprintf("%s/%d", name, calls), func(b *testing.B) {
				for b.Loop() {
					if err := do(); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(calls), "µs/call")
			})
		}
		run("read", func() error {
			names, err := dir.calls()
			for _, name := range names {
				if _, err = dir.ReadFile(name + callEnding); err != nil {
					break
				}
			}
			return err
		})
		run("list", func() error { return w.listCalls(false) })
		run("stats", func() error {
			if code := run1(w, "calls", "stats"); code != exitDone {
				return fmt.Errorf("exit %d", code)
			}
			return nil
		})
	}
}

func run1(w world, args ...string) int { return run(w, args) }
