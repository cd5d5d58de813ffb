package policy

import "math"

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
	key := s.table.key(b)
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
	for _, i := range s.table.byWorth(b, useful) {
		minutes := s.table.Cost(b, i)
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
