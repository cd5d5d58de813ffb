package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Case is one thermostat swap as far as people know it. The zero value knows
// nothing.
type Case struct {
	Audience   house.Audience
	Meter      house.Meter
	OldBase    house.Base      // whether the old base's screws show with its face on
	Equipment  house.Equipment // NoEquipment: unknown
	Conductors []Conductor
	New        Base
	Readings   []Reading
	Looks      []Seen
	// Joined are the jumpers on the new base of a landing already made.
	Joined [][2]house.Terminal
	// Setting is where the new thermostat's changeover is energised, for a
	// landing already made: ModeOff where it has none or nobody looked.
	Setting house.Mode
	// Unable are the ids of questions that nobody can answer.
	Unable []string
}

// Conductor is one wire out of the wall.
type Conductor struct {
	Name    string // unique in its case
	Colour  string // one of letter.Jackets, or empty
	Old     Mark   // on the old base
	Board   Mark   // at the equipment
	RungOut bool   // … where an ohmmeter found it, the far end twisted to another
	Now     Mark   // on the new base, for a landing already made
}

// Mark is what somebody found at one end of a conductor. The zero value:
// nobody looked.
type Mark struct {
	State  MarkState
	Letter house.Terminal // where State is OnLetter
	OB     bool           // the screw is marked O/B
}

// MarkState tells what was found.
type MarkState uint8

// Nobody looked; on no screw; on a screw of another mark; on a letter.
const (
	NotLooked MarkState = iota
	OnNone
	OnOther
	OnLetter
)

// marks are screws that go by two letters.
var marks = map[string]Mark{
	"O/B": {OnLetter, house.O, true}, "OB": {OnLetter, house.O, true}, "B/O": {OnLetter, house.O, true},
	"W2/E": {OnLetter, house.W2, false}, "AUX/E": {OnLetter, house.W2, false}, "E/AUX": {OnLetter, house.W2, false},
	"NONE": {State: OnNone}, "UNUSED": {State: OnNone}, "-": {State: OnNone}, "OTHER": {State: OnOther},
}

// ParseMark reads a thermostat letter, O/B, AUX/E, none, or other.
func ParseMark(word string) (Mark, error) {
	if m, ok := marks[strings.ToUpper(strings.TrimSpace(word))]; ok {
		return m, nil
	}
	t, err := house.ParseTerminal(strings.TrimSpace(word))
	if err != nil || !t.IsLetter() {
		upper, upperErr := house.ParseTerminal(strings.ToUpper(strings.TrimSpace(word)))
		if upperErr != nil || !upper.IsLetter() {
			return Mark{}, fmt.Errorf("%q is no thermostat letter", word)
		}
		t = upper
	}
	return Mark{State: OnLetter, Letter: t}, nil
}

// letters is the marks a screw can have, for a hint.
const letters = "R, Rc, Rh, C, Y, Y2, G, O, B, O/B, W, W2, AUX, E, L, none, or other for a screw of another mark"

func (m Mark) String() string {
	switch {
	case m.State == NotLooked:
		return ""
	case m.State == OnNone:
		return "none"
	case m.State == OnOther:
		return "other"
	case m.OB:
		return "O/B"
	}
	return m.Letter.String()
}

// is reports whether the mark is letter t and nothing else.
func (m Mark) is(t house.Terminal) bool { return m.State == OnLetter && m.Letter == t && !m.OB }

// Power is how a new thermostat can be fed.
type Power uint8

// PowerEither takes the common where there is one and batteries where not.
const (
	PowerUnknown Power = iota
	PowerCommon
	PowerBattery
	PowerEither
	PowerThroughLoad
)

var powerWords = []string{"", "common", "battery", "either", "through-load"}

func (p Power) String() string { return powerWords[p] }

// ParsePower reads a way of feeding a thermostat.
func ParsePower(word string) (Power, error) {
	if i := slices.Index(powerWords, strings.TrimSpace(word)); i > 0 {
		return Power(i), nil
	}
	return 0, fmt.Errorf("%q is no way to feed a thermostat", word)
}

// Base is the new thermostat's wall base. OB marks one changeover screw for
// both senses, which Letters holds as O; AuxE one screw for auxiliary and
// emergency heat, which it holds as W2.
type Base struct {
	Letters  house.Letters
	OB, AuxE bool
	Power    Power
}

// Word is a screw as the base marks it.
func (b Base) Word(t house.Terminal) string {
	switch {
	case t == house.O && b.OB:
		return "O/B"
	case t == house.W2 && b.AuxE:
		return "AUX/E"
	}
	return t.String()
}

// ParseBase reads the letters of a base, separated by spaces or commas.
func ParseBase(text string) (Base, error) {
	var b Base
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		m, err := ParseMark(word)
		if err != nil || m.State != OnLetter {
			return b, fmt.Errorf("%q is no letter of a base", word)
		}
		b.Letters = b.Letters.Add(m.Letter)
		b.OB = b.OB || m.OB
		b.AuxE = b.AuxE || m.Letter == house.W2 && strings.HasSuffix(strings.ToUpper(word), "E") || strings.HasPrefix(strings.ToUpper(word), "E/")
	}
	if b.OB && b.Letters.Has(house.B) {
		return b, fmt.Errorf("a base has one screw O/B, or O and B apart")
	}
	return b, nil
}

// Reading is one reading between two conductors, by their place in the case.
// Ohms are read on the bare conductors with the power locked out; volts at the
// old base, its thermostat on and set to Mode.
type Reading struct {
	Quantity   quantity.Quantity
	Red, Black int
	Mode       house.Mode
	Value      quantity.Reading
}

// Seen is a look. Jumper is the conductor joined to R meanwhile, −1 for none.
type Seen struct {
	Jumper int
	Look   house.Look
	Answer house.Answer
}

// word is the answer's id.
func (s Seen) word() string { return s.Look.AnswerID(s.Answer) }

// saw gives the answer of a look made without a jumper.
func (c Case) saw(l house.Look) (string, bool) {
	for _, s := range c.Looks {
		if s.Look == l && s.Jumper < 0 {
			return s.word(), true
		}
	}
	return "", false
}

// find gives a conductor's place by its name, −1 where there is none.
func (c Case) find(name string) int {
	return slices.IndexFunc(c.Conductors, func(w Conductor) bool { return strings.EqualFold(w.Name, name) })
}

// unable reports whether a question was given up.
func (c Case) unable(id string) bool { return slices.Contains(c.Unable, id) }

// facts is the case as the planner knows a house.
func (c Case) facts(e house.Equipment) house.Facts {
	f := house.Facts{Equipment: e, EquipmentAsked: e != house.NoEquipment, Base: c.OldBase, Meter: c.Meter}
	if f.Base == house.BaseUnasked {
		f.Base = house.BaseUnknown
	}
	return f
}
