package house

import "strings"

// Place is where a probe is made. A probe never spans two places.
type Place uint8

// The three places: the thermostat's wall base, behind the indoor cover and
// behind the outdoor cover.
const (
	NoPlace Place = iota
	AtThermostat
	AtIndoor
	AtOutdoor
)

var places = newList[Place]("place", "", "thermostat", "indoor", "outdoor")

func (p Place) String() string { return places.id(p) }

// ParsePlace reads a place id.
func ParsePlace(word string) (Place, error) { return places.parse(word) }

// Places lists the three places.
func Places() []Place { return places.all() }

// Class tells how dangerous a terminal is.
type Class uint8

// Control is the 24 V side; Line is anything over 50 V.
const (
	Control Class = iota
	Line
)

func (c Class) String() string {
	if c == Line {
		return "line"
	}
	return "control"
}

// Terminal is a screw, a part's end or the cabinet ground: whatever a meter
// lead can be put on.
type Terminal uint8

// The thermostat letters come first, so that a Letter set fits a word; the
// ends of parts follow.
const (
	NoTerminal Terminal = iota
	R
	Rc
	Rh
	C
	Y
	Y2
	W
	W2
	E
	G
	O
	B
	L
	Sec1
	Sec2
	Fuse1
	Fuse2
	Float1
	Float2
	Limit1
	Limit2
	Rollout1
	Rollout2
	Gas1
	Gas2
	Seq1
	Seq2
	Relay1
	Relay2
	HeatSec1
	HeatSec2
	Pressure1
	Pressure2
	Coil1
	Coil2
	Valve1
	Valve2
	Stage2In
	Stage2Out
	GND
	Pri1
	Pri2
	HeatPri1
	HeatPri2
	Door1
	Door2
	Feed1
	Feed2
	SecondFeed1
	SecondFeed2
	L1
	T1
	L2
	T2
	terminalCount
)

var terminals = newList[Terminal]("terminal", "",
	"R", "Rc", "Rh", "C", "Y", "Y2", "W", "W2", "E", "G", "O", "B", "L",
	"sec-1", "sec-2", "fuse-1", "fuse-2", "float-1", "float-2", "limit-1", "limit-2",
	"rollout-1", "rollout-2", "gas-1", "gas-2", "seq-1", "seq-2", "relay-1", "relay-2",
	"heat-sec-1", "heat-sec-2",
	"pressure-1", "pressure-2", "coil-1", "coil-2", "valve-1", "valve-2", "stage2-1", "stage2-2",
	"GND",
	"pri-1", "pri-2", "heat-pri-1", "heat-pri-2", "door-1", "door-2",
	"feed-1", "feed-2", "feed2-1", "feed2-2", "L1", "T1", "L2", "T2")

// letterAliases are other marks for the same screw.
var letterAliases = map[string]string{
	"Y1": "Y", "W1": "W", "AUX": "W2", "W2/AUX": "W2", "RC": "Rc", "RH": "Rh",
}

func (t Terminal) String() string { return terminals.id(t) }

// ParseTerminal reads a terminal id or one of its aliases (Y1, W1, AUX,
// W2/AUX, RC, RH).
func ParseTerminal(word string) (Terminal, error) {
	word = strings.TrimSpace(word)
	if to, ok := letterAliases[strings.ToUpper(word)]; ok {
		word = to
	}
	return terminals.parse(word)
}

// Terminals lists every terminal.
func Terminals() []Terminal { return terminals.all() }

// IsLetter reports whether t is a thermostat letter.
func (t Terminal) IsLetter() bool { return t >= R && t <= L }

// Class tells whether t carries line voltage or the 24 V control circuit.
func (t Terminal) Class() Class {
	if t >= Pri1 {
		return Line
	}
	return Control
}

// Letters is a set of thermostat letters.
type Letters uint16

// LettersOf makes a set.
func LettersOf(letters ...Terminal) Letters {
	var s Letters
	for _, t := range letters {
		s = s.Add(t)
	}
	return s
}

// Has reports whether the set holds t.
func (s Letters) Has(t Terminal) bool { return t.IsLetter() && s&(1<<t) != 0 }

// Add returns the set with t in it.
func (s Letters) Add(t Terminal) Letters {
	if !t.IsLetter() {
		return s
	}
	return s | 1<<t
}

// Minus returns the letters of s that are not in other.
func (s Letters) Minus(other Letters) Letters { return s &^ other }

// usualOrder is how letters are read off a base.
var usualOrder = [...]Terminal{R, Rc, Rh, C, Y, Y2, G, O, B, W, W2, E, L}

// List gives the letters in the order they are usually read off a base.
func (s Letters) List() []Terminal {
	var out []Terminal
	for _, t := range usualOrder {
		if s.Has(t) {
			out = append(out, t)
		}
	}
	return out
}

func (s Letters) String() string {
	words := make([]string, 0, 8)
	for _, t := range s.List() {
		words = append(words, t.String())
	}
	return strings.Join(words, " ")
}

// ParseLetters reads letters separated by spaces or commas.
func ParseLetters(text string) (Letters, error) {
	var s Letters
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' }) {
		t, err := ParseTerminal(word)
		if err != nil {
			return 0, err
		}
		if !t.IsLetter() {
			return 0, &UnknownWord{Kind: "thermostat letter", Word: word}
		}
		s = s.Add(t)
	}
	return s, nil
}
