package circuit

import (
	"regexp"
	"sort"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// joints is every end a file names, with where it was named: ends that share a
// set are joined by parts or wires.
type joints struct {
	at   map[string]*source.Value
	next map[string][]string
	uses map[string]int
}

func newJoints() joints {
	return joints{at: map[string]*source.Value{}, next: map[string][]string{}, uses: map[string]int{}}
}

func (j joints) tie(a, b string, at *source.Value) {
	for _, end := range []string{a, b} {
		if j.at[end] == nil {
			j.at[end] = at
		}
		j.uses[end]++
	}
	j.next[a] = append(j.next[a], b)
	j.next[b] = append(j.next[b], a)
}

func (j joints) merge(o joints) {
	for end, at := range o.at {
		if j.at[end] == nil {
			j.at[end] = at
		}
	}
	for end, list := range o.next {
		j.next[end] = append(j.next[end], list...)
		j.uses[end] += o.uses[end]
	}
}

var innerWord = regexp.MustCompile(`^[a-z][a-z-]*$`)

// end checks one end's word and gives its name in the network.
func (l *loader) end(e *Equipment, at house.Place, v *source.Value) string {
	word := v.String(l.r)
	t, err := house.ParseTerminal(word)
	switch {
	case err != nil && !innerWord.MatchString(word):
		v.Report(l.r, source.CodeUnknownWord, "a terminal, or a word in small letters for an inner joint", "%q is no end", word)
	case err == nil && t == house.GND:
		return "GND"
	case err == nil && e.ID != house.NoEquipment && !e.ID.Has(t, at):
		v.Report(l.r, source.CodeUnknownWord, "", "%s has no terminal %s at %s", e.ID, t, at)
	}
	return nodeName(word, at)
}

func nodeName(end string, at house.Place) string { return end + "@" + at.String() }

// cabinet reads the parts and wires of one place.
func (l *loader) cabinet(e *Equipment, at house.Place, v *source.Value) joints {
	n := newJoints()
	if v == nil {
		return n
	}
	f := v.Fields(l.r, "parts", "wires")
	for _, item := range f.Need("parts").Items(l.r) {
		l.part(e, at, item, n)
	}
	if f.Has("wires") {
		for _, item := range f.Get("wires").Items(l.r) {
			ends := item.Items(l.r)
			if len(ends) != 2 {
				item.Report(l.r, CodeWrongEnds, "write [one-end, other-end]", "a wire has two ends, not %d", len(ends))
				continue
			}
			n.tie(l.end(e, at, ends[0]), l.end(e, at, ends[1]), ends[0])
			e.Wires = append(e.Wires, Wire{At: at, From: ends[0].Text, To: ends[1].Text})
		}
	}
	return n
}

// didYouMean is the hint for a word that is not among the keys of a map.
func didYouMean[V any](word string, known map[string]V) string {
	names := make([]string, 0, len(known))
	for name := range known {
		names = append(names, name)
	}
	sort.Strings(names)
	if near, ok := source.Nearest(word, names); ok {
		return "did you mean " + near + "?"
	}
	return ""
}

func (l *loader) part(e *Equipment, at house.Place, v *source.Value, n joints) {
	f := v.Fields(l.r, "part", "ends", "uses")
	id := f.Need("part")
	if id == nil {
		return
	}
	row, known := partRows[id.String(l.r)]
	if !known {
		id.Report(l.r, CodeUnknownPart, didYouMean(id.Text, partRows), "unknown part %q", id.Text)
		return
	}
	if e.has(id.Text) {
		id.Report(l.r, CodeTwice, "", "part %s is already given", id.Text)
		return
	}
	p := Part{ID: id.Text, At: at, Uses: row.uses, kind: row.kind}
	var ends []string
	for _, end := range f.Need("ends").Items(l.r) {
		ends = append(ends, l.end(e, at, end))
		p.Ends = append(p.Ends, end.Text)
	}
	if len(p.Ends) != row.kind.ends() {
		f.Get("ends").Report(l.r, CodeWrongEnds, "", "part %s has %d ends, not %d", p.ID, row.kind.ends(), len(p.Ends))
		return
	}
	if u := f.Get("uses"); u != nil {
		p.Uses = u.String(l.r)
	}
	l.use(e, id, p.Uses, row.kind.keys())
	if p.Uses == "line-240" {
		l.use(e, id, p.Uses, []string{"insulation-ohms"})
	}
	for _, end := range ends[1:] {
		n.tie(ends[0], end, id)
	}
	if row.kind == feedKind {
		n.tie(ends[0], "GND", id)
		n.tie(ends[1], "GND", id)
	}
	e.Parts = append(e.Parts, p)
}

// tied reports ends nothing ties to the cabinet's ground and inner joints used
// once: a node left in the air, most often a word typed two ways.
func (l *loader) tied(e *Equipment, n joints) {
	if e.has("float") {
		l.floatTies(e, n)
	}
	board := e.Board()
	for _, c := range e.Cables {
		for _, t := range c.Conductors {
			if c.To == house.AtOutdoor && !e.ID.Packaged() {
				n.tie(nodeName(t.String(), board), nodeName(t.String(), c.To), nil)
			} else {
				n.uses[nodeName(t.String(), board)]++
			}
		}
	}
	reached := map[string]bool{"GND": true}
	for queue := []string{"GND"}; len(queue) > 0; {
		at := queue[0]
		queue = queue[1:]
		for _, next := range n.next[at] {
			if !reached[next] {
				reached[next] = true
				queue = append(queue, next)
			}
		}
	}
	for end, v := range n.at {
		if v == nil || end == "GND" {
			continue
		}
		switch {
		case !reached[end]:
			v.Report(l.r, CodeFloatingNode, "wire it to a part that leads to C or GND", "node %s floats: nothing ties it to the cabinet", end)
		case n.uses[end] < 2:
			v.Report(l.r, CodeFloatingNode, "check its spelling in parts and wires", "node %s floats: only one thing is on it", end)
		}
	}
}

// floatTies adds what the builder adds by itself: the float switch sits in R
// or in Y, whichever is drawn.
func (l *loader) floatTies(e *Equipment, n joints) {
	board := e.Board()
	hot, y := nodeName(e.Hot(house.Y).String(), board), nodeName("Y", board)
	n.tie(hot, nodeName("float-1", board), nil)
	n.tie(y, nodeName("float-2", board), nil)
	if e.ID.Packaged() {
		n.tie(y, nodeName(yRung, board), nil)
	}
}

// yRung is the inner joint of a packaged unit from which Y goes on to the
// contactor: the float switch, where drawn in Y, sits before it.
const yRung = "y-rung"

func (l *loader) cables(e *Equipment, v *source.Value) {
	for _, item := range v.Items(l.r) {
		f := item.Fields(l.r, "to", "conductors")
		to, ok := f.Need("to").OneOf(l.r, "place", "thermostat", "outdoor")
		if !ok {
			continue
		}
		c := Cable{}
		c.To, _ = house.ParsePlace(to)
		for _, word := range f.Need("conductors").Items(l.r) {
			if t := l.letter(word); t != house.NoTerminal {
				c.Conductors = append(c.Conductors, t)
			}
		}
		e.Cables = append(e.Cables, c)
	}
	if v != nil && (len(e.Cables) == 0 || e.Cables[0].To != house.AtThermostat) {
		v.Report(l.r, CodeNoValue, "", "the first cable goes to the thermostat")
	}
}

func (l *loader) letter(v *source.Value) house.Terminal {
	t, err := house.ParseTerminal(v.String(l.r))
	if err != nil || !t.IsLetter() {
		v.Report(l.r, source.CodeUnknownWord, "one of R, Rc, Rh, C, Y, Y2, W, W2, E, G, O, B, L", "%q is no thermostat letter", v.Text)
		return house.NoTerminal
	}
	return t
}

func (l *loader) calls(e *Equipment, v *source.Value) {
	f := v.Fields(l.r, "cool", "heat", "emergency", "fan", "changeover", "energised-in")
	list := func(key string) house.Letters {
		var s house.Letters
		if f.Has(key) {
			for _, item := range f.Get(key).Items(l.r) {
				s = s.Add(l.letter(item))
			}
		}
		return s
	}
	e.Calls = Calls{Cool: list("cool"), Heat: list("heat"), Emergency: list("emergency"), Fan: list("fan")}
	if c := f.Get("changeover"); c != nil {
		e.Calls.Changeover = l.letter(c)
		if mode, ok := f.Need("energised-in").OneOf(l.r, "mode", "cool", "heat"); ok {
			e.Calls.EnergisedIn = house.ModeCool
			if mode == "heat" {
				e.Calls.EnergisedIn = house.ModeHeat
			}
		}
	}
}

// needs lists what must come with a part, or, under "", with every equipment:
// the builder and the looks reach for them without asking.
var needs = map[string][]string{
	"":                 {"feed", "door", "transformer", "fuse", "bond"},
	"contactor":        {"pole-1", "pole-2", "compressor", "pressure"},
	"compressor":       {"contactor"},
	"burner-control":   {"gas-output", "gas-valve", "limit", "rollout"},
	"gas-output":       {"burner-control"},
	"call-sense":       {"lockout-contact", "fault-output", "defrost-control"},
	"lockout-contact":  {"call-sense"},
	"heat-transformer": {"feed2"},
}

// complete reports a part that must be there and is not, and a letter the
// thermostat calls without a conductor to carry it.
func (l *loader) complete(e *Equipment, v, calls *source.Value) {
	for part, with := range needs {
		if part != "" && !e.has(part) {
			continue
		}
		for _, other := range with {
			if !e.has(other) {
				v.Report(l.r, CodeMissingPart, "", "part %s is missing%s", other, either(part == "", "", ", which "+part+" needs"))
			}
		}
	}
	c := e.Calls
	for _, t := range (c.Cool | c.Heat | c.Emergency | c.Fan).Add(c.Changeover).List() {
		if !e.Conductor(house.AtThermostat, t) {
			calls.Report(l.r, CodeMissingPart, "add it to the cable to the thermostat", "%s is called and has no conductor", t)
		}
	}
	for _, t := range []house.Terminal{e.Hot(house.Y), e.Hot(house.W), house.C} {
		if !e.Conductor(house.AtThermostat, t) {
			calls.Report(l.r, CodeMissingPart, "add it to the cable to the thermostat", "the cable to the thermostat has no %s", t)
		}
	}
}
