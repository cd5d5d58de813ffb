package drill

import (
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/suspects"
)

// Coach knows the faults a complaint may mean and what probes cost, but not
// which one is hidden: a hint and the best path come from what was shown.
type Coach struct {
	Engine  *suspects.Engine
	Minutes suspects.Minutes
	Case    suspects.Case
}

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
	// Settled is set where what is left at its end shares one finding.
	Settled bool
}

// stepsMost bounds a path.
const stepsMost = 40

// Taken is the path the trainee took, priced: every probe, and every cover,
// setup and wait once.
func (c *Coach) Taken(g *Game) (Path, error) {
	p := c.priced(g)
	call, err := c.heard(p)
	if err == nil {
		p.Settled, err = call.Settled()
	}
	return p, err
}

// heard is a call that was told a path.
func (c *Coach) heard(p Path) (*suspects.Call, error) {
	call, err := c.Engine.Open(c.Case)
	if err != nil {
		return nil, err
	}
	for _, s := range p.Steps {
		if _, err := call.Observe(s.seen()); err != nil {
			return nil, err
		}
	}
	return call, nil
}

func (c *Coach) priced(g *Game) Path {
	var p Path
	bill := c.Minutes.Bill(g.symptom)
	rested := false
	for _, m := range g.moves {
		if m.Waited {
			rested = true
		}
		if m.Probe == (house.Probe{}) {
			continue
		}
		s := Step{Goal: forecast.Goal{Setup: m.Setup, Probe: m.Probe}, Reading: m.Reading, Answer: m.Answer, Rested: rested}
		s.Minutes = bill.Add(s.Goal, rested)
		p.Steps = append(p.Steps, s)
	}
	p.Minutes = bill.Total()
	return p
}

// Best is the path of least expected minutes through the same house, chosen
// one probe at a time from what was shown before it.
func (c *Coach) Best(g *Game) (Path, error) {
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
	for len(p.Steps) < stepsMost {
		if p.Settled, err = call.Settled(); err != nil || p.Settled {
			break
		}
		next, ok, err := call.Next(func(g forecast.Goal) bool { return !closed[g.Key()] }, at, rested)
		if err != nil {
			return p, err
		}
		if !ok {
			break
		}
		s, err := again.make(next)
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

// make makes a proposed probe.
func (g *Game) make(next suspects.Proposal) (Step, error) {
	s := Step{Goal: next.Goal, Rested: next.Rested}
	var err error
	if next.Rested {
		err = g.rest()
	}
	if err == nil {
		err = g.circuit.Play(next.Goal.Setup)
	}
	switch {
	case err != nil:
	case next.Goal.Probe.IsLook():
		s.Answer, err = g.circuit.Look(next.Goal.Setup, next.Goal.Probe.Look)
	default:
		s.Reading, err = g.circuit.Read(next.Goal.Setup, next.Goal.Probe)
	}
	return s, err
}

func (s Step) seen() suspects.Seen {
	return suspects.Seen{Probe: s.Goal.Probe, Setup: s.Goal.Setup, Reading: s.Reading, Answer: s.Answer, Rested: s.Rested}
}

// Hint is the probe best made next after what the trainee saw; false where
// what is left shares one finding, or no probe tells it apart.
func (c *Coach) Hint(g *Game) (suspects.Proposal, bool, error) {
	path := c.priced(g)
	call, err := c.heard(path)
	if err != nil {
		return suspects.Proposal{}, false, err
	}
	rested := len(path.Steps) > 0 && path.Steps[len(path.Steps)-1].Rested
	if settled, err := call.Settled(); err != nil || settled {
		return suspects.Proposal{}, false, err
	}
	next, ok, err := call.Next(nil, g.setup, rested)
	if ok && err == nil {
		g.hints++
	}
	return next, ok, err
}
