package complaint

import (
	"slices"
	"strconv"
	"strings"
)

// A house is too hot or too cold by so many degrees from what was asked for,
// or, where nobody says what was asked for, beyond these (degrees F; common
// practice).
const (
	offBy   = 3
	hotFrom = 78
	coldTo  = 64
)

// What stands around a number and tells what it is.
var (
	indoors   = set("house home here inside indoors room upstairs downstairs bedroom apartment place family living kitchen hallway nursery")
	outdoors  = set("outside out outdoor outdoors today tonight day days")
	asked     = set("set setpoint setting put turned dial asking")
	shown     = set("says reads shows still only just climbed dropped fell reading showing saying display thermostat stat")
	degrees   = set("degrees degree f fahrenheit c celsius centigrade")
	celsius   = set("c celsius centigrade")
	notDegree = set("v volt volts vac vdc amp amps a ohm ohms hour hours hr hrs min mins minute minutes sec seconds week weeks month months year years yr yrs yo percent ton tons times am pm oclock")
)

const (
	reach       = 4   // how many words around a number are looked at
	degreesMax  = 120 // no room is hotter
	sureDegrees = 41  // from here a number alone may be degrees F; below it must be called degrees
	coldAnyway  = 18  // up to here it is cold in either scale
)

// degree is a number of degrees said indoors or of the thermostat.
type degree struct {
	at, value   int
	asked, room bool // what the thermostat is set to; what the room is at
	celsius     bool
}

// temperature finds the room's temperature in the text: where it stands, and
// whether it is hot or cold there, empty where it is neither. Spent are the
// numbers that mean no more than that.
func temperature(stems []string) (at int, feels string, spent map[int]bool) {
	spent = map[int]bool{}
	var want, room, screen *degree // screen: only shown, so it may be either
	for i := range stems {
		d, ok := degreeAt(stems, i)
		if !ok {
			continue
		}
		spent[i] = true
		switch {
		case d.asked:
			want = &d
		case d.room:
			room = &d
		default:
			screen = &d
		}
	}
	switch {
	case room == nil:
		room = screen
	case want == nil:
		want = screen
	}
	if room == nil {
		return -1, "", spent
	}
	return room.at, room.feels(want), spent
}

// degreeAt reads the number at i, if it is one of degrees in the house.
func degreeAt(stems []string, i int) (degree, bool) {
	digits := strings.TrimRight(stems[i], "fc")
	n, err := strconv.Atoi(digits)
	if err != nil || n < 1 || n > degreesMax {
		return degree{}, false
	}
	before, after := clause(stems, i, -1), clause(stems, i, +1)
	next := after[:min(1, len(after))]
	said := digits != stems[i] || among(next, degrees)
	d := degree{at: i, value: n, asked: among(before, asked)}
	d.celsius = strings.HasSuffix(stems[i], "c") || among(after[:min(2, len(after))], celsius)
	switch {
	case d.asked && before[0] == "to":
		return d, true
	case among(next, notDegree), among(after[:min(3, len(after))], outdoors):
		return d, false
	case d.asked:
		return d, true
	}
	d.room = said || n >= sureDegrees && (among(after, indoors) || among(before, indoors))
	return d, d.room || n >= sureDegrees && among(before, shown)
}

// clause gives the words next to i, nearest first, as far as its clause goes;
// step is -1 for those before and +1 for those after.
func clause(stems []string, i, step int) []string {
	var out []string
	for k := i + step; k >= 0 && k < len(stems) && len(out) < reach; k += step {
		if w := stems[k]; w == brk || breaks[w] || w == "and" {
			break
		}
		out = append(out, stems[k])
	}
	return out
}

func among(words []string, of map[string]bool) bool {
	return slices.ContainsFunc(words, func(w string) bool { return of[w] })
}

// feels is hot or cold where the room is off from what was asked for, or, with
// nothing asked for, where it is so in any scale it may have been said in.
func (d degree) feels(want *degree) string {
	low, high, is := coldTo, hotFrom, d.value
	switch {
	case want != nil:
		low, high = want.value-offBy, want.value+offBy
	case d.celsius:
		is = is*9/5 + 32
	case is > coldAnyway && is < sureDegrees:
		return ""
	}
	switch {
	case is >= high:
		return "hot"
	case is <= low:
		return "cold"
	}
	return ""
}
