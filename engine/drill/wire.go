package drill

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// request is one line of a program that drives a drill: a measure or a look
// with a setup, or a fault named. Setup keys left out stay as they are.
type request struct {
	Measure *measure       `json:"measure"`
	Look    string         `json:"look"`
	Setup   *house.Partial `json:"setup"`
	Name    string         `json:"name"`
}

type measure struct {
	Quantity string `json:"quantity"`
	Red      string `json:"red"`
	Black    string `json:"black"`
	At       string `json:"at"`
}

type readingLine struct {
	Type  string           `json:"type"`
	Value quantity.Reading `json:"value"`
	Unit  string           `json:"unit"`
}

type seenLine struct {
	Type   string `json:"type"`
	Answer string `json:"answer"`
}

type verdictLine struct {
	Type   string   `json:"type"`
	Right  bool     `json:"right"`
	Named  string   `json:"named"`
	Was    string   `json:"was"`
	Probes int      `json:"probes"`
	Slips  []string `json:"slips"`
	Score  *int     `json:"score,omitempty"` // 0 to 100; left out without a coach
}

type problemLine struct {
	Type string `json:"type"`
	Code string `json:"code"`
	Text string `json:"text"`
}

// Answer takes one JSON line and gives the line that answers it; done is set
// once a fault was named.
func (g *Game) Answer(line []byte) (out any, done bool) {
	var r request
	dec := json.NewDecoder(bytes.NewReader(line))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&r); err != nil {
		return problemLine{"problem", "line", fmt.Sprintf("not a line of this drill: %v", err)}, false
	}
	if _, err := dec.Token(); err != io.EOF {
		return problemLine{"problem", "line", "one object a line"}, false
	}
	if r.Name != "" {
		return g.named(r.Name)
	}
	if r.Setup != nil {
		if err := g.Set(*r.Setup); err != nil {
			return refusal(err), false
		}
	}
	switch {
	case r.Measure != nil:
		return g.measured(*r.Measure), false
	case r.Look != "":
		return g.seen(r.Look), false
	case r.Setup != nil:
		return struct {
			Type  string      `json:"type"`
			Setup house.Setup `json:"setup"`
		}{"setup", g.setup}, false
	}
	return problemLine{"problem", "line", "a measure, a look, a setup or a name is wanted"}, false
}

func (g *Game) named(word string) (any, bool) {
	f, err := house.ParseFault(word)
	if err != nil {
		return problemLine{"problem", "fault", err.Error()}, false
	}
	v := g.Name(f)
	line := verdictLine{Type: "verdict", Right: v.Right, Named: v.Named.String(), Was: v.Was.String(), Probes: v.Probes, Slips: []string{}}
	for _, s := range v.Slips {
		line.Slips = append(line.Slips, s.Text)
	}
	if g.coach != nil {
		if score, _, _, err := g.coach.Mark(g, v); err == nil {
			line.Score = &score.Total
		}
	}
	return line, true
}

func (g *Game) measured(m measure) any {
	p, err := m.probe()
	if err != nil {
		return problemLine{"problem", "probe", err.Error()}
	}
	r, err := g.Measure(p)
	if err != nil {
		return refusal(err)
	}
	return readingLine{"reading", r, p.Quantity.Unit()}
}

func (m measure) probe() (house.Probe, error) {
	q, err := quantity.OfID(m.Quantity)
	if err != nil {
		return house.Probe{}, err
	}
	if q == quantity.Current {
		c, err := house.ParseConductor(m.Red)
		if err == nil && m.Black != m.Red {
			err = errors.New("amps have red and black on the same conductor")
		}
		return house.Clamp(c), err
	}
	at, err := house.ParsePlace(m.At)
	if err != nil {
		return house.Probe{}, err
	}
	red, err := house.ParseTerminal(m.Red)
	if err != nil {
		return house.Probe{}, err
	}
	black, err := house.ParseTerminal(m.Black)
	return house.Measure(q, red, black, at), err
}

func (g *Game) seen(word string) any {
	l, err := house.ParseLook(word)
	if err != nil {
		return problemLine{"problem", "look", err.Error()}
	}
	a, err := g.Look(l)
	if err != nil {
		return refusal(err)
	}
	return seenLine{"seen", l.AnswerID(a)}
}

// refusal words an error of the model; its code is the model's.
func refusal(err error) problemLine {
	var r *circuit.Refusal
	if errors.As(err, &r) {
		return problemLine{"problem", r.Code, r.Text}
	}
	return problemLine{"problem", "setup", err.Error()}
}
