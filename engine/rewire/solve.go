package rewire

import (
	"errors"
	"fmt"
	"slices"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// Solver answers cases with the equipment of a catalog.
type Solver struct {
	catalog *circuit.Catalog
	edges   edges
}

// New makes a solver. It is safe for several goroutines.
func New(catalog *circuit.Catalog) *Solver { return &Solver{catalog: catalog} }

// The errors of a case that cannot be begun.
var (
	ErrNoConductors = errors.New("no conductor is named")
	ErrNoBase       = errors.New("the new base has no letters")
	ErrNoHot        = errors.New("the new base has no R, Rc or Rh")
	ErrNoPower      = errors.New("nobody said what feeds the new thermostat")
	ErrTooMany      = fmt.Errorf("more than %d wires: no thermostat has so many", wiresMost)
)

// wiresMost is past any control cable, and a spare one beside it.
const wiresMost = 24

func (c Case) check() error {
	hot := house.LettersOf(house.R, house.Rc, house.Rh)
	switch {
	case len(c.Conductors) == 0:
		return ErrNoConductors
	case len(c.Conductors) > wiresMost:
		return ErrTooMany
	case c.New.Letters == 0:
		return ErrNoBase
	case c.New.Letters&hot == 0:
		return ErrNoHot
	case c.New.Power == PowerUnknown:
		return ErrNoPower
	}
	return nil
}

// Solve gives the landing, the one question that is open, or what stands in
// the way.
func (s *Solver) Solve(c Case) (Report, error) {
	if err := c.check(); err != nil {
		return Report{}, err
	}
	r := Report{Case: c}
	if stopped(c, &r) {
		return r, nil
	}
	m := s.mind(c)
	if q, ok := m.next(); ok {
		return m.ask(r, q), nil
	}
	if m.vague || len(m.open) > 0 || len(m.hyps) == 0 {
		return m.undecided(r), nil
	}
	return m.answer(r)
}

// stopped handles equipment that is never metered.
func stopped(c Case, r *Report) bool {
	switch c.Equipment.Handling() {
	case house.Stopped:
		r.State = Blocked
		r.Why = []string{"This thermostat switches line voltage. Its wires are not for a low-voltage base: leave them and call a licensed electrician."}
	case house.Declined:
		r.State = Blocked
		r.Why = []string{"This is " + c.Equipment.Title() + ". Its wires do not follow these letters: its own instructions or its installer decide."}
	}
	return r.State != ""
}

// mind is a case thought through: what it may be, and what is still open.
type mind struct {
	c     Case
	all   []*circuit.Equipment // that may be it
	loose []hypothesis         // what readings and marks allow
	hyps  []hypothesis         // … and, where marks agree, what they agree on
	open  []int                // conductors that nobody could settle
	clash bool                 // no hypothesis fits the readings
	vague bool                 // there are too many ways to go through
	edges *edges
}

// mind works out the hypotheses. Where the readings refute every mark the
// conductors they touched may be anything the readings say.
func (s *Solver) mind(c Case) *mind {
	m := &mind{c: c, edges: &s.edges}
	for _, id := range s.catalog.IDs() {
		if c.Equipment == house.NoEquipment || c.Equipment == id {
			m.all = append(m.all, s.catalog.Equipment(id))
		}
	}
	m.loose = m.spaces(func(k int) bool { return c.unmarked(k) && c.touched(k) })
	if len(m.loose) == 0 {
		m.loose = m.spaces(c.touched)
		m.clash = len(m.loose) == 0 && len(c.Readings)+len(c.Looks) > 0 && len(m.unread()) > 0
	}
	m.natural()
	m.hyps = slices.Clone(m.loose)
	for k, w := range c.Conductors {
		m.hyps = prefer(m.hyps, func(h hypothesis) bool {
			_, narrow := w.wide(h.eq)
			return narrow == 0 || narrow.has(h.is[k])
		})
	}
	return m
}

func (m *mind) spaces(free func(int) bool) []hypothesis {
	var out []hypothesis
	for _, e := range m.all {
		hs, whole := m.c.space(e, free)
		m.vague = m.vague || !whole
		out = append(out, hs...)
	}
	return out
}

// unread are the hypotheses that would fit if nothing had been read.
func (m *mind) unread() []hypothesis {
	c := m.c
	c.Readings = nil
	c.Looks = slices.DeleteFunc(slices.Clone(c.Looks), func(s Seen) bool { return s.Jumper >= 0 })
	return (&mind{c: c, all: m.all}).spaces(func(int) bool { return false })
}

// natural keeps, of equipment nobody named, the kinds whose valve works the way
// the old letter says: O in cooling, B in heating.
func (m *mind) natural() {
	if m.c.Equipment != house.NoEquipment {
		return
	}
	m.loose = prefer(m.loose, func(h hypothesis) bool { return !m.c.senseClash(h) })
}

// senseClash reports whether a plain O or B at either end of the changeover
// conductor says another sense than the equipment has.
func (c Case) senseClash(h hypothesis) bool {
	change := h.eq.Calls.Changeover
	for k, w := range c.Conductors {
		if change == house.NoTerminal || h.is[k] != change {
			continue
		}
		for _, m := range []Mark{w.Old, w.Board} {
			if m.is(house.O) && change != house.O || m.is(house.B) && change != house.B {
				return true
			}
		}
	}
	return false
}

// prefer keeps what fits, or all of it where nothing does.
func prefer(hs []hypothesis, fits func(hypothesis) bool) []hypothesis {
	kept := slices.DeleteFunc(slices.Clone(hs), func(h hypothesis) bool { return !fits(h) })
	if len(kept) == 0 {
		return hs
	}
	return kept
}

// may is everything conductor k may be, O and B taken as one.
func may(hs []hypothesis, k int) meaning {
	var m meaning
	for _, h := range hs {
		t := h.is[k]
		if t != spare && t == h.eq.Calls.Changeover {
			t = house.O
		}
		m |= meaningOf(t)
	}
	return m
}

// one reports whether a set has exactly one member.
func (m meaning) one() bool { return m != 0 && m&(m-1) == 0 }

// settled reports whether conductor k needs no more reading.
func (m *mind) settled(k int) bool {
	w := m.c.Conductors[k]
	switch {
	case w.suspect():
		return may(m.hyps, k).one() && m.told(k)
	case m.conflicts(k):
		return may(m.hyps, k).one() && m.contested(k)
	}
	return may(m.hyps, k).one() || m.c.unmarked(k) && m.c.unable("board:"+w.Name)
}

// told reports whether the readings alone leave conductor k what it is: they
// rule out all else that its marks allow, and the common.
func (m *mind) told(k int) bool {
	if !m.c.touched(k) {
		return false
	}
	ruled := 0
	for _, h := range m.hyps {
		wide, _ := m.c.Conductors[k].wide(h.eq)
		for _, t := range (wide | meaningOf(house.C)).list() {
			if t == h.is[k] {
				continue
			}
			other := hypothesis{h.eq, slices.Clone(h.is)}
			other.is[k] = t
			if m.c.fits(other) {
				return false
			}
			ruled++
		}
	}
	return ruled > 0
}

// contested reports whether a reading was made on conductor k or on another
// whose marks disagree, or one was rung out, which leaves this one what is left.
func (m *mind) contested(k int) bool {
	for i := range m.c.Conductors {
		if m.c.Conductors[i].RungOut || m.c.touched(i) && (i == k || m.conflicts(i)) {
			return true
		}
	}
	return false
}

func (m *mind) conflicts(k int) bool {
	for _, h := range m.loose {
		if m.c.Conductors[k].conflict(h.eq) {
			return true
		}
	}
	return false
}

// answer lands the conductors and proves it.
func (m *mind) answer(r Report) (Report, error) {
	b := m.c.New
	first := place(m.hyps[0], b)
	r.Equipment = m.equipment()
	if len(first.lack) > 0 {
		r.State, r.Why = Blocked, first.lack
		return m.common(r, m.hyps[0])
	}
	if err := m.proofs(&r, first); err != nil {
		return r, err
	}
	if len(r.Why) > 0 {
		// A landing that fails is no answer: only why it fails is told.
		r.State = Blocked
		return r, nil
	}
	r.State, r.Plan, r.Lost, r.Tight = Answer, first.Plan, first.lost, tight(r.Edges)
	r.Landing = m.placements(first.Plan)
	r.Settings = settings(m, first.Plan)
	return m.common(r, m.hyps[0])
}

// proofs tries a landing in each equipment it may be, in the house at the
// centre and in those at the ends; what fails goes into the report's Why.
func (m *mind) proofs(r *Report, p placed) error {
	for _, h := range m.hyps {
		if slices.ContainsFunc(r.Proofs, func(p Proof) bool { return p.Equipment == h.eq.ID }) {
			continue
		}
		proof, err := h.prove(p.Plan, m.c.New, p.Joined)
		if err != nil {
			return err
		}
		r.Proofs = append(r.Proofs, proof)
		for _, call := range proof.Calls {
			for _, w := range call.Wrong {
				r.Why = append(r.Why, "In the model, "+call.Title+": "+w+".")
			}
		}
		if len(r.Why) > 0 {
			continue
		}
		edges, err := m.edge(h, p.Plan, p.Joined)
		if err != nil {
			return err
		}
		r.Edges = append(r.Edges, edges...)
		for _, e := range edges {
			r.Why = append(r.Why, e.stray()...)
		}
	}
	return nil
}

// equipment lists the kinds it may be.
func (m *mind) equipment() []house.Equipment {
	var out []house.Equipment
	for _, h := range m.hyps {
		if !slices.Contains(out, h.eq.ID) {
			out = append(out, h.eq.ID)
		}
	}
	return out
}
