package rewire

import (
	"slices"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// meaning is a set of what a conductor may be: board letters, and bit 0 for a
// spare that lands nowhere at the equipment.
type meaning uint16

const spare = house.NoTerminal

func meaningOf(ts ...house.Terminal) meaning {
	var m meaning
	for _, t := range ts {
		m |= 1 << t
	}
	return m
}

func (m meaning) has(t house.Terminal) bool { return m&(1<<t) != 0 }

func (m meaning) list() []house.Terminal {
	var out []house.Terminal
	for t := spare; t <= house.L; t++ {
		if m.has(t) {
			out = append(out, t)
		}
	}
	return out
}

// hypothesis is one way everything may be: the equipment, and which board screw
// each conductor comes from.
type hypothesis struct {
	eq *circuit.Equipment
	is []house.Terminal
}

func (h hypothesis) conductors() house.Letters {
	var s house.Letters
	for _, t := range h.is {
		s = s.Add(t)
	}
	return s
}

// carried are the board letters that can have a conductor to the thermostat.
func carried(e *circuit.Equipment) house.Letters {
	return house.LettersOf(e.Cables[0].Conductors...)
}

// required are those every house has: a common and a fault wire may lack.
func required(e *circuit.Equipment) house.Letters {
	return carried(e).Minus(house.LettersOf(house.C, house.L))
}

// means is what a conductor found on a mark can be in an equipment. A mark is
// not its letter's function: W on a heat pump is the auxiliary, and B is the
// reversing valve on some and the common on others.
func means(e *circuit.Equipment, m Mark) meaning {
	all := carried(e)
	change := e.Calls.Changeover
	one := func(ts ...house.Terminal) meaning {
		var out meaning
		for _, t := range ts {
			if all.Has(t) {
				out |= meaningOf(t)
			}
		}
		return out
	}
	switch {
	case m.State == OnNone:
		return meaningOf(spare)
	case m.State != OnLetter:
		return 0
	case m.OB:
		return one(change)
	}
	switch m.Letter {
	case house.R:
		return one(house.R, house.Rc, house.Rh)
	case house.Rc, house.Rh:
		if all.Has(house.R) {
			return one(house.R)
		}
	case house.W, house.W2, house.E:
		if all.Has(house.W) && m.Letter == house.W {
			return one(house.W)
		}
		return one(house.W2)
	case house.O:
		return one(change)
	case house.B:
		return one(change, house.C) | meaningOf(spare)
	}
	if m.Letter == house.L && !all.Has(house.L) {
		return meaningOf(spare) // a signal this equipment does not send
	}
	return one(m.Letter)
}

// suspect reports whether a conductor carries a plain B at either end: it is
// read before it lands.
func (w Conductor) suspect() bool { return w.Old.is(house.B) || w.Board.is(house.B) }

// claims are the sets the marks of a conductor allow, strongest first. A mark
// that means nothing in this equipment claims the empty set.
func (w Conductor) claims(e *circuit.Equipment) []meaning {
	var out []meaning
	for _, m := range []Mark{w.Board, w.Old} {
		if w.RungOut && len(out) > 0 {
			break // the old letter is no evidence against it
		}
		switch m.State {
		case OnLetter:
			set := means(e, m)
			if m == w.Board && m.is(house.B) {
				set &^= meaningOf(spare) // it was seen to land
			}
			out = append(out, set)
		case OnNone:
			// Unused at the old base says nothing against a screw found at the
			// equipment; unused at both it is a spare.
			if w.Board.State != OnLetter || m == w.Board {
				out = append(out, meaningOf(spare))
			}
		}
	}
	return out
}

// wide is everything a conductor's marks allow, narrow what all of them allow.
func (w Conductor) wide(e *circuit.Equipment) (wide, narrow meaning) {
	narrow = ^meaning(0)
	for _, c := range w.claims(e) {
		wide |= c
		narrow &= c
	}
	return wide, narrow & wide
}

// conflict reports whether two marks of a conductor cannot both be right.
func (w Conductor) conflict(e *circuit.Equipment) bool {
	wide, narrow := w.wide(e)
	return wide != 0 && narrow == 0
}

// space lists the hypotheses that the marks allow in one equipment. Conductors
// in free may be anything their readings say. It is false where there are too
// many to go through.
func (c Case) space(e *circuit.Equipment, free func(int) bool) ([]hypothesis, bool) {
	sets := make([]meaning, len(c.Conductors))
	for k, w := range c.Conductors {
		sets[k], _ = w.wide(e)
		if free(k) {
			sets[k] = meaningOf(append(carried(e).List(), spare)...)
		}
		if sets[k] == 0 && w.Old.State != OnLetter && w.Board.State != OnLetter {
			sets[k] = meaningOf(spare) // nobody knows: capped unless it is found out
		}
	}
	w := walk{c: c, eq: e, sets: sets, is: make([]house.Terminal, len(sets)), left: stepsMost}
	w.place(0)
	return w.out, w.left >= 0
}

// stepsMost bounds the ways that are tried in one equipment: where so many
// wires are unknown, more of them are looked up first.
const stepsMost = 20000

// walk places conductor after conductor and turns back at the first reading
// that does not fit.
type walk struct {
	c    Case
	eq   *circuit.Equipment
	sets []meaning
	is   []house.Terminal
	out  []hypothesis
	left int // steps that may still be made; under 0: it was given up
}

func (w *walk) place(k int) {
	if w.left--; w.left < 0 {
		return
	}
	if k == len(w.sets) {
		if h := (hypothesis{w.eq, slices.Clone(w.is)}); required(w.eq).Minus(h.conductors()) == 0 && w.c.fits(h) {
			w.out = append(w.out, h)
		}
		return
	}
	for _, t := range w.sets[k].list() {
		if t != spare && !w.c.mayShare(w.eq, w.is[:k], k, t) {
			continue
		}
		if w.is[k] = t; w.c.fitsSoFar(hypothesis{w.eq, w.is}, k) {
			w.place(k + 1)
		}
	}
}

// fitsSoFar holds conductor k against the readings between it and those placed
// before it.
func (c Case) fitsSoFar(h hypothesis, k int) bool {
	for _, r := range c.Readings {
		if max(r.Red, r.Black) == k && !r.fits(h) {
			return false
		}
	}
	return true
}

// mayShare reports whether conductor k can come from board screw t beside those
// already placed there: only where its marks say so for both.
func (c Case) mayShare(e *circuit.Equipment, placed []house.Terminal, k int, t house.Terminal) bool {
	for i, other := range placed {
		if other != t {
			continue
		}
		a, _ := c.Conductors[i].wide(e)
		b, _ := c.Conductors[k].wide(e)
		if !a.has(t) || !b.has(t) || twoHots(c.Conductors[i], c.Conductors[k]) {
			return false
		}
	}
	return true
}

// twoHots reports whether one conductor was on Rc and the other on Rh, and
// nobody saw both on one R at the equipment: that is two transformers, and to
// join them would set one against the other.
func twoHots(a, b Conductor) bool {
	apart := a.Old.is(house.Rc) && b.Old.is(house.Rh) || a.Old.is(house.Rh) && b.Old.is(house.Rc)
	return apart && !(a.Board.is(house.R) && b.Board.is(house.R))
}

// fits holds a hypothesis against every reading and look.
func (c Case) fits(h hypothesis) bool {
	if rated, ok := c.rated(); ok && h.eq.Calls.Changeover != house.NoTerminal && h.eq.Calls.EnergisedIn != rated {
		return false
	}
	for _, r := range c.Readings {
		if !r.fits(h) {
			return false
		}
	}
	for _, s := range c.Looks {
		if s.Jumper >= 0 && !s.fits(h) {
			return false
		}
	}
	return true
}

// rated is the mode a reversing valve is energised in, from the outdoor unit's
// diagram or else from the old thermostat's setting.
func (c Case) rated() (house.Mode, bool) {
	for _, l := range []house.Look{house.ChangeoverRated, house.ChangeoverSetting} {
		switch word, _ := c.saw(l); word {
		case "cooling":
			return house.ModeCool, true
		case "heating":
			return house.ModeHeat, true
		}
	}
	return house.ModeOff, false
}

// touched reports whether a reading or a jumper was made on conductor k.
func (c Case) touched(k int) bool {
	for _, r := range c.Readings {
		if r.Red == k || r.Black == k {
			return true
		}
	}
	for _, s := range c.Looks {
		if s.Jumper == k {
			return true
		}
	}
	return false
}

// unmarked reports whether nobody knows where conductor k was.
func (c Case) unmarked(k int) bool {
	w := c.Conductors[k]
	unknown := func(m Mark) bool { return m.State == NotLooked || m.State == OnOther }
	return unknown(w.Old) && unknown(w.Board)
}
