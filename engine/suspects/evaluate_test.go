package suspects

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// wider is how much wider than the forecast's own ranges the houses are drawn
// that it is tried on.
const wider = 1.5

// long is set to try every equipment; the environment variable gives the draws.
func long() (draws int, ok bool) {
	n, err := strconv.Atoi(os.Getenv("STEPDOWN_LONG"))
	return n, err == nil && n > 0
}

type score struct {
	calls, right, exact, condemned, single int
	over, minutes, readings                float64
}

func (s *score) take(tr *trial, distinct bool) {
	s.calls++
	if tr.right() {
		s.right++
	}
	if tr.condemned() {
		s.condemned++
	}
	if len(tr.verdict.Findings) == 1 {
		s.single++
	}
	s.minutes += tr.minutes
	s.readings += float64(len(tr.call.seen))
	if distinct {
		n := tr.indistinct()
		s.over += float64(len(tr.verdict.Findings)) / float64(n)
		if n == len(tr.verdict.Findings) {
			s.exact++
		}
	}
}

func TestScratchEval(t *testing.T) {
	cat := catalog(t)
	f := forecast.New(cat, forecast.Options{Seed: 1})
	e := New(f, weights(t))
	draws, _ := long()
	draws = max(draws, 1)
	for _, id := range cat.IDs() {
		if want := os.Getenv("EQ"); want != "" && want != id.String() {
			continue
		}
		eq := cat.Equipment(id)
		rng := rand.New(rand.NewPCG(9, uint64(id)))
		var s score
		t0 := time.Now()
		for range draws {
			b, err := circuit.NewBench(eq.Sample(rng, wider))
			if err != nil {
				t.Fatal(err)
			}
			for _, fault := range eq.Faults() {
				tr := &trial{t: t, engine: e, eq: eq, bench: b, faults: []house.Fault{fault}, unable: -1, wrong: -1, rng: rng}
				if !tr.run() {
					continue
				}
				s.take(tr, true)
				if !tr.right() || tr.condemned() || os.Getenv("SHOW") == fault.String() {
					t.Log(tr)
				} else {
					t.Log(fault, tr.verdict.Findings, len(tr.call.seen), tr.minutes)
				}
			}
		}
		n := float64(s.calls)
		t.Logf("%s calls %d right %.3f exactly S %.3f over S %.3f condemned %d single %.3f minutes %.1f readings %.1f  %v", id, s.calls, float64(s.right)/n, float64(s.exact)/n, s.over/n, s.condemned, float64(s.single)/n, s.minutes/n, s.readings/n, time.Since(t0))
	}
}
