package policy

import "math"

// Outcome is what a rule comes to on average.
type Outcome struct {
	Minutes  float64
	Readings float64
	// Classes is how many classes are left at the end, 1 where all is settled.
	Classes float64
}

// Walk follows a rule down every outcome and remembers the beliefs it met.
type Walk struct {
	rule  Rule
	known map[string]Outcome
	// most bounds the beliefs followed, 0 not at all; spent is set past it, and
	// what was found is then too little.
	most  int
	spent bool
}

// NewWalk starts one; the rule must depend on the belief alone. A Walk serves
// one table.
func NewWalk(rule Rule) *Walk { return &Walk{rule: rule, known: map[string]Outcome{}} }

// Expect is what rule comes to on average over the table's prior.
func (t *Table) Expect(rule Rule) Outcome {
	b := t.Start()
	return NewWalk(rule).from(t, &b)
}

func (w *Walk) from(t *Table, b *Belief) Outcome {
	useful := t.Useful(b)
	if len(useful) == 0 {
		return Outcome{Classes: float64(t.ClassesLeft(b))}
	}
	key := t.key(b, math.MaxUint64) // a rule may pay for tests that tell nothing
	if o, ok := w.known[key]; ok {
		return o
	}
	if w.most > 0 && len(w.known) >= w.most {
		w.spent = true
		return Outcome{}
	}
	w.known[key] = Outcome{} // counted from here on
	o := w.step(t, b, useful)
	w.known[key] = o
	return o
}

// step makes the rule's test, and goes on down its outcomes. A test that tells
// nothing, as one of a fixed order may, leaves the same belief behind: its price
// is added and the rule asked again.
func (w *Walk) step(t *Table, b *Belief, useful []int) Outcome {
	i := w.rule(t, b, useful)
	if i < 0 {
		return Outcome{Classes: float64(t.ClassesLeft(b))}
	}
	o := Outcome{Minutes: t.Cost(b, i), Readings: 1}
	branches := t.Branches(b, i)
	for _, branch := range branches {
		var after Outcome
		if len(branches) == 1 {
			after = w.again(t, &branch.After)
		} else {
			after = w.from(t, &branch.After)
		}
		o.Minutes += branch.P * after.Minutes
		o.Readings += branch.P * after.Readings
		o.Classes += branch.P * after.Classes
	}
	return o
}

// again goes on from a belief that a test has not moved, whatever is known of
// beliefs like it.
func (w *Walk) again(t *Table, b *Belief) Outcome {
	useful := t.Useful(b)
	if len(useful) == 0 {
		return Outcome{Classes: float64(t.ClassesLeft(b))}
	}
	return w.step(t, b, useful)
}
