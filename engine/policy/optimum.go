package policy

import (
	"math"
	"slices"
)

// LiveMax is how many live states the exact optimum is sought for.
const LiveMax = 12

// BeliefsMax bounds the beliefs Optimum may look at; past it the table counts
// as not computable.
const BeliefsMax = 200_000

// Optimum is the least average minutes to come as far as the tests can tell,
// and the first test of that way (-1 where there is nothing to do). It is not
// ok where more than LiveMax states are live or the table is too entangled.
func (t *Table) Optimum() (minutes float64, first int, ok bool) {
	b := t.Start()
	return t.OptimumFrom(&b, BeliefsMax)
}

// OptimumFrom is Optimum from a belief on, looking at most beliefs at the most.
func (t *Table) OptimumFrom(b *Belief, most int) (minutes float64, first int, ok bool) {
	if b.Live() > LiveMax {
		return 0, -1, false
	}
	s := search{table: t, known: map[string]plan{}, most: most}
	p := s.best(b)
	return p.minutes, p.first, !s.spent
}

type plan struct {
	minutes float64
	first   int
}

// search is a dynamic programme over beliefs.
type search struct {
	table *Table
	known map[string]plan
	most  int
	spent bool
}

func (s *search) best(b *Belief) plan {
	useful := s.table.Useful(b)
	if len(useful) == 0 {
		return plan{0, -1}
	}
	key := s.table.key(b, s.table.needs(useful))
	if p, ok := s.known[key]; ok {
		return p
	}
	if len(s.known) >= s.most {
		s.spent = true
	}
	if s.spent {
		return plan{math.Inf(1), -1}
	}
	best := plan{math.Inf(1), -1}
	for _, i := range s.table.byWorth(b, s.table.cheapest(b, useful)) {
		minutes := s.table.Cost(b, i)
		if minutes >= best.minutes {
			continue
		}
		for _, branch := range s.table.Branches(b, i) {
			if minutes >= best.minutes {
				break
			}
			minutes += branch.P * s.best(&branch.After).minutes
		}
		if minutes < best.minutes {
			best = plan{minutes, i}
		}
	}
	s.known[key] = best
	return best
}

// needs are the visits of some tests. What is useful later is useful now, so no
// other visit matters from here on.
func (t *Table) needs(tests []int) uint64 {
	var visits uint64
	for _, i := range tests {
		visits |= t.Tests[i].Needs
	}
	return visits
}

// cheapest drops the tests that part the live states as another does which is no
// dearer and needs no other visit: whatever follows the one can follow the other.
func (t *Table) cheapest(b *Belief, tests []int) []int {
	var out []int
	alike := map[string][]int{}
	for _, i := range tests {
		parts, ok := t.parts(b, i)
		if !ok {
			out = append(out, i)
			continue
		}
		if slices.ContainsFunc(alike[parts], func(k int) bool { return t.noDearer(b, k, i) }) {
			continue
		}
		alike[parts] = append(slices.DeleteFunc(alike[parts], func(k int) bool { return t.noDearer(b, i, k) }), i)
	}
	for _, list := range alike {
		out = append(out, list...)
	}
	slices.Sort(out)
	return out
}

// noDearer reports whether test i takes no more minutes than k of its own and
// none of the visits still to be paid that k does without.
func (t *Table) noDearer(b *Belief, i, k int) bool {
	return t.Tests[i].Minutes <= t.Tests[k].Minutes && t.Tests[i].Needs&^(t.Tests[k].Needs|b.Paid) == 0
}

// parts names how test i parts the live states: by each the number of its answer,
// in the order they come. It is not ok where a state's answer is not certain.
func (t *Table) parts(b *Belief, i int) (string, bool) {
	var answers []float64
	var parts []byte
	for s, w := range b.Weight {
		if w <= 0 {
			continue
		}
		shows := t.Tests[i].Shows[s]
		if len(shows) != 1 || shows[0].Hi > shows[0].Lo {
			return "", false
		}
		k := slices.Index(answers, shows[0].Lo)
		if k < 0 {
			k, answers = len(answers), append(answers, shows[0].Lo)
		}
		parts = append(parts, byte(k))
	}
	return string(parts), true
}
