package suspects

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// wider is how much wider than the forecast's own ranges the houses are drawn
// that it is tried on.
const wider = 1.5

// trialDraws is how many houses an equipment is tried in, and on which. The
// environment variable STEPDOWN_LONG=20 tries every equipment in twenty.
func trialDraws(cat *circuit.Catalog) (int, []house.Equipment) {
	if n, err := strconv.Atoi(os.Getenv("STEPDOWN_LONG")); err == nil && n > 0 {
		return n, only(cat.IDs())
	}
	if testing.Short() {
		return 1, []house.Equipment{house.HeatOnly}
	}
	return 1, []house.Equipment{house.CoolGas, house.HeatOnly}
}

// firstDraw is the seed of the first house, STEPDOWN_SEED where that is given: a
// long run can be taken in parts.
func firstDraw() int {
	n, err := strconv.Atoi(os.Getenv("STEPDOWN_SEED"))
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// only keeps the equipment of STEPDOWN_EQUIPMENT, where that is given.
func only(ids []house.Equipment) []house.Equipment {
	want := os.Getenv("STEPDOWN_EQUIPMENT")
	if want == "" {
		return ids
	}
	var out []house.Equipment
	for _, id := range ids {
		if strings.Contains(" "+want+" ", " "+id.String()+" ") {
			out = append(out, id)
		}
	}
	return out
}

// variant is one way calls go.
type variant struct {
	name  string
	least float64 // share that must end right
	set   func(tr *trial, rng *rand.Rand)
}

var variants = []variant{
	{"as it is", .99, func(*trial, *rand.Rand) {}},
	{"one probe cannot be made", .97, func(tr *trial, rng *rand.Rand) { tr.unable = rng.IntN(6) }},
	{"one reading wrong", .90, func(tr *trial, rng *rand.Rand) { tr.wrong = rng.IntN(6) }},
	{"call never made", 0, func(tr *trial, _ *rand.Rand) { tr.slip = CallNotMade }},
	{"compressor delay running", 0, func(tr *trial, _ *rand.Rand) { tr.slip = DelayStillRunning }},
	{"wrong mode throughout", 0, func(tr *trial, _ *rand.Rand) { tr.slip = WrongMode }},
	{"meter on DC throughout", 0, func(tr *trial, _ *rand.Rand) { tr.slip = MeterOnDC }},
	{"dead lead throughout", 0, func(tr *trial, _ *rand.Rand) { tr.slip = DeadLead }},
}

// tally is what a variant came to.
type tally struct {
	calls, right, atS, condemned int
	over, minutes, probes        float64
}

func (s *tally) take(tr *trial, distinct bool) {
	s.calls++
	s.minutes += tr.minutes
	s.probes += float64(len(tr.call.seen))
	if tr.right() {
		s.right++
	}
	if tr.condemned() {
		s.condemned++
	}
	if distinct {
		n := tr.indistinct()
		s.over += float64(len(tr.verdict.Findings)) / float64(n)
		if tr.right() && n == len(tr.verdict.Findings) {
			s.atS++
		} else if testing.Verbose() {
			tr.t.Logf("%d findings left of %v: %s", n, tr.verdict.Findings, tr)
		}
	}
}

func (s *tally) share(n int) float64 { return float64(n) / float64(max(1, s.calls)) }

// Without any tree, from the complaint alone, on houses drawn from a box wider
// than the forecast's own.
func TestSuspectsAlone(t *testing.T) {
	cat := catalog(t)
	f := forecast.New(cat, forecast.Options{Seed: 1, SlowFuse: forecast.SlowFuseUsual})
	e := New(f, weights(t))
	draws, ids := trialDraws(cat)
	first := firstDraw()
	scores := make([]tally, len(variants))
	for _, id := range ids {
		eq := cat.Equipment(id)
		for draw := first; draw < first+draws; draw++ {
			b, err := circuit.NewBench(eq.Sample(rand.New(rand.NewPCG(uint64(draw), uint64(id))), wider))
			if err != nil {
				t.Fatal(err)
			}
			for n, fault := range eq.Faults() {
				for v, kind := range variants {
					if kind.least == 0 && (n+draw)%3 != 0 {
						continue // a slip kept up: every third fault, another third in the next house
					}
					rng := rand.New(rand.NewPCG(uint64(draw)<<16|uint64(v), uint64(id)<<16|uint64(fault)))
					tr := &trial{t: t, engine: e, eq: eq, bench: b, faults: []house.Fault{fault}, unable: -1, wrong: -1, rng: rng}
					kind.set(tr, rng)
					if !tr.run() {
						continue
					}
					scores[v].take(tr, v == 0)
					if tr.condemned() || testing.Verbose() && kind.least > 0 && !tr.right() {
						t.Logf("%s, draw %d: %s", kind.name, draw, tr)
					}
				}
			}
		}
	}
	t.Logf("%v, %d draws from seed %d on, from a box %.1f times as wide as the forecast's", ids, draws, first, wider)
	for v, kind := range variants {
		s := &scores[v]
		line := fmt.Sprintf("%-26s %5d calls  %5.1f %% end with the fault among what is left  %d good thermostats condemned  %4.1f probes  %5.1f min",
			kind.name, s.calls, 100*s.share(s.right), s.condemned, s.probes/float64(s.calls), s.minutes/float64(s.calls))
		if v == 0 {
			line += fmt.Sprintf("  at S %.1f %%  set over S %.3f", 100*s.share(s.atS), s.over/float64(s.calls))
		}
		t.Log(line)
		// one call may go wrong beyond the share where there are few
		if missed := s.calls - s.right; kind.least > 0 && float64(missed) > (1-kind.least)*float64(s.calls)+1 {
			t.Errorf("%s: %.1f %% end right, want %.0f %%", kind.name, 100*s.share(s.right), 100*kind.least)
		}
		if s.condemned > 0 {
			t.Errorf("%s: %d good thermostats condemned", kind.name, s.condemned)
		}
	}
	if over := scores[0].over / float64(scores[0].calls); over > 1.1 {
		t.Errorf("sets are %.3f times S on average, want 1.1 at most", over)
	}
}
