package suspects

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
	"stepdown/engine/quantity"
)

// doubt is where a call has come to: its table, and the same with a healthy house
// beside it and a technician's chart, in its order.
type doubt struct {
	table, chart *policy.Table
	order        []int
	healthy      int
}

// doubts gathers those that calls come to while few enough faults are left for
// the optimum to be worked out.
func doubts(t *testing.T, draws int, ids []house.Equipment) []doubt {
	cat := catalog(t)
	e := New(forecast.New(cat, forecast.Options{Seed: 1, SlowFuse: forecast.SlowFuseUsual}), weights(t))
	var out []doubt
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
						out = append(out, p.doubt())
					}
				}
				tr.run()
			}
		}
	}
	return out
}

// copied is the table the last probe was chosen from, what was paid taken off and
// everything as likely as it was believed.
func (p *picker) copied() *policy.Table {
	t := &policy.Table{Prior: append([]float64(nil), p.weight...), Class: append([]int(nil), p.table.Class...),
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
	even := *b
	even.Weight = evened(nil, b.Weight)
	p := picker{table: *t, belief: even}
	if b.Live() > lookaheadLive {
		return policy.Greedy(t, &p.belief, useful)
	}
	return p.ahead(useful)
}

// doubt is the table the last probe was chosen from, and its chart: R–C at the
// base, then each control point of the complaint's call from the transformer to
// the load, needed or not, until one shows what a healthy house cannot; then the
// tests of the table in their order. The order is a technician's common practice.
func (p *picker) doubt() doubt {
	d := doubt{table: p.copied(), chart: p.copied(), healthy: len(p.live)}
	d.chart.Least = outcomeLeast
	d.chart.Prior = append(d.chart.Prior, 1e-6)
	d.chart.Class = append(d.chart.Class, slices.Max(d.chart.Class)+1)
	for i := range d.chart.Tests {
		d.chart.Tests[i] = p.charted(p.tests[p.chosen[i]], d.table.Visits)
	}
	hyp := p.call.hyps[p.live[0]]
	sheet := p.call.sheets[hyp.sheet]
	eq, symptom := p.call.engine.forecast.Catalog().Equipment(sheet.Kind().Equipment), sheet.Kind().Symptom
	type stop struct{ rank, test int }
	var stops []stop
	for _, c := range p.tests {
		g := c.goal
		if c.rested || g.Probe.IsLook() || g.Probe.Quantity != quantity.ACVolts || g.Probe.LineClass() ||
			g.Setup.Thermostat == house.Removed || !policy.SameWork(g.Setup, symptom) {
			continue
		}
		stops = append(stops, stop{rank(g.Probe, eq), len(d.chart.Tests)})
		d.chart.Tests = append(d.chart.Tests, p.charted(c, d.table.Visits))
	}
	slices.SortStableFunc(stops, func(a, b stop) int { return cmp.Compare(a.rank, b.rank) })
	for _, s := range stops {
		d.order = append(d.order, s.test)
	}
	return d
}

// charted is a probe as a test of the live hypotheses and a healthy house.
func (p *picker) charted(c candidate, visits []float64) policy.Test {
	shows := p.shows(c)
	hyp := p.call.hyps[p.live[0]]
	var healthy []policy.Piece
	for _, piece := range c.columns[hyp.sheet].Row(hyp.none) {
		healthy = append(healthy, policy.Piece(piece))
	}
	shows = append(shows, healthy)
	snap(shows, c.goal.Probe)
	minutes, needs := p.price.Of(c.goal.Setup, c.goal.Probe, c.rested)
	for bit := len(visits); bit < len(p.price.Visits); bit++ {
		if needs&(1<<bit) != 0 { // a setup that no test of the table needs
			minutes, needs = minutes+p.price.Visits[bit], needs&^(1<<bit)
		}
	}
	return policy.Test{Shows: shows, Minutes: minutes, Needs: needs}
}

// rank is where a control point stands between the transformer and the load.
func rank(p house.Probe, eq *circuit.Equipment) int {
	supply := p.Red == eq.Hot(house.Y) || p.Red == house.Sec1
	switch {
	case p.At == house.AtThermostat && supply:
		return 0
	case supply:
		return 50
	}
	return map[house.Place]int{house.AtThermostat: 100, house.AtIndoor: 200, house.AtOutdoor: 300}[p.At] + int(p.Red)
}

// Minutes a call against the exact optimum, where that can be worked out.
func TestMinutesAgainstTheOptimum(t *testing.T) {
	if testing.Short() {
		t.Skip("many whole calls: left to the run that is not short")
	}
	const beliefs, tablesMost = 4_000, 60
	draws, ids := trialDraws(catalog(t))
	list := doubts(t, min(draws, 3), ids)
	rng := rand.New(rand.NewPCG(5, 5))
	rng.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	list = list[:min(tablesMost, len(list))]
	rules := []struct {
		name string
		rule policy.Rule
	}{{"suspects", led}, {"greedy", policy.Greedy}, {"half-split", policy.HalfSplit}, {"fixed chart", nil}}
	sums := make([]float64, len(rules))
	optimum, computed := 0.0, 0
	for _, d := range list {
		b := d.table.Start()
		least, _, ok := d.table.OptimumFrom(&b, beliefs)
		if !ok || least == 0 {
			continue
		}
		computed++
		optimum += least
		for i, r := range rules {
			if r.rule == nil {
				sums[i] += d.chart.Expect(policy.ChartThen(d.order, d.healthy)).Minutes
				continue
			}
			sums[i] += d.table.Expect(r.rule).Minutes
		}
	}
	if computed == 0 {
		t.Fatal("no table's optimum could be worked out")
	}
	t.Logf("%d of %d doubts of at most %d suspects: optimum %.2f minutes on average", computed, len(list), policy.LiveMax, optimum/float64(computed))
	for i, r := range rules {
		t.Logf("%-12s %.2f minutes, %.3f of the optimum", r.name, sums[i]/float64(computed), sums[i]/optimum)
	}
	if sums[0] > 1.05*optimum {
		t.Errorf("calls take %.3f of the optimum's minutes, want 1.05 at most", sums[0]/optimum)
	}
}
