package policy

import (
	"math"
	"slices"
)

// Rule picks the next test among the useful ones; -1 stops the call.
type Rule func(t *Table, b *Belief, useful []int) int

// nudge is what a bit about the states counts beside a bit about the classes:
// just enough to go on where only two tests together tell classes apart.
const nudge = 1e-6

// GainOf is what test i tells about the class, in bits.
func (t *Table) GainOf(m *Mixture, b *Belief, i int) float64 {
	m.Reset(t.classes())
	t.fill(m, b, i, func(s int) int { return t.Class[s] })
	return m.Gain()
}

// StateGainOf is what test i tells about the state, in bits.
func (t *Table) StateGainOf(m *Mixture, b *Belief, i int) float64 {
	m.Reset(len(t.Prior))
	t.fill(m, b, i, func(s int) int { return s })
	return m.Gain()
}

func (t *Table) fill(m *Mixture, b *Belief, i int, class func(int) int) {
	for s, w := range b.Weight {
		if w <= 0 {
			continue
		}
		for _, p := range t.Tests[i].Shows[s] {
			m.Add(class(s), w*p.Share, p.Lo, p.Hi)
		}
	}
}

// worth is gain per minute.
func (t *Table) worth(m *Mixture, b *Belief, i int) float64 {
	gain := t.GainOf(m, b, i) + nudge*t.StateGainOf(m, b, i)
	return gain / max(t.Cost(b, i), 1e-9)
}

// byWorth sorts tests by falling gain per minute.
func (t *Table) byWorth(b *Belief, tests []int) []int {
	type rated struct {
		test  int
		worth float64
	}
	var m Mixture
	list := make([]rated, len(tests))
	for k, i := range tests {
		list[k] = rated{i, t.worth(&m, b, i)}
	}
	slices.SortStableFunc(list, func(a, b rated) int {
		switch {
		case a.worth > b.worth:
			return -1
		case a.worth < b.worth:
			return 1
		}
		return 0
	})
	out := make([]int, len(list))
	for k := range list {
		out[k] = list[k].test
	}
	return out
}

// Best gives the n tests of most gain per minute, best first.
func (t *Table) Best(b *Belief, tests []int, n int) []int {
	list := t.byWorth(b, tests)
	return list[:min(n, len(list))]
}

// Greedy takes the most gain per minute; the earlier test where two are equal.
func Greedy(t *Table, b *Belief, useful []int) int {
	var m Mixture
	best, worth := -1, math.Inf(-1)
	for _, i := range useful {
		// a tie is a tie to a part in 1e12, whatever rounding says
		if w := t.worth(&m, b, i); w > worth+1e-12*math.Abs(worth) || best < 0 {
			best, worth = i, w
		}
	}
	return best
}

// Rollout looks one test ahead and goes on greedily from there: the test whose
// own minutes plus the greedy rule's average afterwards are least. Only the
// width tests of most gain per minute are tried (0: all).
func Rollout(width int) Rule { return Lookahead(width, 0) }

// Lookahead is Rollout that follows at most most beliefs (0: all). Where that is
// not enough to compare the tests fairly, the greedy one is taken.
func Lookahead(width, most int) Rule {
	var greedy *Walk
	var of *Table
	return func(t *Table, b *Belief, useful []int) int {
		if of != t || most > 0 {
			of, greedy = t, NewWalk(Greedy)
			greedy.most = most
		}
		tests := t.byWorth(b, useful)
		first := tests[0]
		if width > 0 && len(tests) > width {
			tests = tests[:width]
		}
		best, least := -1, math.Inf(1)
		for _, i := range tests {
			minutes := t.Cost(b, i)
			for _, branch := range t.Branches(b, i) {
				minutes += branch.P * greedy.from(t, &branch.After).Minutes
			}
			if greedy.spent {
				return first
			}
			if minutes < least-1e-12 {
				best, least = i, minutes
			}
		}
		return best
	}
}

// HalfSplit takes the test whose likeliest outcome is nearest to one half,
// whatever it costs: the rule technicians are taught.
func HalfSplit(t *Table, b *Belief, useful []int) int {
	best, off := -1, math.Inf(1)
	for _, i := range useful {
		var top float64
		for _, branch := range t.Branches(b, i) {
			top = max(top, branch.P)
		}
		if d := math.Abs(top - 0.5); d < off-1e-12 {
			best, off = i, d
		}
	}
	return best
}

// Chart makes the tests of order one after the other, needed or not, and stops
// at the first that the healthy state cannot show.
func Chart(order []int, healthy int) Rule {
	return func(t *Table, b *Belief, _ []int) int {
		if b.Weight[healthy] <= 0 {
			return -1
		}
		for _, i := range order {
			if !b.Made[i] {
				return i
			}
		}
		return -1
	}
}

// ChartThen is Chart, then the useful tests in their order in the table, until
// nothing tells more.
func ChartThen(order []int, healthy int) Rule {
	chart := Chart(order, healthy)
	return func(t *Table, b *Belief, useful []int) int {
		if i := chart(t, b, useful); i >= 0 {
			return i
		}
		if len(useful) > 0 {
			return useful[0]
		}
		return -1
	}
}
