package policy

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// drawTable is a random table of certain answers and even spreads.
func drawTable(t *rapid.T) *Table {
	states := rapid.IntRange(2, 6).Draw(t, "states")
	table := &Table{Visits: []float64{3, 5}}
	for s := 0; s < states; s++ {
		table.Prior = append(table.Prior, rapid.Float64Range(.01, 1).Draw(t, "prior"))
		table.Class = append(table.Class, rapid.IntRange(0, states-1).Draw(t, "class"))
	}
	for i := rapid.IntRange(1, 5).Draw(t, "tests"); i > 0; i-- {
		test := Test{Minutes: float64(rapid.IntRange(1, 5).Draw(t, "minutes")), Needs: uint64(rapid.IntRange(0, 3).Draw(t, "needs"))}
		for s := 0; s < states; s++ {
			lo := float64(rapid.IntRange(0, 4).Draw(t, "lo"))
			hi := lo + float64(rapid.IntRange(0, 2).Draw(t, "width"))
			test.Shows = append(test.Shows, []Piece{{lo, hi, 1}})
		}
		table.Tests = append(table.Tests, test)
	}
	return table
}

func TestBranchesKeepProbability(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		b := table.Start()
		mean := make([]float64, len(b.Weight))
		var sum float64
		for _, branch := range table.Branches(&b, 0) {
			sum += branch.P
			for s, w := range branch.After.Weight {
				mean[s] += branch.P * w
			}
		}
		// 1e-9: sums of at most forty terms of order one
		if math.Abs(sum-1) > 1e-9 {
			t.Fatalf("the branches' probabilities sum to %g", sum)
		}
		for s := range mean {
			if math.Abs(mean[s]-b.Weight[s]) > 1e-9 {
				t.Fatalf("state %d: the mean of the beliefs after is %g, before %g", s, mean[s], b.Weight[s])
			}
		}
	})
}

// The sweep against the same gain from the branches, which are found in another
// way.
func TestGainAgreesWithBranches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		for s := range table.Class {
			table.Class[s] = s
		}
		b := table.Start()
		var m Mixture
		for i := range table.Tests {
			want := Entropy(b.Weight)
			for _, branch := range table.Branches(&b, i) {
				want -= branch.P * Entropy(branch.After.Weight)
			}
			if got := table.GainOf(&m, &b, i); math.Abs(got-want) > 1e-9 {
				t.Fatalf("test %d: gain %g, by branches %g", i, got, want)
			}
		}
	})
}

func TestNoRuleBeatsTheOptimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		best, _, ok := table.Optimum()
		if !ok {
			t.Skip("too entangled")
		}
		greedy, rollout := table.Expect(Greedy).Minutes, table.Expect(Rollout(0)).Minutes
		half := table.Expect(HalfSplit).Minutes
		order := make([]int, len(table.Tests))
		for i := range order {
			order[i] = i
		}
		chart := table.Expect(ChartThen(order, 0)).Minutes
		for name, cost := range map[string]float64{"greedy": greedy, "rollout": rollout, "half-split": half, "chart": chart} {
			if cost < best-1e-9 {
				t.Fatalf("%s costs %g, less than the optimum %g", name, cost, best)
			}
		}
		if rollout > greedy+1e-9 {
			t.Fatalf("rollout costs %g, more than the greedy rule %g it improves on", rollout, greedy)
		}
	})
}

func TestEntropyAndHuffmanBoundTheOptimum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SliceOfN(rapid.Float64Range(.001, 1), 2, 9).Draw(t, "p")
		h, code := Entropy(p), Huffman(p)
		if code < h-1e-9 || code >= h+1 {
			t.Fatalf("Huffman %g is outside [%g, %g)", code, h, h+1)
		}
	})
}

// Greedy gain stays within (ln n + 1) of the optimum (Adler and Heeringa,
// 2008); on random tables it is far nearer, and rollout nearer still.
func TestRulesOnRandomTables(t *testing.T) {
	const tables, seed = 150, 7
	rng := rand.New(rand.NewPCG(seed, seed))
	var greedy, rollout ratios
	for k := 0; k < tables; k++ {
		n := 4 + rng.IntN(5)
		table := &Table{}
		for s := 0; s < n; s++ {
			table.Prior, table.Class = append(table.Prior, rng.ExpFloat64()), append(table.Class, s)
		}
		for i := 0; i < n+2; i++ {
			answers := make([]float64, n)
			for s := range answers {
				answers[s] = float64(rng.IntN(2))
			}
			table.Tests = append(table.Tests, Answers(1+rng.Float64()*4, answers...))
		}
		best, _, ok := table.Optimum()
		if !ok || best == 0 {
			continue
		}
		greedy.add(table.Expect(Greedy).Minutes / best)
		rollout.add(table.Expect(Rollout(0)).Minutes / best)
		if limit := math.Log(float64(n)) + 1; greedy.last > limit {
			t.Errorf("table %d: greedy is %.3f of the optimum, over ln n + 1 = %.3f", k, greedy.last, limit)
		}
	}
	t.Logf("seed %d, minutes over the optimum: greedy %s, rollout %s", seed, &greedy, &rollout)
	if rollout.mean() > 1.02 || greedy.mean() > 1.10 {
		t.Errorf("greedy %s, rollout %s: further off than such rules are", &greedy, &rollout)
	}
}

type ratios struct {
	n                int
	sum, worst, last float64
}

func (r *ratios) add(x float64) {
	r.n, r.sum, r.worst, r.last = r.n+1, r.sum+x, max(r.worst, x), x
}
func (r *ratios) mean() float64  { return r.sum / float64(r.n) }
func (r *ratios) String() string { return fmt.Sprintf("mean %.4f worst %.3f", r.mean(), r.worst) }

func TestAVisitIsPaidOnce(t *testing.T) {
	table := &Table{Prior: []float64{1, 1, 1}, Class: []int{0, 1, 2}, Visits: []float64{10},
		Tests: []Test{Answers(1, 0, 1, 1), Answers(1, 0, 0, 1)}}
	table.Tests[0].Needs, table.Tests[1].Needs = 1, 1
	cost, _, _ := table.Optimum()
	// 10 for the cover, one reading always, the second in two of three cases
	near(t, "minutes", cost, 10+1+2.0/3, 1e-12)
}

func TestWhatCannotBeToldApartEndsTheCall(t *testing.T) {
	table := &Table{Prior: []float64{1, 1}, Class: []int{0, 1}, Tests: []Test{Answers(1, 4, 4), Spreads(1, [2]float64{0, 1}, [2]float64{0, 1})}}
	o := table.Expect(Greedy)
	if o.Readings != 0 || o.Classes != 2 {
		t.Errorf("made %g readings and left %g, want 0 and 2", o.Readings, o.Classes)
	}
}

// Two tests that tell nothing one by one and everything together.
func TestTwoTestsTogether(t *testing.T) {
	table := &Table{Prior: []float64{1, 1, 1, 1}, Class: []int{0, 0, 1, 1},
		Tests: []Test{Answers(1, 0, 1, 0, 1), Answers(1, 0, 1, 1, 0)}}
	for name, rule := range map[string]Rule{"greedy": Greedy, "rollout": Rollout(0), "half-split": HalfSplit} {
		if o := table.Expect(rule); math.Abs(o.Classes-1) > 1e-12 {
			t.Errorf("%s leaves %g findings", name, o.Classes)
		}
	}
}

func TestChartStopsAtTheFirstDeviation(t *testing.T) {
	table := &Table{Prior: []float64{1, 1, 1}, Class: []int{0, 1, 2},
		Tests: []Test{Answers(1, 0, 0, 1), Answers(1, 0, 1, 1)}}
	o := table.Expect(Chart([]int{0, 1}, 0))
	// state 2 deviates at once, the others take both
	near(t, "readings", o.Readings, 1.0/3+2*2.0/3, 1e-12)
	near(t, "findings left", o.Classes, 1, 1e-12)
}

func BenchmarkGain(b *testing.B) {
	for _, n := range []int{10, 60, 600} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			rng := rand.New(rand.NewPCG(1, 1))
			lo, wide := make([]float64, n), make([]float64, n)
			for s := range lo {
				lo[s], wide[s] = rng.Float64()*30, rng.Float64()*3
			}
			var m Mixture
			b.ReportAllocs()
			for b.Loop() {
				m.Reset(n)
				for s := range lo {
					m.Add(s, 1, lo[s], lo[s]+wide[s])
				}
				m.Gain()
			}
		})
	}
}

func BenchmarkOptimumTwelveStates(b *testing.B) {
	rng := rand.New(rand.NewPCG(3, 3))
	table := &Table{}
	for s := 0; s < LiveMax; s++ {
		table.Prior, table.Class = append(table.Prior, rng.Float64()), append(table.Class, s)
	}
	for i := 0; i < 20; i++ {
		answers := make([]float64, LiveMax)
		for s := range answers {
			answers[s] = float64(rng.IntN(2))
		}
		table.Tests = append(table.Tests, Answers(1, answers...))
	}
	for b.Loop() {
		if _, _, ok := table.Optimum(); !ok {
			b.Fatal("too entangled")
		}
	}
}

// A chart pays for its tests needed or not: one that tells nothing is no end.
func TestChartPaysForWhatTellsNothing(t *testing.T) {
	table := &Table{
		Prior: []float64{1, 1, 1e-9}, Class: []int{0, 1, 2},
		Tests: []Test{Answers(3, 0, 0, 0), Answers(4, 0, 0, 0), Answers(2, 1, 2, 0)},
	}
	o := table.Expect(ChartThen([]int{0, 1, 2}, 2))
	if math.Abs(o.Minutes-9) > 1e-6 || math.Abs(o.Readings-3) > 1e-6 || math.Abs(o.Classes-1) > 1e-6 {
		t.Errorf("%+v, wanted 3 + 4 + 2 minutes and one class left", o)
	}
}

// The optimum against one that tries every useful test at every belief.
func TestOptimumLeavesOutNothingBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		table := drawTable(t)
		for i := range table.Tests { // mostly certain answers, so that many tests part the states alike
			for s := range table.Tests[i].Shows {
				if p := &table.Tests[i].Shows[s][0]; rapid.IntRange(0, 3).Draw(t, "spread") > 0 {
					p.Lo = math.Mod(p.Lo, 2)
					p.Hi = p.Lo
				}
			}
		}
		b := table.Start()
		got, _, ok := table.Optimum()
		if want := plainest(table, &b); ok && math.Abs(got-want) > 1e-9 { // sums of a few dozen terms of order ten
			t.Fatalf("the optimum is %g, every test tried it is %g", got, want)
		}
	})
}

func plainest(t *Table, b *Belief) float64 {
	best, useful := math.Inf(1), t.Useful(b)
	if len(useful) == 0 {
		return 0
	}
	for _, i := range useful {
		minutes := t.Cost(b, i)
		for _, branch := range t.Branches(b, i) {
			minutes += branch.P * plainest(t, &branch.After)
		}
		best = min(best, minutes)
	}
	return best
}
