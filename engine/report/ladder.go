package report

import (
	"slices"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// ladder is an equipment's circuit as rungs between the hot side on the left
// and the common on the right, with what was read and what failed.
type ladder struct {
	rungs []*rung
	// apart names what failed and stands on no rung.
	apart []string
}

// rung is one load and everything in series with it: a joint, then an element
// and a joint for each step from left to right.
type rung struct {
	name     string
	joints   []joint
	elements []element
	line     bool // line voltage
	short    bool // it ends before the common
	tags     []tag
}

// joint is one electrical point: every terminal that is wired to it.
type joint []terminal

type terminal struct {
	word string
	at   house.Place
}

// shape is how an element is drawn.
type shape uint8

const (
	wireShape    shape = iota
	switchShape        // closed unless something opens it
	contactShape       // made by something
	loadShape
	fuseShape
	sourceShape
)

// element is a part, a conductor, or a contact of the thermostat.
type element struct {
	id    string // a part's id, "wire Y outdoor", "contact Y", "thermostat"
	text  [2]string
	shape shape
	mark  mark
}

// mark says how an element stands in the finding.
type mark uint8

const (
	unmarked mark = iota
	possible
	failed
)

func (m mark) word() string { return [...]string{"", "POSSIBLE", "FAILED"}[m] }

// tag is one reading: the joints its leads were on, by index into a rung, or
// the element a clamp went around.
type tag struct {
	no         int
	text       string
	red, black int // joints of the rung, -1 where the lead is elsewhere
}

// net joins terminals that wires make one point, and holds the elements
// between points.
type net struct {
	root  map[terminal]terminal
	order []terminal
	edges []edge
}

type edge struct {
	from, to terminal
	element  element
}

func (n *net) find(t terminal) terminal {
	r, ok := n.root[t]
	if !ok {
		n.root[t] = t
		n.order = append(n.order, t)
		return t
	}
	if r == t {
		return t
	}
	r = n.find(r)
	n.root[t] = r
	return r
}

func (n *net) tie(a, b terminal) { n.root[n.find(b)] = n.find(a) }

// joint lists the terminals of a point, in the order they were met.
func (n *net) joint(t terminal) joint {
	var out joint
	for _, o := range n.order {
		if n.find(o) == n.find(t) {
			out = append(out, o)
		}
	}
	return out
}

// loadIDs are the parts that get a rung of their own, in the order drawn.
var loadIDs = []string{"contactor", "stage2", "reversing-valve", "fan-relay", "fan-input", "sequencer", "burner-control", "gas-valve", "defrost-control"}

// partText names the parts on the drawing, on two short lines.
var partText = map[string][2]string{
	"door": {"door", "switch"}, "float": {"float", "switch"}, "limit": {"heat", "limit"}, "rollout": {"burner", "rollout"},
	"pressure": {"pressure", "switches"}, "transformer": {"transformer", ""}, "heat-transformer": {"furnace", "transformer"},
	"fuse": {"fuse", ""}, "contactor": {"contactor", "coil"}, "fan-relay": {"fan relay", "coil"}, "reversing-valve": {"reversing", "valve"},
	"stage2": {"second", "stage"}, "sequencer": {"heat", "sequencer"}, "gas-valve": {"gas valve", ""}, "burner-control": {"burner", "control"},
	"fan-input": {"board fan", "output"}, "defrost-control": {"defrost", "control"}, "compressor": {"compressor", "and fan"},
	"pole-1": {"contactor", "pole 1"}, "pole-2": {"contactor", "pole 2"}, "gas-output": {"burner control", "contact"},
	"heat-output": {"defrost", "contact"}, "lockout-contact": {"lockout", "contact"}, "valve-release": {"defrost", "contact"},
}

var partShape = map[string]shape{
	"door": switchShape, "float": switchShape, "limit": switchShape, "rollout": switchShape, "pressure": switchShape,
	"lockout-contact": switchShape, "valve-release": switchShape, "fuse": fuseShape, "transformer": sourceShape, "heat-transformer": sourceShape,
	"pole-1": contactShape, "pole-2": contactShape, "gas-output": contactShape,
	"heat-output": contactShape,
}

func partElement(id string) element {
	s, ok := partShape[id]
	if !ok {
		s = loadShape
	}
	return element{id: id, text: partText[id], shape: s}
}

// wiring builds the net of the control circuit: wires, switches and contacts
// in series, conductors, the thermostat's own contacts.
func wiring(e *circuit.Equipment) *net {
	n := &net{root: map[terminal]terminal{}}
	board := e.Board()
	for _, w := range e.Wires {
		n.tie(terminal{w.From, w.At}, terminal{w.To, w.At})
	}
	if e.ID.Packaged() {
		n.tie(terminal{house.Y.String(), board}, terminal{"y-rung", board})
	}
	for _, p := range e.Parts {
		if s, ok := partShape[p.ID]; ok && s != sourceShape && s != fuseShape && p.ID != "float" && p.ID != "heat-output" {
			n.edges = append(n.edges, edge{terminal{p.Ends[0], p.At}, terminal{p.Ends[1], p.At}, partElement(p.ID)})
		}
	}
	hot := e.Hot(house.Y).String()
	if _, ok := e.Part("float"); ok {
		n.tie(terminal{hot, board}, terminal{"float-1", board})
		n.edges = append(n.edges, edge{terminal{"float-1", board}, terminal{"float-2", board}, partElement("float")})
	}
	for _, c := range e.Cables {
		for _, t := range c.Conductors {
			from := terminal{t.String(), board}
			if _, ok := e.Part("float"); ok && c.To == house.AtThermostat && t.String() == hot {
				from.word = "float-2"
			}
			n.edges = append(n.edges, edge{from, terminal{t.String(), c.To}, wireElement(t.String(), c.To)})
		}
	}
	calls := e.Calls
	for _, t := range (calls.Cool | calls.Heat | calls.Emergency | calls.Fan).Add(calls.Changeover).List() {
		contact := element{id: "contact " + t.String(), text: [2]string{"thermostat", "contact " + t.String()}, shape: contactShape}
		n.edges = append(n.edges, edge{terminal{e.Hot(t).String(), house.AtThermostat}, terminal{t.String(), house.AtThermostat}, contact})
	}
	return n
}

func wireElement(letter string, to house.Place) element {
	where := "to thermostat"
	if to == house.AtOutdoor {
		where = "to outdoors"
	}
	return element{id: "wire " + letter + " " + to.String(), text: [2]string{"wire " + letter, where}}
}

// path is the shortest way from a terminal to any goal over the net's edges.
func (n *net) path(from terminal, goals ...terminal) ([]joint, []element, bool) {
	type hop struct {
		at   terminal
		back int
		by   element
	}
	queue := []hop{{at: n.find(from), back: -1}}
	done := map[terminal]bool{n.find(from): true}
	for i := 0; i < len(queue); i++ {
		if slices.ContainsFunc(goals, func(g terminal) bool { return n.find(g) == queue[i].at }) {
			var joints []joint
			var elements []element
			for k := i; k >= 0; k = queue[k].back {
				joints = append(joints, n.joint(queue[k].at))
				if queue[k].back >= 0 {
					elements = append(elements, queue[k].by)
				}
			}
			return joints, elements, true // from the goal back to where it started
		}
		for _, e := range n.edges {
			for _, ends := range [][2]terminal{{e.from, e.to}, {e.to, e.from}} {
				if n.find(ends[0]) == queue[i].at && !done[n.find(ends[1])] {
					done[n.find(ends[1])] = true
					queue = append(queue, hop{n.find(ends[1]), i, e.element})
				}
			}
		}
	}
	return nil, nil, false
}

// label is a joint in two short lines: its screw and where that is.
func (j joint) label() [2]string {
	best, rank := j[0], 0
	for _, t := range j {
		l, err := house.ParseTerminal(t.word)
		switch {
		case err == nil && l.IsLetter() && rank < 2:
			best, rank = t, 2
		case err == nil && rank < 1:
			best, rank = t, 1
		}
	}
	return [2]string{best.word, placeShort[best.at]}
}

var placeShort = map[house.Place]string{house.AtThermostat: "base", house.AtIndoor: "board", house.AtOutdoor: "outdoor"}

func (j joint) has(word string, at house.Place) bool { return slices.Contains(j, terminal{word, at}) }

// words are the rungs as sentences, for those who do not see the drawing.
func (l *ladder) words() []string {
	var out []string
	for _, r := range l.rungs {
		out = append(out, r.words())
	}
	for _, a := range l.apart {
		out = append(out, "Not on the drawing: "+a+".")
	}
	return out
}

func (r *rung) words() string {
	parts := []string{jointWords(r.joints[0])}
	for i, e := range r.elements {
		text := strings.TrimSpace(e.text[0] + " " + e.text[1])
		if e.mark != unmarked {
			text += " (" + e.mark.word() + ")"
		}
		parts = append(parts, text, jointWords(r.joints[i+1]))
	}
	line := r.name + ": " + strings.Join(parts, ", ") + "."
	for _, t := range r.tags {
		line += " " + t.text + "."
	}
	return line
}

func jointWords(j joint) string {
	l := j.label()
	return strings.TrimSpace(l[0] + " " + l[1])
}
