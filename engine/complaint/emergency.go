package complaint

import (
	"maps"
	"slices"
	"strings"
)

// sign is one pattern of an emergency: a word of each list, all within near
// stems of each other, or one of the rows of words; unless one of the excuses
// is said too. Where one of the rows of but begins, the first word is not meant.
type sign struct {
	emergency string
	all       []map[string]bool
	rows      []string
	excuse    []string
	but       []string
}

// near is how close the words of one sign stand.
const near = 7

// signs lists the patterns. They are wide on purpose: a false alarm costs a
// minute, a miss can cost a life. An excuse is only ever another plain reading
// of the same words.
func signs() []sign {
	nose := "smell smells smelling smelly odor odour stink stinks stinky fumes hiss hissing sniff reek reeks whiff"
	sick := "sick ill unwell"
	wet := "water leak leaking leaks leaked drip dripping drips wet flood flooded flooding"
	return []sign{
		{emergency: "gas", all: sets("gas propane", nose+" leak leaks leaking leaked"), excuse: []string{"bill"}},
		{emergency: "gas", all: sets("egg eggs egs", "rotten rotting bad sulfur "+nose)},
		{emergency: "gas", all: sets("sulfur sulphur sulfer mercaptan")},
		{emergency: "carbon-monoxide", all: sets("monoxide"), excuse: []string{"battery"}},
		{emergency: "carbon-monoxide", all: sets("co co2", "alarm alarms detector detectors monitor sensor beeping poisoning"), excuse: []string{"battery"}},
		{emergency: "carbon-monoxide", all: sets("dizzy dizziness nausea nauseous nauseated headache headaches lightheaded faint fainted fainting unconscious vomiting vomit woozy drowsy unresponsive collapsed")},
		{emergency: "carbon-monoxide", rows: []string{"passed out", "passing out", "throwing up", "threw up"}},
		{emergency: "carbon-monoxide", all: sets("feel feels feeling felt makes making getting got", sick), excuse: []string{"sick of", "ac", "cooling", "cool"}},
		{emergency: "carbon-monoxide", all: sets(sick, "heat heating heater furnace"), excuse: []string{"sick of"}},
		{emergency: "smoke", all: sets("smoke smoking smokes smoky smokey"), excuse: []string{"chirp", "battery"}},
		{emergency: "smoke", all: sets("burning burnt burned burn singed scorched melting", nose+" wire wires wiring plastic rubber electrical electric insulation outlet plug panel breaker something")},
		{emergency: "smoke", all: sets("melted melting scorched arcing sparking sparks spark sparked")},
		{emergency: "smoke", rows: []string{"on fire", "caught fire", "catching fire", "catch fire", "is fire", "was fire", "house fire", "electrical fire", "small fire", "fire inside", "fire in", "fire department"}, excuse: []string{"on fire up"}},
		{emergency: "smoke", all: sets("flame flames", "out outside shooting shoots shot coming through"), excuse: []string{"goes out", "go out", "went out", "going out", "no flame", "blows out"}},
		{emergency: "smoke", all: sets("sizzle sizzles sizzling crackle crackles crackling zapping", "panel breaker outlet wire wires wiring electric electrical electricity box furnace unit thermostat wall board fuse")},
		{emergency: "smoke", rows: hotParts()},
		{emergency: "water", all: sets(wet, "electrical electric electricity breaker panel outlet outlets wire wires wiring board control controls transformer socket fuse")},
		{emergency: "water", all: sets(wet, "thermostat"), but: []string{"water in pan |", "water in drain pan |", "water in condensate pan |", "drip pan full", "drip pan is full"}},
		{emergency: "water", all: sets("dropping drops drop", "on onto", "board boards panel breaker wire wires wiring transformer outlet"),
			excuse: []string{"volt", "voltage", "power", "temperature", "temp", "degree", "pressure"}},
		{emergency: "water", rows: panAndThermostat()},
		{emergency: "water", all: sets("flooded flooding underwater submerged", "furnace unit basement equipment heater handler closet")},
		{emergency: "shock", all: sets("shock shocked shocks electrocuted electrocution zapped zap zaps tingle tingling tingles jolt"), excuse: []string{"bill", "price", "cost", "sticker", "quote", "shock absorber"}},
	}
}

// hotParts are the ways to say that a part of the wiring is hot; rows, since
// "hot" alone is said of every house without cooling.
func hotParts() []string {
	var rows []string
	for _, part := range []string{"breaker", "breakers", "breaker box", "panel", "outlet", "wire", "wires", "wiring", "plug", "cord", "disconnect", "fuse box"} {
		rows = append(rows, "hot "+part, part+" hot")
		for _, between := range []string{"is", "are", "feels", "feel", "gets", "get", "was", "is very", "is really", "is so", "very", "really", "too"} {
			rows = append(rows, part+" "+between+" hot")
		}
	}
	return append(rows, "hot to touch", "hot to the touch", "too hot to touch")
}

// panAndThermostat are the ways to say that water stands in the pan and on the
// thermostat beside: after a comma the pan alone would excuse it.
func panAndThermostat() []string {
	var rows []string
	for _, pan := range []string{"water in pan", "water in drain pan", "water in condensate pan", "drip pan full", "drip pan is full"} {
		for _, too := range []string{"and on", "and onto", "and in", "and all over", "also on", "and also on"} {
			rows = append(rows, pan+" | "+too+" thermostat")
		}
	}
	return rows
}

func sets(lists ...string) []map[string]bool {
	var out []map[string]bool
	for _, l := range lists {
		out = append(out, set(l))
	}
	return out
}

// signWords are all words of the signs, so that a slip in one is mended too;
// in the order of the alphabet, so that a tie is always mended alike.
func signWords() string {
	var words []string
	for _, s := range signs() {
		for _, any := range s.all {
			words = slices.AppendSeq(words, maps.Keys(any))
		}
		words = append(words, s.rows...)
		words = append(words, s.excuse...)
		words = append(words, s.but...)
	}
	slices.Sort(words)
	return strings.Join(words, " ")
}

// emergency names the first sign found, empty where none is.
func (m *Matcher) emergency(stems []string) string {
	for _, s := range m.signs {
		if s.excused(stems) {
			continue
		}
		if s.row(stems) {
			return s.emergency
		}
		for i := range stems {
			if s.at(stems, i) {
				return s.emergency
			}
		}
	}
	return ""
}

func (s sign) excused(stems []string) bool {
	return slices.ContainsFunc(s.excuse, func(row string) bool { return has(stems, row) })
}

func (s sign) row(stems []string) bool {
	return slices.ContainsFunc(s.rows, func(row string) bool {
		i := index(stems, row)
		return i >= 0 && !plainlyDenied(stems, i)
	})
}

// at tells whether the sign stands around i, and is not plainly denied.
func (s sign) at(stems []string, i int) bool {
	if s.all == nil || !s.all[0][stems[i]] {
		return false
	}
	if slices.ContainsFunc(s.but, func(row string) bool { return index(stems[i:], row) == 0 }) {
		return false
	}
	from := i
	for _, any := range s.all[1:] {
		k := nearest(stems, i, any)
		if k < 0 {
			return false
		}
		from = min(from, k)
	}
	return !plainlyDenied(stems, from)
}

// nearest is the place of a word of the set within near of i, -1 where none.
func nearest(stems []string, i int, any map[string]bool) int {
	for d := 1; d <= near; d++ {
		for _, k := range []int{i - d, i + d} {
			if k >= 0 && k < len(stems) && any[stems[k]] {
				return k
			}
		}
	}
	return -1
}

// doubts take a denial back: "no gas smell any more", "not sure if it smokes".
var doubts = set("sure anymore more longer now until yet know think say says if unless whether")

// plainlyDenied is true for "no smoke", "dont smell gas", "not any smoke" and
// nothing wider.
func plainlyDenied(stems []string, i int) bool {
	for k := i - 1; k >= 0 && k >= i-2; k-- {
		if stems[k] == brk {
			return false
		}
		if strings.Contains(" no not dont doesnt isnt didnt without never ", " "+stems[k]+" ") {
			end := min(len(stems), i+near)
			return !slices.ContainsFunc(stems[k:end], func(w string) bool { return doubts[w] })
		}
	}
	return false
}
