package suspects

import (
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// Card lists at most so many probes to make the next time a house fails, in
// their order: each is the best of those allowed where the ones before it
// showed what leaves most suspects. At is the house as it stands while it fails.
func (e *Engine) Card(c Case, most int, allow Allow, at house.Setup) ([]forecast.Goal, error) {
	call, err := e.Open(c)
	if err != nil {
		return nil, err
	}
	var out []forecast.Goal
	for len(out) < most {
		p, ok, err := call.Next(allow, at, false)
		if err != nil {
			return nil, err
		}
		if !ok || p.Retake || len(p.Splits) < 2 {
			break
		}
		out = append(out, p.Goal)
		if _, err := call.Observe(widest(p)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// widest is a probe with the outcome that leaves most faults, the first of
// those that leave as many.
func widest(p Proposal) Seen {
	best := p.Splits[0]
	for _, s := range p.Splits[1:] {
		if len(s.Faults) > len(best.Faults) {
			best = s
		}
	}
	out := Seen{Probe: p.Goal.Probe, Setup: p.Goal.Setup, Answer: best.Answer, Reading: best.Lo}
	if !best.Lo.OL && !best.Hi.OL {
		out.Reading.Value = (best.Lo.Value + best.Hi.Value) / 2
	}
	return out
}
