package prove

import (
	"math"

	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// deviate follows, from a step whose probes can be made, each way that one of
// them goes wrong: it cannot be made, or one answer or reading is false.
func (w *walker) deviate(p place, a *arrival, said []shows, given uint64) {
	other := p.astray(deviation{kind: SlipUnable, step: p.step, nth: w.nth(p.step), seen: len(w.seen)})
	if other = w.cut(other); other.step != nil {
		w.aside(other)
	}
	for i := range a.goals {
		if !said[i].unable && given&(1<<i) == 0 {
			w.wrong(p, a, said, given, i)
		}
	}
}

// wrong follows each false answer or reading of one probe of a batch.
func (w *walker) wrong(p place, a *arrival, said []shows, given uint64, pair int) {
	truth := said[pair]
	defer func() { said[pair] = truth }()
	side := deviation{kind: SlipWrong, step: p.step, nth: w.nth(p.step), pair: pair, goal: w.goals.glance(a.ids[pair], a.goals[pair], p.rested)}
	try := func(x shows) {
		said[pair], side.said = x, x
		n := len(w.seen)
		w.follow(w.answer(p.astray(side), a, said, given, pair))
		w.seen = w.seen[:n]
	}
	if p.step.Kind == tree.LookStep {
		for _, answer := range p.step.Look.Answers() {
			if answer != truth.answer {
				try(shows{answer: answer})
			}
		}
		return
	}
	name := p.step.Names()[pair]
	here := w.part(name, truth.reading)
	for i, r := range w.parts(name) {
		if i != here {
			side.cut, side.truth = w.between(name, here, i), truth.reading.Value
			try(shows{reading: r})
		}
	}
}

// parts are readings that stand for every part of a name's range: one for each
// gap between the constants that any condition of its tree compares it with,
// and OL for ohms, last.
func (w *walker) parts(n *tree.Name) []quantity.Reading {
	if got, ok := w.cuts[n]; ok {
		return got
	}
	var out []quantity.Reading
	numbers := witnesses(w.cutsOf(n), n.Quantity())
	for i := 1; i < len(numbers); i += 2 {
		out = append(out, quantity.Of(numbers[i]))
	}
	if n.Quantity() == quantity.Resistance {
		out = append(out, quantity.Reading{OL: true})
	}
	w.cuts[n] = out
	return out
}

// cutsOf are the constants that any condition of a name's tree compares it
// with, and those every control reading is held against, ascending.
func (w *walker) cutsOf(n *tree.Name) []float64 {
	var out []float64
	if p := n.Step.Probes()[n.Pair]; n.Quantity().AC() && n.Quantity().Unit() == "V" && !p.LineClass() {
		out = []float64{w.highVolts(n.Quantity()), crossedVolts} // beyond which a call stops
	}
	for _, s := range n.Step.Tree.Steps {
		for _, b := range s.Branches {
			if b.When == nil {
				continue
			}
			for _, x := range b.When.Cuts(n) {
				out = insert(out, x)
			}
		}
	}
	return out
}

// insert keeps a list ascending and each number once.
func insert(list []float64, x float64) []float64 {
	i := 0
	for i < len(list) && list[i] < x {
		i++
	}
	if i < len(list) && list[i] == x {
		return list
	}
	list = append(list, 0)
	copy(list[i+1:], list[i:])
	list[i] = x
	return list
}

// part is which part of the range a reading is in. A reading on a constant is
// in no part of its own; it counts to the one below.
func (w *walker) part(n *tree.Name, r quantity.Reading) int {
	parts := w.parts(n)
	if r.OL {
		return len(parts) - 1
	}
	i := 0
	for _, x := range w.limits(n) {
		if r.Value > x {
			i++
		}
	}
	return i
}

// limits are the constants strictly within a name's range.
func (w *walker) limits(n *tree.Name) []float64 {
	if got, ok := w.limit[n]; ok {
		return got
	}
	var out []float64
	for _, x := range w.cutsOf(n) {
		if x > least(n.Quantity()) && x < n.Quantity().Max() {
			out = append(out, x)
		}
	}
	w.limit[n] = out
	return out
}

// between is the constant of the tree that parts a reading in part here from
// one in part there, where the two are neighbours; +Inf where they are not, OL is
// one, or it is where every call stops: that limit keeps its own guard band.
func (w *walker) between(n *tree.Name, here, there int) float64 {
	limits := w.limits(n)
	low := min(here, there)
	if there-here != 1 && here-there != 1 || low >= len(limits) {
		return math.Inf(1)
	}
	if x := limits[low]; x != crossedVolts && x != w.highVolts(n.Quantity()) {
		return x
	}
	return math.Inf(1)
}

// slip is the deviation as a caller makes it.
func (d deviation) slip() Slip {
	s := Slip{Kind: d.kind, Nth: d.nth, Fact: d.fact, Reading: d.said.reading, Answer: d.said.answer}
	if d.step != nil {
		s.Step = d.step.ID
		if d.step.Kind == tree.MeasureStep && d.kind == SlipWrong {
			s.Pair = d.step.Pairs[d.pair].Name
		}
	}
	return s
}
