package drill

import (
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/suspects"
)

// Coach knows the faults a complaint may mean and what probes cost, but not
// which one is hidden: a hint and the best path come from what was shown.
type Coach struct {
	Engine  *suspects.Engine
	Minutes suspects.Minutes
	Case    suspects.Case
}

// Taken is the path the trainee took, priced: every probe, and every cover,
// setup and wait once. What is left at its end takes all readings together: a
// fault that shows each of them in some house, and all of them in none, is out.
func (c *Coach) Taken(g *Game) (Path, error) {
	p := c.priced(g)
	call, err := c.heard(p)
	if err == nil {
		err = p.weigh(call, g, (&together{path: p, game: g}).rulesOut)
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
	ok = ok && !next.Retake // a model reads the same again
	if ok && err == nil {
		g.hints++
	}
	return next, ok, err
}
