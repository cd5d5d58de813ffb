package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// draw makes the ladder of an equipment with a report's readings on it and its
// finding marked.
func draw(e *circuit.Equipment, r *Report) *ladder {
	n := wiring(e)
	l := &ladder{}
	l.supplies(e, n)
	l.hotRuns(e, n)
	l.loads(e, n)
	l.defrost(e, n)
	l.lines(e, n)
	for _, p := range r.Probes {
		l.read(p)
	}
	if r.Finding != nil {
		l.point(e, r.Finding.Faults)
	}
	return l
}

// supplies are the transformers' secondaries with their fuse.
func (l *ladder) supplies(e *circuit.Equipment, n *net) {
	board := e.Board()
	at := func(word string) joint { return n.joint(terminal{word, board}) }
	_, two := e.Part("heat-transformer")
	name := "24 V supply"
	if two {
		name = "cooling supply"
	}
	l.rungs = append(l.rungs, &rung{
		name:     name,
		joints:   []joint{at("fuse-2"), at("fuse-1"), at("sec-2")},
		elements: []element{partElement("fuse"), partElement("transformer")},
	})
	if two {
		l.rungs = append(l.rungs, &rung{
			name: "furnace supply", joints: []joint{at("heat-sec-1"), at("heat-sec-2")}, elements: []element{partElement("heat-transformer")},
		})
	}
}

// hots are the board's R screws, and commons what returns to a transformer.
func hots(e *circuit.Equipment) []terminal {
	if e.ID == house.SplitPower {
		return []terminal{{house.Rc.String(), e.Board()}, {house.Rh.String(), e.Board()}}
	}
	return []terminal{{house.R.String(), e.Board()}}
}

func commons(e *circuit.Equipment) []terminal {
	return []terminal{{house.C.String(), e.Board()}, {"heat-sec-2", e.Board()}}
}

// hotRuns are R from the board to the wall base, one run a transformer.
func (l *ladder) hotRuns(e *circuit.Equipment, n *net) {
	for _, h := range hots(e) {
		joints, elements, ok := n.path(terminal{h.word, house.AtThermostat}, h)
		if ok && len(elements) > 0 {
			l.rungs = append(l.rungs, &rung{name: h.word + " to the thermostat", joints: joints, elements: elements, short: true})
		}
	}
}

// loads are the rungs that start at the wall base, the thermostat's own last,
// then those that start at the board: rungs that share a rail stand together.
func (l *ladder) loads(e *circuit.Equipment, n *net) {
	first := len(l.rungs)
	for _, id := range loadIDs {
		if p, ok := e.Part(id); ok {
			l.load(e, n, p)
		}
	}
	l.thermostat(e, n)
	slices.SortStableFunc(l.rungs[first:], func(a, b *rung) int {
		x, y := a.joints[0].label(), b.joints[0].label()
		return cmp.Or(strings.Compare(x[1], y[1]), strings.Compare(x[0], y[0]))
	})
}

// defrost is how the outdoor control brings on heat: R over its contact to W2.
func (l *ladder) defrost(e *circuit.Equipment, n *net) {
	p, ok := e.Part("heat-output")
	if !ok {
		return
	}
	board := e.Board()
	left, before, ok := n.path(terminal{p.Ends[0], p.At}, hots(e)...)
	if !ok {
		return
	}
	right, after, ok := n.path(terminal{p.Ends[1], p.At}, terminal{house.W2.String(), board})
	if !ok {
		return
	}
	slices.Reverse(right)
	slices.Reverse(after)
	l.rungs = append(l.rungs, &rung{name: "heat in defrost", short: true, joints: append(left, right...),
		elements: append(append(before, partElement(p.ID)), after...)})
}

// load is a load's rung: from R at the base, or at the board where no contact
// of the thermostat is in its way, to the common.
func (l *ladder) load(e *circuit.Equipment, n *net, p circuit.Part) {
	var sources []terminal
	for _, h := range hots(e) {
		sources = append(sources, terminal{h.word, house.AtThermostat}, h)
	}
	left, before, ok := n.path(terminal{p.Ends[0], p.At}, sources...)
	if !ok {
		return
	}
	right, after, ok := n.path(terminal{p.Ends[1], p.At}, commons(e)...)
	if !ok {
		return
	}
	r := &rung{name: strings.TrimSpace(partText[p.ID][0] + " " + partText[p.ID][1])}
	r.joints = append(r.joints, left...)
	r.elements = append(append(r.elements, before...), partElement(p.ID))
	slices.Reverse(right)
	slices.Reverse(after)
	r.joints, r.elements = append(r.joints, right...), append(r.elements, after...)
	l.rungs = append(l.rungs, r)
}

// thermostat is the thermostat's own supply over the common wire.
func (l *ladder) thermostat(e *circuit.Equipment, n *net) {
	base, board := house.AtThermostat, e.Board()
	right, after, ok := n.path(terminal{house.C.String(), base}, terminal{house.C.String(), board})
	if !ok || len(after) == 0 {
		return
	}
	r := &rung{name: "thermostat"}
	r.joints = []joint{n.joint(terminal{e.Hot(house.Y).String(), base})}
	r.elements = []element{{id: "thermostat", text: [2]string{"thermostat", "itself"}, shape: loadShape}}
	slices.Reverse(right)
	slices.Reverse(after)
	r.joints, r.elements = append(r.joints, right...), append(r.elements, after...)
	l.rungs = append(l.rungs, r)
}

// lines are the rungs at line voltage.
func (l *ladder) lines(e *circuit.Equipment, n *net) {
	at := func(word string, p house.Place) joint { return n.joint(terminal{word, p}) }
	feed, ok := e.Part("feed")
	if _, door := e.Part("door"); ok && door {
		p := feed.At
		l.rungs = append(l.rungs, &rung{name: "line voltage indoors", line: true,
			joints:   []joint{at("feed-1", p), at("pri-1", p), at("feed-2", p)},
			elements: []element{partElement("door"), {id: "primary", text: [2]string{"transformer", "primary"}, shape: sourceShape}}})
	}
	if second, ok := e.Part("heat-transformer"); ok {
		l.rungs = append(l.rungs, &rung{name: "line voltage at the furnace", line: true,
			joints:   []joint{at(second.Ends[0], second.At), at(second.Ends[1], second.At)},
			elements: []element{{id: "heat-primary", text: [2]string{"furnace", "transformer"}, shape: sourceShape}}})
	}
	if _, ok := e.Part("compressor"); ok {
		p := house.AtOutdoor
		l.rungs = append(l.rungs, &rung{name: "line voltage outdoors", line: true,
			joints:   []joint{at("L1", p), at("T1", p), at("T2", p), at("L2", p)},
			elements: []element{partElement("pole-1"), partElement("compressor"), partElement("pole-2")}})
	}
}

// read puts a reading on the first rung that has both its leads, or on the
// first that has one.
func (l *ladder) read(p Probe) {
	if p.Look != "" {
		return
	}
	text := fmt.Sprintf("%d: %s", p.No, p.Shown)
	if p.Quantity == quantity.Current.String() {
		l.clamp(p, text)
		return
	}
	at := p.seen.Probe.At
	find := func(r *rung, word string) int {
		for i, j := range r.joints {
			if j.has(word, at) {
				return i
			}
		}
		return -1
	}
	for _, r := range l.rungs {
		red, black := find(r, p.Red), find(r, p.Black)
		if red >= 0 && black >= 0 {
			r.tags = append(r.tags, tag{p.No, text, red, black})
			return
		}
	}
	for _, r := range l.rungs {
		red, black := find(r, p.Red), find(r, p.Black)
		if red >= 0 || black >= 0 {
			other := p.Black
			if red < 0 {
				other = p.Red
			}
			r.tags = append(r.tags, tag{p.No, text + " to " + other + " " + placeShort[at], red, black})
			return
		}
	}
	l.apart = append(l.apart, fmt.Sprintf("reading %d, %s: %s", p.No, p.What, p.Shown))
}

// clamp puts a current on the joint of its conductor's screw.
func (l *ladder) clamp(p Probe, text string) {
	c := p.seen.Probe.Conductor
	for _, r := range l.rungs {
		for i, j := range r.joints {
			if j.has(c.Terminal.String(), c.At) {
				r.tags = append(r.tags, tag{p.No, text + " in " + c.Terminal.String(), i, -1})
				return
			}
		}
	}
	l.apart = append(l.apart, fmt.Sprintf("reading %d, %s: %s", p.No, p.What, p.Shown))
}
