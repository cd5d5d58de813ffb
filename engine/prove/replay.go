package prove

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// Replay is a call that can be held again: the command that starts it and the
// lines to give it.
type Replay struct {
	Command string   `json:"command"`
	Lines   []string `json:"lines"`
}

// replay holds a counterexample again as a whole conversation.
func (p *physics) replay(m *miss) (Replay, error) {
	s := p.stageOf(m.first.equipment)
	trail, err := Simulate(p.book, m.first.who, s.caller(m.first, m.end.side.slip()))
	if err != nil {
		return Replay{}, err
	}
	return trail.Replay(), nil
}

func (p *physics) stageOf(e house.Equipment) *stage {
	for _, s := range p.stages {
		if s.eq.ID == e {
			return s
		}
	}
	return nil
}

// caller is the person of a marked call, in the house of that call.
func (s *stage) caller(m mark, slip Slip) *Caller {
	c := &Caller{Facts: m.caller.truth, Complaint: m.complaint, Slip: slip}
	bench, err := circuit.NewBench(s.draws[m.draw])
	if err != nil {
		return c
	}
	put := func(faults ...house.Fault) House {
		h, err := bench.House(faults...)
		if err != nil {
			return nil
		}
		return h
	}
	c.House = put(m.fault)
	switch {
	case slip.Kind == SlipDelay:
		c.House, c.Later = put(m.fault, house.DelayRunning), put(m.fault)
	case m.fault == house.DelayRunning && slip.Kind != SlipNoCall && slip.Kind != SlipMode:
		c.Later = put(house.None)
	}
	return c
}

// Replay is the call as `chat --json` takes it.
func (t *Trail) Replay() Replay {
	r := Replay{Command: fmt.Sprintf("stepdown chat --json --as %s --complaint '%s'", t.Opening.Audience, strings.ReplaceAll(t.Opening.Complaint, "'", `'\''`))}
	for _, e := range t.Events {
		r.Lines = append(r.Lines, line(e))
	}
	return r
}

// line is one event as a line of the conversation.
func line(e session.Event) string {
	var v any
	switch e.Kind {
	case session.Done:
		v = map[string]any{"done": true}
	case session.Acknowledge:
		v = map[string]any{"acknowledge": e.Reply}
	case session.Answer:
		v = map[string]any{"answer": e.Reply}
	case session.Text:
		v = map[string]any{"text": e.Reply}
	case session.Values:
		read := map[string]quantity.Reading{}
		for name, r := range e.Read {
			r.Value = math.Round(r.Value*1e6) / 1e6 // 26.7, not 26.700000000000003
			read[name] = r
		}
		v = map[string]any{"values": read}
	case session.Unable:
		v = map[string]any{"unable": true}
	default:
		v = map[string]any{"command": string(e.Kind)}
	}
	out, err := json.Marshal(v)
	if err != nil {
		return fmt.Sprintf("%q", err.Error())
	}
	return string(out)
}
