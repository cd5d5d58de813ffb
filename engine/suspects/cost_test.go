package suspects

import (
	"math/rand/v2"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
)

// doubts gathers the policy tables that calls come to while few enough faults
// are left for the optimum to be worked out.
func doubts(t *testing.T, draws int, ids []house.Equipment) []*policy.Table {
	cat := catalog(t)
	e := New(forecast.New(cat, forecast.Options{Seed: 1, SlowFuse: forecast.SlowFuseUsual}), weights(t))
	var out []*policy.Table
	for _, id := range ids {
		eq := cat.Equipment(id)
		for draw := range draws {
			rng := rand.New(rand.NewPCG(uint64(draw), uint64(id)<<12))
			b, err := circuit.NewBench(eq.Sample(rng, 1))
			if err != nil {
				t.Fatal(err)
			}
			for _, fault := range eq.Faults() {
				tr := &trial{t: t, engine: e, eq: eq, bench: b, faults: []house.Fault{fault}, unable: -1, wrong: -1, rng: rng}
				tr.each = func() {
					p := &tr.call.picker
					if settled, err := tr.call.Settled(); err == nil && !settled && len(p.live) <= policy.LiveMax && len(p.table.Tests) > 0 {
						out = append(out, p.copied())
					}
				}
				tr.run()
			}
		}
	}
	return out
}

// copied is the table the last probe was chosen from, what was paid taken off.
func (p *picker) copied() *policy.Table {
	t := &policy.Table{Prior: append([]float64(nil), p.table.Prior...), Class: append([]int(nil), p.table.Class...),
		Visits: append([]float64(nil), p.table.Visits...)}
	for bit := range t.Visits {
		if p.belief.Paid&(1<<bit) != 0 {
			t.Visits[bit] = 0
		}
	}
	for _, test := range p.table.Tests {
		shows := make([][]policy.Piece, len(test.Shows))
		for i := range shows {
			shows[i] = append([]policy.Piece(nil), test.Shows[i]...)
		}
		t.Tests = append(t.Tests, policy.Test{Shows: shows, Minutes: test.Minutes, Needs: test.Needs})
	}
	return t
}

// led is the rule the suspects themselves go by, from the start of a table.
func led(t *policy.Table, b *policy.Belief, useful []int) int {
	p := picker{table: *t, belief: *b}
	if b.Live() > lookaheadLive {
		return policy.Greedy(t, b, useful)
	}
	return p.ahead(useful)
}

// inOrder makes the useful tests in the order of the table: supply first, then
// call by call and from place to place.
func inOrder(_ *policy.Table, _ *policy.Belief, useful []int) int { return useful[0] }

// Minutes a call against the exact optimum, where that can be worked out.
func TestMinutesAgainstTheOptimum(t *testing.T) {
	const beliefs, tablesMost = 4_000, 60
	draws, ids := trialDraws(catalog(t))
	tables := doubts(t, min(draws, 3), ids)
	rng := rand.New(rand.NewPCG(5, 5))
	rng.Shuffle(len(tables), func(i, j int) { tables[i], tables[j] = tables[j], tables[i] })
	rules := []struct {
		name string
		rule policy.Rule
	}{{"suspects", led}, {"greedy", policy.Greedy}, {"half-split", policy.HalfSplit}, {"fixed order", inOrder}}
	sums := make([]float64, len(rules))
	optimum, computed := 0.0, 0
	for _, table := range tables[:min(tablesMost, len(tables))] {
		b := table.Start()
		least, _, ok := table.OptimumFrom(&b, beliefs)
		if !ok || least == 0 {
			continue
		}
		computed++
		optimum += least
		for i, r := range rules {
			sums[i] += table.Expect(r.rule).Minutes
		}
	}
	if computed == 0 {
		t.Fatal("no table's optimum could be worked out")
	}
	t.Logf("%d of %d doubts of at most %d suspects: optimum %.2f minutes on average", computed, min(tablesMost, len(tables)), policy.LiveMax, optimum/float64(computed))
	for i, r := range rules {
		t.Logf("%-12s %.2f minutes, %.3f of the optimum", r.name, sums[i]/float64(computed), sums[i]/optimum)
	}
	if sums[0] > 1.05*optimum {
		t.Errorf("calls take %.3f of the optimum's minutes, want 1.05 at most", sums[0]/optimum)
	}
}
