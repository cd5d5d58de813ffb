package drill

import (
	"cmp"
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/suspects"
)

// Step is one probe of a path, what it showed and the minutes it added.
type Step struct {
	Goal    forecast.Goal
	Reading quantity.Reading
	Answer  house.Answer
	Rested  bool
	Minutes float64
}

// Path is a way through a drill.
type Path struct {
	Steps   []Step
	Minutes float64
	// Left is how many findings still explain all that it showed; one settles
	// it.
	Left int
	// Sure is how likely what was shown makes the hidden fault's finding among
	// those left, 0 to 1. Nobody is told it before the end.
	Sure float64
}

// Settled reports whether one finding is left at the path's end.
func (p Path) Settled() bool { return p.Left == 1 }

// judge works out what a path came to, by what each probe shows by itself.
func (p *Path) judge(call *suspects.Call, g *Game) error {
	return p.weigh(call, g, func(house.Fault) (bool, error) { return false, nil })
}

// weigh is judge without the faults that are out.
func (p *Path) weigh(call *suspects.Call, g *Game, out func(house.Fault) (bool, error)) error {
	v, err := call.Verdict()
	if err != nil {
		return err
	}
	e := g.Equipment().ID
	hidden := house.FindingOf(g.hidden, e)
	gone := map[house.Finding]bool{}
	stays := map[house.Finding]bool{}
	right, all := 0.0, 0.0
	for _, s := range call.Explain().Left {
		f := house.FindingOf(s.Fault, e)
		if f == hidden {
			right += s.Probability
			all += s.Probability
			stays[f] = true
			continue
		}
		is, err := out(s.Fault)
		if err != nil {
			return err
		}
		gone[f] = gone[f] || is
		if !is {
			stays[f] = true
			all += s.Probability
		}
	}
	p.Left, p.Sure = 0, 0
	for _, f := range v.Findings {
		if !gone[f] || stays[f] {
			p.Left++
		}
	}
	if all > 0 {
		p.Sure = right / all
	}
	return nil
}

// stepsMost bounds a path.
const stepsMost = 40

// Best is the path of least minutes known through the same house that settles
// as much as probes can: the coach's own way, chosen one probe at a time, or
// the trainee's where it settles as much, without the probes that turned out
// not to be needed. No probe is made twice in the same setup: a model reads the
// same again.
func (c *Coach) Best(g *Game) (Path, error) {
	own, err := c.own(g)
	if err != nil {
		return own, err
	}
	best, err := c.shorten(g, own)
	if err != nil {
		return best, err
	}
	taken, err := c.Taken(g)
	if err != nil || taken.Left == 0 || taken.Left > best.Left {
		return best, err
	}
	if taken, err = c.shorten(g, taken); err == nil && (taken.Left < best.Left || taken.Minutes < best.Minutes) {
		best = taken
	}
	return best, err
}

// own is the way of least expected minutes a probe.
func (c *Coach) own(g *Game) (Path, error) {
	again, err := New(g.circuit.Draw(), g.hidden, g.symptom)
	if err != nil {
		return Path{}, err
	}
	call, err := c.Engine.Open(c.Case)
	if err != nil {
		return Path{}, err
	}
	var p Path
	bill := c.Minutes.Bill(g.symptom)
	closed := map[forecast.Goal]bool{}
	at, rested := g.symptom, false
	for {
		if err = p.judge(call, g); err != nil || p.Settled() || len(p.Steps) == stepsMost {
			break
		}
		next, ok, err := call.Next(func(g forecast.Goal) bool { return !closed[g.Key()] }, at, rested)
		if err != nil {
			return p, err
		}
		if !ok || next.Retake {
			break
		}
		s, err := again.make(next.Goal, next.Rested)
		if err != nil {
			closed[next.Goal.Key()] = true
			continue
		}
		s.Minutes = bill.Add(s.Goal, s.Rested)
		p.Steps = append(p.Steps, s)
		at, rested = s.Goal.Setup, s.Rested
		if _, err := call.Observe(s.seen()); err != nil {
			return p, err
		}
	}
	p.Minutes = bill.Total()
	return p, err
}

// shorten leaves out of a path what it settles as much without: whole cabinets
// first, then one probe after another, the dearest first.
func (c *Coach) shorten(g *Game, p Path) (Path, error) {
	try := func(without func(Step) bool) (bool, error) {
		kept := slices.DeleteFunc(slices.Clone(p.Steps), without)
		if len(kept) == len(p.Steps) {
			return false, nil
		}
		shorter, err := c.walk(g, kept)
		if err != nil || shorter.Left == 0 || shorter.Left > p.Left || shorter.Minutes > p.Minutes {
			return false, err
		}
		p = shorter
		return true, nil
	}
	for _, at := range []house.Place{house.AtOutdoor, house.AtIndoor} {
		if _, err := try(func(s Step) bool { return s.Goal.Probe.At == at }); err != nil {
			return p, err
		}
	}
	order := slices.Clone(p.Steps)
	slices.SortStableFunc(order, func(a, b Step) int { return cmp.Compare(b.Minutes, a.Minutes) })
	for _, drop := range order {
		key, rested := drop.Goal.Key(), drop.Rested
		if _, err := try(func(s Step) bool { return s.Goal.Key() == key && s.Rested == rested }); err != nil {
			return p, err
		}
	}
	return p, nil
}

// walk makes the probes of a path in a fresh house. A probe that house does
// not let be made gives a path that settles nothing.
func (c *Coach) walk(g *Game, steps []Step) (Path, error) {
	again, err := New(g.circuit.Draw(), g.hidden, g.symptom)
	if err != nil {
		return Path{}, err
	}
	var p Path
	bill := c.Minutes.Bill(g.symptom)
	for _, s := range steps {
		made, refused := again.make(s.Goal, s.Rested)
		if refused != nil {
			return Path{}, nil
		}
		made.Minutes = bill.Add(made.Goal, made.Rested)
		p.Steps = append(p.Steps, made)
	}
	p.Minutes = bill.Total()
	call, err := c.heard(p)
	if err != nil {
		return Path{}, err
	}
	return p, p.judge(call, g)
}

// make makes a probe.
func (g *Game) make(goal forecast.Goal, rested bool) (Step, error) {
	s := Step{Goal: goal, Rested: rested}
	var err error
	if rested {
		err = g.rest()
	}
	if err == nil {
		err = g.circuit.Play(goal.Setup)
	}
	switch {
	case err != nil:
	case goal.Probe.IsLook():
		s.Answer, err = g.circuit.Look(goal.Setup, goal.Probe.Look)
	default:
		s.Reading, err = g.circuit.Read(goal.Setup, goal.Probe)
	}
	return s, err
}
