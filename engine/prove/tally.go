package prove

import (
	"cmp"
	"math"

	"stepdown/engine/house"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// Tally counts simulated calls.
type Tally struct {
	Houses      int
	Calls       [3]int // as asked, by audience
	Variants    int    // every call: as asked, unable, wrong, slips that last
	AtBest      [3]int // calls that ended at S
	Because     [3]int // … wider, with a because that holds
	Wider       int    // … wider, without one
	Missed      int
	Condemned   int     // good thermostats
	Blamed      int     // good parts, on houses that do not show the complaint
	Shown       [3]int  // calls as asked about what the house shows, by audience
	Quiet       int     // calls to such houses
	Excess      [3]int  // set size over S, summed over calls
	UnableRight int     // ended at S though something could not be made
	UnableWide  int     // … wider
	Thin        int     // readings too near to a limit
	MarginVolts float64 // the least
}

// tally is what one worker counts, and what it has to show. Everything in it
// joins in any order to the same sum.
type tally struct {
	Tally
	misses  map[missKey]*miss
	leaning map[leanKey]int
	hits    map[*tree.Step]*hits
	matrix  map[matrixKey]bool
}

// hits are the edges of a step that calls take: branches by number, then OL and
// unable; apart from them those that only a call with two things wrong takes.
type hits struct {
	edges, twice uint64
	asked        bool // by some call: where not, all it asks for was known
}

func (h *hits) join(o *hits) {
	h.edges |= o.edges
	h.twice |= o.twice
	h.asked = h.asked || o.asked
}

type matrixKey struct {
	equipment house.Equipment
	fault     house.Fault
	complaint house.Complaint
}

type leanKey struct {
	pos source.Pos
	who house.Audience
}

// missKey puts counterexamples of one kind together.
type missKey struct {
	rule    *Rule
	pos     source.Pos
	finding house.Finding
}

// miss is the first counterexample of its kind, how many there are, and the
// faults they were on.
type miss struct {
	missKey
	count  int
	faults house.FaultSet
	first  mark
	end    ending
	best   house.FaultSet
	left   house.FaultSet
}

// mark says which call a counterexample is, well enough to hold it again.
type mark struct {
	equipment house.Equipment
	draw      int
	fault     house.Fault
	complaint house.Complaint
	who       house.Audience
	profile   int
	caller    profile
	turn      int // which of the house's calls
}

func (m mark) compare(o mark) int {
	return cmp.Or(cmp.Compare(m.draw, o.draw), cmp.Compare(m.equipment, o.equipment), cmp.Compare(m.fault, o.fault),
		cmp.Compare(m.complaint, o.complaint), cmp.Compare(m.who, o.who), cmp.Compare(m.profile, o.profile), cmp.Compare(m.turn, o.turn))
}

func newTally() *tally {
	return &tally{Tally: Tally{MarginVolts: math.Inf(1)}, misses: map[missKey]*miss{}, leaning: map[leanKey]int{},
		hits: map[*tree.Step]*hits{}, matrix: map[matrixKey]bool{}}
}

func (t *tally) margin(volts float64) { t.MarginVolts = min(t.MarginVolts, volts) }

func (t *tally) lean(e *passed, who house.Audience) { t.leaning[leanKey{e.pos, who}]++ }

// report keeps a counterexample, the first one of its kind in the order of
// houses and calls.
func (j *judge) report(r *Rule, e *passed) {
	pos := e.pos
	if r == thinMargin {
		pos = e.side.step.Pos
	}
	key := missKey{r, pos, e.finding}
	j.at.turn++
	m := j.tally.misses[key]
	if m == nil {
		m = &miss{missKey: key, first: mark{draw: math.MaxInt}}
		j.tally.misses[key] = m
	}
	m.count += int(e.times)
	m.faults = m.faults.Add(j.at.fault)
	if j.at.compare(m.first) < 0 {
		m.first, m.end = j.at, *e.ending
		m.best, m.left = j.best, house.FaultSet{}
		if e.finding == house.Undecided {
			m.left = j.left()
		}
	}
}

// join adds another worker's count.
func (t *tally) join(o *tally) {
	t.Houses += o.Houses
	t.Variants += o.Variants
	for i := range t.Calls {
		t.Calls[i] += o.Calls[i]
		t.AtBest[i] += o.AtBest[i]
		t.Shown[i] += o.Shown[i]
		t.Because[i] += o.Because[i]
		t.Excess[i] += o.Excess[i]
	}
	t.Wider += o.Wider
	t.Missed += o.Missed
	t.Condemned += o.Condemned
	t.Blamed += o.Blamed
	t.Quiet += o.Quiet
	t.UnableRight += o.UnableRight
	t.UnableWide += o.UnableWide
	t.Thin += o.Thin
	t.MarginVolts = min(t.MarginVolts, o.MarginVolts)
	for k, m := range o.misses {
		have := t.misses[k]
		if have == nil {
			t.misses[k] = m
			continue
		}
		have.count += m.count
		have.faults = have.faults.Union(m.faults)
		if m.first.compare(have.first) < 0 {
			have.first, have.end, have.best, have.left = m.first, m.end, m.best, m.left
		}
	}
	for k, n := range o.leaning {
		t.leaning[k] += n
	}
	for s, taken := range o.hits {
		if t.hits[s] == nil {
			t.hits[s] = new(hits)
		}
		t.hits[s].join(taken)
	}
	for k := range o.matrix {
		t.matrix[k] = true
	}
}
