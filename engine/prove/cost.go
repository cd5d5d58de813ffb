package prove

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
	"stepdown/engine/quantity"
)

// CostRow is what calls about one complaint cost a technician on the nominal
// house of one equipment, averaged over the faults that show it: by the tree,
// by the best policy there is, by the half-split rule, and by a chart in a fixed
// order.
type CostRow struct {
	Complaint house.Complaint
	Equipment house.Equipment
	Faults    int
	Tree      Spent
	Best      Spent
	Exact     bool    // Best is the optimum; else rollout over the greedy rule
	Bound     float64 // readings no policy can do with less: H / log2 K
	Split     Spent
	Chart     Spent
}

// Spent is readings and minutes, on average.
type Spent struct{ Readings, Minutes float64 }

// rolloutWidth is how many tests rollout tries at each point.
const rolloutWidth = 3

// proveCost lays the trees against policies on the nominal houses.
func (p *physics) proveCost() []CostRow {
	type job struct {
		s *stage
		a *act
	}
	var jobs []job
	for _, s := range p.stages {
		for _, a := range s.acts {
			jobs = append(jobs, job{s, a})
		}
	}
	rows := make([]*CostRow, len(jobs))
	parallel(len(jobs), p.options.Workers, func(i int) {
		rows[i] = p.costOf(jobs[i].s, jobs[i].a)
	})
	var out []CostRow
	for _, r := range rows {
		if r != nil {
			out = append(out, *r)
		}
	}
	slices.SortStableFunc(out, func(a, b CostRow) int {
		return cmp.Or(cmp.Compare(a.Complaint, b.Complaint), cmp.Compare(a.Equipment, b.Equipment))
	})
	return out
}

// bench is the nominal house with each fault that shows the complaint.
type costBench struct {
	goals  *goalBook
	v      *values
	till   *policy.Till
	single bool // one cabinet for all
	faults []house.Fault
	weight []float64
	tests  []goal
	shows  [][]float64 // by test and fault, on the forecast's axis; NaN where it cannot be made
	tree   Spent
}

func (p *physics) costOf(s *stage, a *act) *CostRow {
	bench, err := circuit.NewBench(s.draws[0])
	if err != nil {
		return nil
	}
	b := &costBench{goals: newGoalBook(s.eq.ID), v: &values{bench: bench}, till: policy.NewTill(p.options.Prices, house.DefaultSetup(), false),
		single: s.eq.ID.Packaged()}
	p.fillCost(b, s, a)
	if len(b.faults) < 2 {
		return nil
	}
	row := &CostRow{Complaint: a.tree.ID, Equipment: s.eq.ID, Faults: len(b.faults), Tree: b.tree}
	table := b.table(s, false)
	best := table.Expect(policy.Greedy)
	if minutes, _, ok := table.Optimum(); ok {
		best.Minutes, row.Exact = minutes, true
	} else if rolled := table.Expect(policy.Rollout(rolloutWidth)); rolled.Minutes < best.Minutes {
		best = rolled
	}
	row.Best = Spent{best.Readings, best.Minutes}
	split := table.Expect(policy.HalfSplit)
	row.Split = Spent{split.Readings, split.Minutes}
	row.Bound = policy.EntropyBound(classes2(table), outcomesMost(table))
	chart, order := b.chart(s, a)
	fixed := chart.Expect(policy.ChartThen(order, len(b.faults)))
	row.Chart = Spent{fixed.Readings, fixed.Minutes}
	return row
}

// fillCost puts each fault into the nominal house, holds the tree's call, and
// reads every probe a technician may make.
func (p *physics) fillCost(b *costBench, s *stage, a *act) {
	d := s.draws[0]
	caller := profiles(d, 0, house.Tech)[0]
	w := newWalker(p.book.Trees, house.Tech, b.goals, b.v)
	w.straight, w.truth = true, caller.truth
	var call []goal
	w.ends = func(*ending) {
		call = call[:0]
		for _, x := range w.seen {
			g := b.goals.list[x.goal]
			call = append(call, goal{b.priced(g.setup), g.probe})
		}
	}
	for _, g := range a.universe {
		if house.Reach(house.Tech, caller.truth, g.probe, g.setup) == house.NoCut {
			b.tests = append(b.tests, g)
			b.shows = append(b.shows, nil)
		}
	}
	var spent Spent
	var sum float64
	for _, f := range s.eq.Faults() {
		if f == house.None || !b.v.become(f) {
			continue
		}
		if b.v.symptom(a.setups); !a.shown(b.v, b.goals) {
			continue
		}
		weight := p.options.weight(f)
		b.faults, b.weight = append(b.faults, f), append(b.weight, weight)
		w.truth = b.v.worlds[worldPlain].house.Draw().Facts()
		w.truth.Base, w.truth.Meter = caller.truth.Base, caller.truth.Meter
		w.call(a.tree, caller.known, NoSlip)
		spent.Readings += weight * float64(len(call))
		spent.Minutes += weight * bill(p.options.Prices, call)
		sum += weight
		b.read()
	}
	b.tree = Spent{spent.Readings / math.Max(sum, 1e-9), spent.Minutes / math.Max(sum, 1e-9)}
	if b.v.become(house.None) { // the healthy house, for the chart
		b.v.symptom(a.setups)
		b.read()
	}
}

// priced is a setup as it costs: a single cabinet has one cover, whichever of
// the two a step opens.
func (b *costBench) priced(s house.Setup) house.Setup {
	if b.single {
		s.CoverOutdoor = s.CoverOutdoor || s.CoverIndoor || s.Jumper != 0 && s.JumperAt == house.AtIndoor
		s.CoverIndoor, s.JumperAt = false, house.AtThermostat
	}
	return s
}

// bill is what the probes of one call come to, in the order they were made.
func bill(m policy.Minutes, call []goal) float64 {
	till, sum := policy.NewTill(m, house.DefaultSetup(), false), 0.0
	for _, g := range call {
		sum += till.Pay(g.setup, g.probe, false)
	}
	return sum
}

// weight is how likely a fault is beside the others; all alike where nothing is
// said.
func (o Options) weight(f house.Fault) float64 {
	if w, ok := o.Weights[f]; ok {
		return w
	}
	return 1
}

// read makes every probe in the house as it is.
func (b *costBench) read() {
	for i, g := range b.tests {
		x := b.v.at(b.goals.id(g), g, NoSlip, false)
		at := math.NaN()
		switch {
		case x.unable:
		case g.probe.IsLook():
			at = forecast.AtAnswer(x.answer)
		default:
			at = forecast.At(g.probe.Quantity, x.reading)
		}
		b.shows[i] = append(b.shows[i], at)
	}
}

// table is the faults as states and the probes as tests. Readings nearer than a
// meter can tell are one answer. Of tests that part the states alike the
// cheapest stay.
func (b *costBench) table(s *stage, healthy bool) *policy.Table {
	t := &policy.Table{Prior: b.weight}
	for _, f := range b.faults {
		t.Class = append(t.Class, int(s.keys[house.Tech][f]))
	}
	n := len(b.faults)
	if healthy {
		t.Prior = append(slices.Clone(b.weight), 1e-6)
		t.Class = append(t.Class, len(house.Findings()))
		n++
	}
	seen := map[string][]policy.Test{}
	for i, g := range b.tests {
		answers, distinct := cluster(g.probe, b.shows[i][:n])
		minutes, needs := b.till.Of(b.priced(g.setup), g.probe, false)
		test := policy.Answers(minutes, answers...)
		test.Needs = needs
		key := fmt.Sprint(answers)
		if !healthy && (distinct < 2 || slices.ContainsFunc(seen[key], func(o policy.Test) bool {
			return o.Needs&^needs == 0 && o.Minutes <= minutes
		})) {
			continue
		}
		seen[key] = append(seen[key], test)
		t.Tests = append(t.Tests, test)
	}
	t.Visits = b.till.Visits
	return t
}

// cluster numbers the answers that a meter can tell apart.
func cluster(p house.Probe, shows []float64) (answers []float64, distinct int) {
	sorted := slices.Clone(shows)
	slices.SortFunc(sorted, func(a, b float64) int { return cmp.Compare(a, b) }) // NaN first
	number := make([]float64, len(sorted))
	for i := 1; i < len(sorted); i++ {
		number[i] = number[i-1]
		if a, b := sorted[i-1], sorted[i]; math.IsNaN(a) != math.IsNaN(b) || b-a > apart(p, b) {
			number[i]++
		}
	}
	answers = make([]float64, len(shows))
	for i, x := range shows {
		at, _ := slices.BinarySearchFunc(sorted, x, func(a, b float64) int { return cmp.Compare(a, b) })
		answers[i] = number[at]
	}
	return answers, int(number[len(number)-1]) + 1
}

// apart is how far two readings lie apart that no meter confuses.
func apart(p house.Probe, x float64) float64 {
	switch {
	case p.IsLook():
		return 0
	case p.Quantity == quantity.Resistance:
		return 0.1 // of the logarithm
	case p.Quantity == quantity.Current:
		return 2 * circuit.MeterAccuracy(p.Quantity).Guard(x)
	}
	return 2 * (circuit.MeterAccuracy(p.Quantity).Guard(x) + marginVolts)
}

// chart is the table with its fixed order: R–C at the base, then each control
// point of the symptom's call from the transformer to the load. It stops at
// the first reading that the healthy house does not show; the tests that tell
// more follow, in their order.
func (b *costBench) chart(s *stage, a *act) (*policy.Table, []int) {
	t := b.table(s, true)
	call := a.setups[len(a.setups)-1]
	type stop struct{ rank, test int }
	var stops []stop
	for i, g := range b.tests {
		if g.probe.IsLook() || g.probe.Quantity != quantity.ACVolts || g.probe.LineClass() || !policy.SameWork(g.setup, call) ||
			g.setup.Thermostat == house.Removed {
			continue
		}
		stops = append(stops, stop{rank(g.probe, s), i})
	}
	slices.SortStableFunc(stops, func(a, b stop) int { return cmp.Compare(a.rank, b.rank) })
	order := make([]int, len(stops))
	for i, x := range stops {
		order[i] = x.test
	}
	return t, order
}

// rank is where a control point stands between the transformer and the load.
func rank(p house.Probe, s *stage) int {
	at := map[house.Place]int{house.AtThermostat: 1, house.AtIndoor: 2, house.AtOutdoor: 3}[p.At] * 100
	switch {
	case p.At == house.AtThermostat && p.Red == s.eq.Hot(house.Y):
		return 0
	case p.At == house.AtIndoor && (p.Red == house.Sec1 || p.Red == s.eq.Hot(house.Y)):
		return 50
	}
	return at + int(p.Red)
}

// classes2 is the weight of each class: what has to be told apart.
func classes2(t *policy.Table) []float64 {
	by := map[int]float64{}
	for i, c := range t.Class {
		by[c] += t.Prior[i]
	}
	var out []float64
	for _, w := range by {
		out = append(out, w)
	}
	slices.Sort(out)
	return out
}

// outcomesMost is how many answers the richest test has.
func outcomesMost(t *policy.Table) int {
	most := 2
	for _, test := range t.Tests {
		distinct := map[float64]bool{}
		for _, pieces := range test.Shows {
			distinct[pieces[0].Lo] = true
		}
		most = max(most, len(distinct))
	}
	return most
}

// costText writes the cost, one line a complaint, averaged over the equipment.
func (r *Report) costText() string {
	if len(r.Cost) == 0 {
		return ""
	}
	var b strings.Builder
	b.WriteString("readings and minutes a call, technician, nominal houses\n")
	fmt.Fprintf(&b, "%-20s %12s %12s %12s %12s  %s\n", "", "tree", "best", "half-split", "chart", "tree/best")
	for i := 0; i < len(r.Cost); {
		var sum CostRow
		n := 0
		for c := r.Cost[i].Complaint; i < len(r.Cost) && r.Cost[i].Complaint == c; i++ {
			row := r.Cost[i]
			sum.Complaint = c
			sum.Tree, sum.Best, sum.Split, sum.Chart = sum.Tree.plus(row.Tree), sum.Best.plus(row.Best), sum.Split.plus(row.Split), sum.Chart.plus(row.Chart)
			n++
		}
		fmt.Fprintf(&b, "%-20s %12s %12s %12s %12s  %8.2f\n", sum.Complaint, sum.Tree.mean(n), sum.Best.mean(n), sum.Split.mean(n), sum.Chart.mean(n),
			sum.Tree.Minutes/math.Max(sum.Best.Minutes, 1e-9))
	}
	b.WriteByte('\n')
	return b.String()
}

func (s Spent) plus(o Spent) Spent { return Spent{s.Readings + o.Readings, s.Minutes + o.Minutes} }

func (s Spent) mean(n int) string {
	return fmt.Sprintf("%.1f %.1f", s.Readings/float64(n), s.Minutes/float64(n))
}
