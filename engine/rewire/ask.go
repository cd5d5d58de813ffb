package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// Kind is what answers a question.
type Kind string

// A reading, a look, the screw a conductor lands on at the equipment, or one
// of a few answers.
const (
	AskReading Kind = "reading"
	AskLook    Kind = "look"
	AskBoard   Kind = "board"
	AskChoose  Kind = "choose"
)

// Question is the one thing that is open. Its goal goes through the planner,
// which alone knows how to get there safely.
type Question struct {
	ID, Text, Why string
	Kind          Kind
	Reading       Reading // what to read, its value left out
	Seen          Seen    // what to look at, its answer left out
	Conductor     int
	Answers       [][2]string // id and text
	Means         []string    // what each outcome says
	// Goal is what the planner brings the house to; Hands says that nothing
	// is read there, so that the house is made dead and stays so.
	Goal   planner.Goal
	NoGoal bool
}

// Facts is the house as the planner needs to know it for the question.
func (c Case) Facts() house.Facts { return c.facts(c.Equipment) }

// Steps plays the planner from an untouched house to where the question can be
// answered. It is false where the audience may not go there.
func (q Question) Steps(who house.Audience, f house.Facts) ([]planner.Action, bool) {
	var out []planner.Action
	if q.NoGoal {
		return nil, true
	}
	s := planner.Start()
	const most = 60 // the longest way is some twenty
	for range most {
		a := planner.Next(s, q.Goal, who, f)
		switch a.Kind {
		case planner.Ready:
			return out, true
		case planner.Refuse:
			return append(out, a), false
		}
		out, s = append(out, a), a.After
	}
	return out, false
}

// next is the question to ask now: the B first, then marks that disagree, then
// what nobody knows, then what the equipment decides.
func (m *mind) next() (Question, bool) {
	if m.vague {
		return m.lookUp()
	}
	if m.clash {
		return m.again()
	}
	for _, pick := range []func(int) bool{
		func(k int) bool { return m.c.Conductors[k].suspect() },
		m.conflicts,
		func(k int) bool { return m.c.unmarked(k) },
		func(k int) bool { return len(m.hyps) > 0 && !may(m.hyps, k).one() },
	} {
		for k := range m.c.Conductors {
			if !pick(k) || slices.Contains(m.open, k) || m.settled(k) && !(m.c.unmarked(k) && !m.c.touched(k) && !m.c.unable("board:"+m.c.Conductors[k].Name)) {
				continue
			}
			if q, ok := m.about(k); ok {
				return q, true
			}
			if !m.harmless(k) {
				m.open = append(m.open, k)
			}
		}
	}
	if len(m.open) > 0 {
		return Question{}, false
	}
	return m.aboutEquipment()
}

// lookUp asks for the screw of the first conductor nobody looked up, where too
// much is unknown to think the rest through.
func (m *mind) lookUp() (Question, bool) {
	for k, w := range m.c.Conductors {
		if w.Board.State != NotLooked {
			continue
		}
		if q, ok := m.board(k); ok {
			return q, true
		}
	}
	return Question{}, false
}

// harmless reports whether conductor k may be capped without knowing it: the
// rest covers every call.
func (m *mind) harmless(k int) bool {
	return m.c.unmarked(k) && len(m.hyps) > 0
}

// again asks for the last reading once more: it fits nothing.
func (m *mind) again() (Question, bool) {
	if len(m.c.Readings) == 0 {
		return Question{}, false
	}
	last := m.c.Readings[len(m.c.Readings)-1]
	c := m.c
	c.Readings = c.Readings[:len(c.Readings)-1]
	before := (&mind{c: c, all: m.all})
	before.loose = m.unread()
	before.hyps = before.loose
	q, ok := before.readingOf(last.Red, last.Black, last.Quantity, last.Mode)
	if m.c.unable(q.ID + ":again") {
		return Question{}, false
	}
	q.ID += ":again"
	q.Why = fmt.Sprintf("%s fits no wiring. Are both ends bare, and nothing else on them? Touch the leads together first, then read it again.", value(last))
	return q, ok
}

func value(r Reading) string {
	if v, ok := r.Value.Number(); ok {
		if r.Quantity == quantity.Resistance {
			return fmt.Sprintf("%g ohms", v)
		}
		return fmt.Sprintf("%g volts", v)
	}
	return "OL"
}

// about is the best question on conductor k: a reading that tells its meanings
// apart, then a jumper and a look, then a look at the equipment.
func (m *mind) about(k int) (Question, bool) {
	w := m.c.Conductors[k]
	hs := m.hyps
	if w.suspect() || m.conflicts(k) {
		hs = m.loose
	}
	if m.c.unmarked(k) && !m.c.touched(k) {
		return m.board(k)
	}
	set := may(hs, k)
	if w.suspect() || m.conflicts(k) {
		set |= m.marked(k) // also what the other wires already rule out
	}
	for _, j := range m.references(k) {
		if m.tells(k, j, set) && !m.read(k, j, quantity.Resistance) {
			if q, ok := m.readingOf(k, j, quantity.Resistance, house.ModeOff); ok {
				return q, true
			}
		}
	}
	if q, ok := m.jumper(k, set); ok {
		return q, true
	}
	if q, ok := m.energised(k, set); ok {
		return q, true
	}
	return m.board(k)
}

// marked is everything the marks of conductor k say it may be, O and B taken as
// one, and the common for a B.
func (m *mind) marked(k int) meaning {
	var set meaning
	w := m.c.Conductors[k]
	for _, e := range m.equipments() {
		wide, _ := w.wide(e)
		if change := e.Calls.Changeover; change != house.NoTerminal && wide.has(change) {
			wide = wide&^meaningOf(change) | meaningOf(house.O)
		}
		set |= wide
	}
	if w.suspect() {
		set |= meaningOf(house.C)
	}
	return set
}

func (m *mind) read(k, j int, q quantity.Quantity) bool {
	return slices.ContainsFunc(m.c.Readings, func(r Reading) bool {
		return r.Quantity == q && (r.Red == k && r.Black == j || r.Red == j && r.Black == k)
	})
}

// references are conductors that are the same in every hypothesis and can hold
// the other lead, the common before R.
func (m *mind) references(k int) []int {
	var out []int
	for _, want := range []house.Terminal{house.C, house.R, house.Rc, house.Rh} {
		for j, w := range m.c.Conductors {
			if j != k && may(m.loose, j) == meaningOf(want) && !w.suspect() {
				out = append(out, j)
			}
		}
	}
	return out
}

// tells reports whether ohms from k to j come out apart for each meaning.
func (m *mind) tells(k, j int, set meaning) bool {
	type of struct {
		is   house.Terminal
		want band
	}
	var all []of
	ref := may(m.loose, j).list()[0]
	for _, e := range m.equipments() {
		for _, t := range set.list() {
			if t == house.O && e.Calls.Changeover != house.NoTerminal {
				t = e.Calls.Changeover
			}
			if t != spare && !carried(e).Has(t) {
				continue
			}
			all = append(all, of{t, between(e, t, ref)})
		}
	}
	change := func(t house.Terminal) bool { return t == house.O || t == house.B }
	for i, a := range all {
		for _, b := range all[:i] {
			if a.is != b.is && !(change(a.is) && change(b.is)) && !a.want.apart(b.want) {
				return false
			}
		}
	}
	return len(all) > 1
}

func (m *mind) equipments() []*circuit.Equipment {
	var out []*circuit.Equipment
	for _, h := range m.loose {
		if !slices.Contains(out, h.eq) {
			out = append(out, h.eq)
		}
	}
	if len(out) == 0 {
		return m.all
	}
	return out
}

// readingOf is the question that asks for one reading.
func (m *mind) readingOf(k, j int, what quantity.Quantity, mode house.Mode) (Question, bool) {
	a, b := m.c.Conductors[k], m.c.Conductors[j]
	q := Question{Kind: AskReading, Conductor: k, Reading: Reading{Quantity: what, Red: k, Black: j, Mode: mode}}
	if what == quantity.Resistance {
		q.ID = "ohms:" + a.Name + ":" + b.Name
		q.Text = fmt.Sprintf("Ohms from %s to %s, every conductor off the old base.", a.label(), b.label())
		q.Why = m.whyRead(k)
		q.Means = m.meanings(k, j)
		q.Goal = m.baseDead()
	} else {
		q.ID = "volts:" + a.Name + ":" + b.Name
		q.Text = fmt.Sprintf("Volts AC from %s to %s on the old base, thermostat on %s and not calling.", a.label(), b.label(), strings.ToUpper(mode.String()))
		q.Why = m.whyRead(k)
		q.Means = []string{fmt.Sprintf("under %.0f: the old thermostat feeds it in heating, so it drives the reversing valve", liveVolts),
			"anything else: it stays open; a dead contact reads the same"}
		s := house.DefaultSetup()
		s.Mode = mode
		q.Goal = planner.Goal{Setup: s, Probe: house.Volts(m.hot(), house.C, house.AtThermostat)}
	}
	return q, m.can(q)
}

// can reports whether the audience can get there, and did not give it up.
func (m *mind) can(q Question) bool {
	if m.c.unable(q.ID) {
		return false
	}
	_, ok := q.Steps(m.c.Audience, m.c.Facts())
	return ok
}

func (m *mind) hot() house.Terminal {
	if m.c.Equipment == house.SplitPower {
		return house.Rc
	}
	return house.R
}

// baseDead is the wall base with every feed locked out and its face off.
func (m *mind) baseDead() planner.Goal {
	s := house.DefaultSetup()
	s.Thermostat = house.Removed
	s.PowerIndoor, s.PowerOutdoor = house.LockedOut, house.LockedOut
	return planner.Goal{Setup: s, Probe: house.Measure(quantity.Resistance, m.hot(), house.C, house.AtThermostat)}
}

// behindCover is a look behind the cover of a cabinet, locked out and proven
// dead: any look there that needs no power leads to the screws too.
func (m *mind) behindCover(at house.Place) planner.Goal {
	look := house.FuseLook
	if at == house.AtOutdoor {
		look = house.ChangeoverRated
	}
	return planner.Goal{Setup: openedDead(at), Probe: house.LookAt(look)}
}

// boardDead is the board with every feed locked out, for an ohmmeter and hands.
func (m *mind) boardDead() planner.Goal {
	s := openedDead(house.AtIndoor)
	s.PowerOutdoor = house.LockedOut
	return planner.Goal{Setup: s, Probe: house.Measure(quantity.Resistance, m.hot(), house.C, house.AtIndoor)}
}

// openedDead is a cabinet with its own feed locked out and its cover off.
func openedDead(at house.Place) house.Setup {
	s := house.DefaultSetup()
	if at == house.AtOutdoor {
		s.PowerOutdoor, s.CoverOutdoor = house.LockedOut, true
	} else {
		s.PowerIndoor, s.CoverIndoor = house.LockedOut, true
	}
	return s
}

func (m *mind) whyRead(k int) string {
	w := m.c.Conductors[k]
	if w.suspect() {
		return "B drives the reversing valve on some equipment and is the common on other. The common on a driven B shorts the transformer."
	}
	if m.conflicts(k) {
		return fmt.Sprintf("The old base says %s and the equipment says %s. One of them is wrong.", w.Old, w.Board)
	}
	return "The letters leave open what this conductor does."
}

// meanings tells what each outcome of an ohms reading says.
func (m *mind) meanings(k, j int) []string {
	set := may(m.loose, k) | m.marked(k)
	ref := may(m.loose, j).list()
	var out []string
	all := set.list()
	if len(all) > 1 && all[0] == spare {
		all = append(all[1:], spare) // told last
	}
	for _, t := range all {
		low, high, open := 1e9, 0.0, t == spare || t == house.L
		for _, e := range m.equipments() {
			is := t
			if t == house.O && e.Calls.Changeover != house.NoTerminal {
				is = e.Calls.Changeover
			}
			if len(ref) == 0 || is != spare && !carried(e).Has(is) {
				continue
			}
			b := between(e, is, ref[0])
			low, high = min(low, b.low), max(high, b.high)
		}
		switch {
		case open:
			out = append(out, "OL: "+meaningWord(t))
		case high > 0:
			out = append(out, fmt.Sprintf("%.0f to %.0f: %s", low, high, meaningWord(t)))
		}
	}
	return out
}

// meaningWord is a board letter in plain words.
func meaningWord(t house.Terminal) string {
	switch t {
	case spare:
		return "a spare, on no screw"
	case house.C:
		return "the common"
	case house.O, house.B:
		return "the reversing valve"
	case house.L:
		return "the fault signal"
	}
	return t.String()
}

// label names a conductor with its marks.
func (w Conductor) label() string {
	switch {
	case w.Old.State == OnLetter:
		return w.Name + " (old " + w.Old.String() + ")"
	case w.Board.State == OnLetter:
		return w.Name + " (" + w.Board.String() + " at the equipment)"
	}
	return w.Name
}
