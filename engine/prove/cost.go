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
// order. These three know what this one house reads to the last volt, and what
// tells two faults apart there need not do so in the next. Best and chart are
// therefore given as well for somebody who knows no more of the house than its
// kind: readings that are one fault's here and may be another's in some other
// house are one answer.
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
	AnyBest   Spent // best and chart by what holds in any house
	AnyExact  bool
	AnyChart  Spent
}

// Spent is readings and minutes, on average.
type Spent struct{ Readings, Minutes float64 }

// rolloutWidth is how many tests rollout tries at each point.
const rolloutWidth = 3

// proveCost lays the trees of an equipment against policies on its nominal
// house. Its tables are open.
func (p *physics) proveCost(s *stage) []CostRow {
	rows := make([]*CostRow, len(s.acts))
	parallel(len(s.acts), p.options.Workers, func(i int) {
		rows[i] = p.costOf(s, s.acts[i])
	})
	var out []CostRow
	for _, r := range rows {
		if r != nil {
			out = append(out, *r)
		}
	}
	return out
}

// sortCost puts rows in the order of complaints, then of equipment.
func sortCost(rows []CostRow) {
	slices.SortStableFunc(rows, func(a, b CostRow) int {
		return cmp.Or(cmp.Compare(a.Complaint, b.Complaint), cmp.Compare(a.Equipment, b.Equipment))
	})
}

// priced reports whether the calls' cost is asked for.
func (p *physics) priced() bool {
	return p.options.Prices != (policy.Minutes{}) && slices.Contains(p.options.Audiences, house.Tech)
}

// costBench is the nominal house with each fault that shows the complaint.
type costBench struct {
	goals  *goalBook
	v      *values
	till   *policy.Till
	single bool // one cabinet for all
	faults []house.Fault
	weight []float64
	tests  []goal
	shows  [][]float64        // by test and fault, on the forecast's axis; NaN where it cannot be made
	column []*forecast.Column // by test: what every drawn house shows
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
	table := b.table(s, a, thisHouse, b.faults)
	row.Best, row.Exact = best(table)
	row.Split = spent(table.Expect(policy.HalfSplit))
	row.Bound = policy.EntropyBound(classes2(table), outcomesMost(table))
	row.Chart = b.chart(s, a, thisHouse)
	row.AnyBest, row.AnyExact = best(b.table(s, a, anyHouse, b.faults))
	row.AnyChart = b.chart(s, a, anyHouse)
	return row
}

// best is the optimum, or rollout over the greedy rule where that is too much to
// work out. The readings are the greedy rule's, or rollout's.
func best(t *policy.Table) (s Spent, exact bool) {
	o := t.Expect(policy.Greedy)
	if minutes, _, ok := t.Optimum(); ok {
		o.Minutes, exact = minutes, true
	} else if rolled := t.Expect(policy.Rollout(rolloutWidth)); rolled.Minutes < o.Minutes {
		o = rolled
	}
	return spent(o), exact
}

func spent(o policy.Outcome) Spent { return Spent{o.Readings, o.Minutes} }

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
	for i, g := range a.universe {
		if house.Reach(house.Tech, caller.truth, g.probe, g.setup) == house.NoCut {
			b.tests = append(b.tests, g)
			b.shows = append(b.shows, nil)
			b.column = append(b.column, a.columns[i])
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

// chart is what a chart in a fixed order comes to: R–C at the base, then each
// control point of the symptom's call from the transformer to the load. It stops
// at the first reading that the healthy house does not show; the tests that tell
// more follow, in their order.
func (b *costBench) chart(s *stage, a *act, in scope) Spent {
	t := b.table(s, a, in, append(slices.Clone(b.faults), house.None))
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
	return spent(t.Expect(policy.ChartThen(order, len(b.faults))))
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
	b.WriteString("readings and minutes a call, technician, nominal houses; beside each best how\nmany times its minutes the tree takes\n")
	fmt.Fprintf(&b, "%-14s %9s %10s %9s %9s %5s %16s\n", "", "tree", "half-split", "chart", "best", "", "best, any house")
	for i := 0; i < len(r.Cost); {
		var sum CostRow
		n := 0
		for c := r.Cost[i].Complaint; i < len(r.Cost) && r.Cost[i].Complaint == c; i++ {
			row := r.Cost[i]
			sum.Complaint = c
			sum.Tree, sum.Best, sum.Split, sum.Chart = sum.Tree.plus(row.Tree), sum.Best.plus(row.Best), sum.Split.plus(row.Split), sum.Chart.plus(row.Chart)
			sum.AnyBest = sum.AnyBest.plus(row.AnyBest)
			n++
		}
		fmt.Fprintf(&b, "%-14s %9s %10s %9s %9s %5.2f %10s %5.2f\n", sum.Complaint, sum.Tree.mean(n), sum.Split.mean(n), sum.Chart.mean(n),
			sum.Best.mean(n), sum.Tree.over(sum.Best), sum.AnyBest.mean(n), sum.Tree.over(sum.AnyBest))
	}
	b.WriteByte('\n')
	return b.String()
}

// over is how many times the minutes of o.
func (s Spent) over(o Spent) float64 { return s.Minutes / math.Max(o.Minutes, 1e-9) }

func (s Spent) plus(o Spent) Spent { return Spent{s.Readings + o.Readings, s.Minutes + o.Minutes} }

func (s Spent) mean(n int) string {
	return fmt.Sprintf("%.1f %.1f", s.Readings/float64(n), s.Minutes/float64(n))
}
