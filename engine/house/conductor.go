package house

import (
	"math/bits"
	"strings"

	"stepdown/engine/source"
)

// Conductor is one wire at one screw: `Y@thermostat`, `Y@indoor>outdoor`,
// `coil-1@outdoor`. To is set where two conductors share a screw and names
// the far end of the one meant.
type Conductor struct {
	Terminal Terminal
	At, To   Place
}

func (c Conductor) String() string {
	s := c.Terminal.String() + "@" + c.At.String()
	if c.To != NoPlace {
		s += ">" + c.To.String()
	}
	return s
}

// placeUnits name what stands at a place.
var placeUnits = map[Place]string{AtThermostat: "thermostat", AtIndoor: "indoor unit", AtOutdoor: "outdoor unit"}

// Words are c as people say it on e: which letter, from where to where.
func (c Conductor) Words(e Equipment) string {
	if c.To == NoPlace {
		return e.Words(c.Terminal.String() + " at the " + placeUnits[c.At])
	}
	return e.Words(c.Terminal.String() + ", " + placeUnits[c.At] + " to " + placeUnits[c.To])
}

// conductors is the closed list: per letter its end at the base, its two
// conductors at the board and its end at the outdoor strip (in a packaged
// unit, its conductor to the thermostat); then each part's control ends.
var conductors, conductorIndex = listConductors()

func listConductors() ([]Conductor, map[Conductor]int) {
	var all []Conductor
	for t := R; t <= L; t++ {
		all = append(all,
			Conductor{t, AtThermostat, NoPlace},
			Conductor{t, AtIndoor, AtThermostat},
			Conductor{t, AtIndoor, AtOutdoor},
			Conductor{t, AtOutdoor, NoPlace},
			Conductor{t, AtOutdoor, AtThermostat})
	}
	for t := Sec1; t < GND; t++ {
		if t < Pressure1 {
			all = append(all, Conductor{t, AtIndoor, NoPlace})
		}
		all = append(all, Conductor{t, AtOutdoor, NoPlace})
	}
	index := make(map[Conductor]int, len(all))
	for i, c := range all {
		index[c] = i
	}
	return all, index
}

// AllConductors lists every conductor that can be lifted.
func AllConductors() []Conductor { return append([]Conductor(nil), conductors...) }

// ParseConductor reads `LETTER@place`, `LETTER@place>place` or `end@place`.
func ParseConductor(word string) (Conductor, error) {
	unknown := func() (Conductor, error) {
		words := make([]string, len(conductors))
		for i, c := range conductors {
			words[i] = c.String()
		}
		near, _ := source.Nearest(word, words)
		return Conductor{}, &UnknownWord{Kind: "conductor", Word: word, Nearest: near}
	}
	screw, place, ok := strings.Cut(strings.TrimSpace(word), "@")
	if !ok {
		return unknown()
	}
	at, to, both := strings.Cut(place, ">")
	var c Conductor
	var err error
	if c.Terminal, err = ParseTerminal(screw); err != nil {
		return unknown()
	}
	if c.At, err = ParsePlace(at); err != nil {
		return unknown()
	}
	if both {
		if c.To, err = ParsePlace(to); err != nil {
			return unknown()
		}
	}
	if _, ok := conductorIndex[c]; !ok {
		return unknown()
	}
	return c, nil
}

// Conductors is a set of lifted conductors, comparable so that a Setup is.
type Conductors [2]uint64

// ConductorsOf makes a set; a conductor outside the closed list is ignored.
func ConductorsOf(cs ...Conductor) Conductors {
	var s Conductors
	for _, c := range cs {
		s = s.Add(c)
	}
	return s
}

// Add returns the set with c in it.
func (s Conductors) Add(c Conductor) Conductors {
	if i, ok := conductorIndex[c]; ok {
		s[i/64] |= 1 << (i % 64)
	}
	return s
}

// Has reports whether c is in the set.
func (s Conductors) Has(c Conductor) bool {
	i, ok := conductorIndex[c]
	return ok && s[i/64]&(1<<(i%64)) != 0
}

// Empty reports whether nothing is lifted.
func (s Conductors) Empty() bool { return s == Conductors{} }

// Minus returns what is in s and not in other.
func (s Conductors) Minus(other Conductors) Conductors {
	return Conductors{s[0] &^ other[0], s[1] &^ other[1]}
}

// Union returns what is in either.
func (s Conductors) Union(other Conductors) Conductors {
	return Conductors{s[0] | other[0], s[1] | other[1]}
}

// At returns the members whose screw is at p.
func (s Conductors) At(p Place) Conductors {
	var out Conductors
	for _, c := range s.List() {
		if c.At == p {
			out = out.Add(c)
		}
	}
	return out
}

// Len counts the members.
func (s Conductors) Len() int { return bits.OnesCount64(s[0]) + bits.OnesCount64(s[1]) }

// List gives the members in the order of the closed list.
func (s Conductors) List() []Conductor {
	out := make([]Conductor, 0, s.Len())
	for w, word := range s {
		for ; word != 0; word &= word - 1 {
			out = append(out, conductors[w*64+bits.TrailingZeros64(word)])
		}
	}
	return out
}
