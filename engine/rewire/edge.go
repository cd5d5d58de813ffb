package rewire

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// Edge is a proof in an invented house at the ends of the drawn ranges.
type Edge struct {
	House string // what is extreme about it
	Proof Proof
}

// stray lists loads that a call brings in there and should not, and shorts: a
// landing that does that in any house is wrong.
func (e Edge) stray() []string {
	var out []string
	for _, c := range e.Proof.Calls {
		if len(c.Extra) > 0 {
			out = append(out, fmt.Sprintf("In the model, %s, in a house with %s: comes on and should not: %s.", c.Title, e.House, titles(c.Extra)))
		}
	}
	return out
}

// strains lists each call with all that is wrong with it there.
func (e Edge) strains() []string {
	out := []string{}
	for _, c := range e.Proof.Calls {
		for _, w := range c.Wrong {
			out = append(out, c.Title+": "+w)
		}
	}
	return out
}

// end is what a value is moved to: its low end, its high end, or left.
type end int

// edgeRow is one house: which values lie at which end.
type edgeRow struct {
	house   string
	end     func(v circuit.Value) end
	thin    bool // 20 AWG
	sensing bool // a board that loads Y, where the equipment may have one
}

// edgeRows are the houses a landing is tried in besides the one at the centre.
// Their ends are the equipment's own ranges.
var edgeRows = []edgeRow{
	{house: "low line", end: lineEnd},
	{house: "high line", end: against(lineEnd)},
	{house: "long, thin, hot cable", end: cableEnd, thin: true},
	{house: "coils that ask the most", end: coilEnd},
	{house: "low line, long cable and coils that ask much", end: all(lineEnd, cableEnd, coilEnd), thin: true, sensing: true},
	{house: "high line, short cable and coils that ask little", end: against(all(lineEnd, cableEnd, coilEnd)), sensing: true},
}

func against(f func(circuit.Value) end) func(circuit.Value) end {
	return func(v circuit.Value) end { return -f(v) }
}

// all is the first end that any of these gives.
func all(fs ...func(circuit.Value) end) func(circuit.Value) end {
	return func(v circuit.Value) end {
		for _, f := range fs {
			if e := f(v); e != 0 {
				return e
			}
		}
		return 0
	}
}

// lineEnd: a low supply and a soft transformer.
func lineEnd(v circuit.Value) end {
	switch {
	case strings.HasPrefix(v.Group, "line-") && v.Key == "volts", v.Name() == "transformer.open-circuit-volts":
		return -1
	case v.Name() == "transformer.series-ohms":
		return 1
	}
	return 0
}

// cableEnd: what lies between the board and a coil takes the most.
func cableEnd(v circuit.Value) end {
	if v.Group == "cable" && v.Key != "picofarads-per-metre" || v.Name() == "joint.ohms" || v.Name() == "stat.closed-ohms" {
		return 1
	}
	return 0
}

// coilEnd: loads draw the most and need the most.
func coilEnd(v circuit.Value) end {
	_, load := loads[v.Group]
	switch {
	case load && v.Key == "pick-up-volts", v.Name() == "stat.volt-amperes":
		return 1
	case load && strings.HasSuffix(v.Key, "ohms") && v.Key != "dc-ohms":
		return -1
	case v.Name() == "stat.leak-ohms":
		return 1
	}
	return 0
}

// draw is the row's house of an equipment. One in which the equipment's own
// thermostat could not run every load is moved towards the centre, a quarter
// of the way at a time: no landing could be right there.
func (r edgeRow) draw(e *circuit.Equipment) (circuit.Draw, error) {
	for reach := 1.0; ; reach -= 0.25 {
		d, err := r.at(e, reach)
		if err != nil || reach <= 0 || d.Healthy() {
			return d, err
		}
	}
}

func (r edgeRow) at(e *circuit.Equipment, reach float64) (circuit.Draw, error) {
	d := e.Nominal()
	var err error
	for _, v := range e.Values() {
		x := v.Nominal
		switch r.end(v) {
		case 1:
			x += reach * (v.High - v.Nominal)
		case -1:
			x -= reach * (v.Nominal - v.Low)
		default:
			continue
		}
		if d, err = d.WithValue(v.Name(), x); err != nil {
			return d, err
		}
	}
	if r.thin {
		if d, err = d.With(circuit.Gauge, "20"); err != nil {
			return d, err
		}
	}
	if r.sensing && e.Draws(circuit.Sensing) {
		d, err = d.With(circuit.Sensing, "yes")
	}
	return d, err
}

// edges are the houses of each equipment, made once, and what was tried in
// them: a question answered rarely changes the landing.
type edges struct {
	mu    sync.Mutex
	of    map[house.Equipment][]circuit.Draw
	tried map[string][]Edge
}

// triedMost bounds what is kept.
const triedMost = 1000

func (s *edges) draws(e *circuit.Equipment) ([]circuit.Draw, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if out, ok := s.of[e.ID]; ok {
		return out, nil
	}
	var out []circuit.Draw
	for _, r := range edgeRows {
		d, err := r.draw(e)
		if err != nil {
			return nil, err
		}
		out = append(out, d)
	}
	if s.of == nil {
		s.of = map[house.Equipment][]circuit.Draw{}
	}
	s.of[e.ID] = out
	return out, nil
}

// edge tries a landing at the ends of the ranges.
func (m *mind) edge(h hypothesis, p Plan, joined [][2]house.Terminal) ([]Edge, error) {
	draws, err := m.edges.draws(h.eq)
	if err != nil {
		return nil, err
	}
	key := fmt.Sprint(h.eq.ID, h.is, p, m.c.New, joined)
	if out, ok := m.edges.get(key); ok {
		return out, nil
	}
	var out []Edge
	for i, d := range draws {
		proof, err := h.proveIn(d, p, m.c.New, joined)
		if err != nil {
			return nil, err
		}
		out = append(out, Edge{edgeRows[i].house, proof})
	}
	m.edges.keep(key, out)
	return out, nil
}

func (s *edges) get(key string) ([]Edge, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	out, ok := s.tried[key]
	return out, ok
}

func (s *edges) keep(key string, es []Edge) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.tried == nil || len(s.tried) >= triedMost {
		s.tried = map[string][]Edge{}
	}
	s.tried[key] = es
}

// tight says what strains at the ends of the ranges, the worst of each part:
// such a house strains with any landing that is right.
func tight(es []Edge) []string {
	var out []string
	worst := map[string]float64{} // by part: the least margin, and its line
	lines := map[string]string{}
	var order []string
	note := func(part string, margin float64, line string) {
		if _, seen := worst[part]; !seen {
			order = append(order, part)
		} else if margin >= worst[part] {
			return
		}
		worst[part], lines[part] = margin, line
	}
	for _, e := range es {
		for _, c := range e.Proof.Calls {
			at := fmt.Sprintf("on %s, in a house with %s", c.Title, e.House)
			for _, coil := range c.Coils {
				if margin := coil.Pulling - coil.PickUp; margin < 0 && slices.Contains(c.Wanted, coil.Part) {
					note(coil.Part, margin, fmt.Sprintf("%s: %.1f V to pull in, and it needs %.1f; %s.", partTitles[coil.Part], coil.Pulling, coil.PickUp, at))
				}
			}
			for _, s := range c.Sources {
				if s.VA > s.Rating && !c.Blown {
					note(s.Part, s.Rating-s.VA, fmt.Sprintf("%s: %.0f VA of %.0f; %s.", partTitles[s.Part], s.VA, s.Rating, at))
				}
			}
			if c.Blown {
				note("fuse", 0, "the board's fuse: it blows; "+at+".")
			}
		}
	}
	for _, part := range order {
		out = append(out, lines[part])
	}
	return out
}
