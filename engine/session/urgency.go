package session

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"stepdown/engine/house"
)

// The answers to the two questions that set a ticket's urgency.
var (
	peopleChoices = []Choice{
		{"no", "no"},
		{"frail", "yes: an infant, or someone elderly or frail"},
		{"ill", "yes: someone is ill because of it"},
	}
	temperatureChoices = []Choice{
		{"comfortable", "comfortable so far"},
		{"uncomfortable", "uncomfortable, but bearable"},
		{"extreme", "over 95 °F or under 50 °F (35 °C, 10 °C)"},
	}
)

// urgency is a ticket's: what was said about people and the house.
func (s State) urgency() string {
	if s.who == house.Tech {
		return ""
	}
	switch {
	case s.gates.emergency != "" && s.gates.emergency != "no":
		return "emergency"
	case s.gates.people == "ill":
		return "now: someone is ill"
	case s.gates.people == "frail" && s.gates.temperature != "comfortable":
		return "today: someone frail is there"
	case s.gates.temperature == "extreme":
		return "today: extreme indoors"
	case s.gates.people == "frail", s.gates.temperature == "uncomfortable":
		return "next free visit"
	}
	return "routine"
}

// takenAs says how a person's own words were taken.
var takenAs = map[string]string{"no": "nobody at risk", "frail": "someone frail is there", "ill": "someone is ill",
	"comfortable": "comfortable indoors", "uncomfortable": "uncomfortable indoors", "extreme": "extreme indoors"}

// heard takes a person's own words for the answer to an open question of the two,
// and to the other where they tell that too: "a baby, and it is 58 degrees".
func (s State) heard(words string) (State, []Effect, bool) {
	if _, ok := HeardUrgency(s.pending.Ask.Step, words); !ok {
		return s, nil, false
	}
	var effects []Effect
	for _, q := range []struct {
		step  string
		asked asked
		to    *string
	}{{"people", askedPeople, &s.gates.people}, {"temperature", askedTemperature, &s.gates.temperature}} {
		if id, ok := HeardUrgency(q.step, words); ok && (*q.to == "" || s.asked == q.asked) {
			*q.to = id
			effects = append(effects, tell("Taken as: "+takenAs[id]+"."))
		}
	}
	return s, effects, true
}

// HeardUrgency reads the answer to a question of a ticket's urgency, by its
// step, out of a person's own words; false where they do not tell.
func HeardUrgency(step, line string) (id string, ok bool) {
	line = strings.NewReplacer("'", "", "’", "", "no one", "noone", " but ", ",", "°", " ").Replace(strings.ToLower(line))
	for _, clause := range strings.FieldsFunc(line, func(r rune) bool { return strings.ContainsRune(",;!?:", r) }) {
		words := strings.FieldsFunc(clause, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
		switch step {
		case "people":
			if got := peopleIn(words); got == "ill" || got == "frail" && id != "ill" || id == "" {
				id = got
			}
		case "temperature":
			if id == "" {
				id = temperatureIn(words)
			}
		}
	}
	return id, id != ""
}

// Words people use of those at risk and of those who are not.
var (
	frailWords = strings.Fields("baby babies infant infants newborn newborns toddler toddlers child children kid kids pregnant elderly senior seniors frail " +
		"disabled wheelchair bedridden oxygen dialysis asthma grandma grandpa grandmother grandfather granny grandparents")
	illWords    = strings.Fields("ill sick unwell fever feverish heatstroke hypothermia hospital")
	personWords = strings.Fields("mother father mom mum dad parents parent she shes he hes her him i im wife husband man woman lady gentleman person people couple folks aunt uncle " +
		"neighbor neighbour tenant caller customer lives")
	deniedWords = strings.Fields("no not none nobody noone without isnt arent dont doesnt never")
	safeWords   = strings.Fields("nobody noone none me us myself alone fine ok okay healthy well good adults")
	calmWords   = strings.Fields("no is are am were im theyre at risk here there home else in just only i live by two three four of we all everyone everybody danger young")
	thingWords  = strings.Fields("it its degrees degree inside indoors f c unit furnace system ac pump") // what else is so old, or so warm
	smallWords  = strings.Fields("any a an the small little really very")
)

// peopleIn is who is at risk by one clause, empty where it does not tell.
func peopleIn(words []string) string {
	words = slices.DeleteFunc(words, among(smallWords))
	risk, id := slices.IndexFunc(words, among(illWords)), "ill"
	if risk < 0 {
		risk, id = slices.IndexFunc(words, among(frailWords)), "frail"
	}
	if risk < 0 {
		risk = aged(words)
	}
	switch {
	case risk >= 0 && denied(words[:risk]):
		return "no"
	case risk >= 0:
		return id
	case slices.ContainsFunc(words, among(safeWords)) && all(words, safeWords, calmWords):
		return "no"
	}
	return ""
}

// denied reports whether words end in a denial of what comes next: "no", one
// word at most ahead of it, or "nobody" with whatever follows.
func denied(words []string) bool {
	near := words[max(0, len(words)-2):]
	return slices.ContainsFunc(near, among(deniedWords)) || slices.ContainsFunc(words, among([]string{"nobody", "noone"}))
}

// The years from which, and up to which, somebody is at risk (common practice).
const (
	agedYears   = 65
	agedMost    = 120
	agedNear    = 4 // the words ahead of an age that say whose it is
	infantYears = 4
)

// aged finds an age at risk: "she is 85", "a 2 year old", "an old man"; -1 where
// none is said of a person.
func aged(words []string) int {
	for i, w := range words {
		before, after := words[max(0, i-agedNear):i], words[i+1:]
		person := func() bool { return slices.ContainsFunc(before, among(personWords)) }
		n, err := strconv.Atoi(w)
		years := len(after) > 0 && strings.HasPrefix(after[0], "year")
		switch {
		case (w == "old" || w == "older") && len(after) > 0 && slices.Contains(personWords, after[0]):
			return i
		case slices.ContainsFunc(before, among(thingWords)):
		case strings.HasPrefix(w, "month") && len(after) > 0 && after[0] == "old":
			return i
		case err == nil && (years && n <= infantYears || (years || person()) && n >= agedYears && n < agedMost):
			return i
		}
	}
	return -1
}

// Words people use of a temperature they can bear.
var (
	mildWords  = strings.Fields("fine ok okay good comfortable nice alright")
	badWords   = strings.Fields("hot warm cold chilly stuffy")
	indoorFill = strings.Fields("it its is in here there the house so far getting bit still quite pretty inside indoors about around now too degrees degree f fahrenheit c celsius feels")
)

// The band people are comfortable in, °F (common practice), and the one the
// answers call extreme outside.
const (
	mildFromF, mildToF        = 65, 80
	extremeUnderF, extremeToF = 50, 95
	celsiusToF                = 35 // without a unit, up to here it may be °C
)

// temperatureIn is how it is indoors by one clause, empty where it does not
// tell: other words are of something else.
func temperatureIn(words []string) string {
	words = slices.DeleteFunc(words, among(smallWords))
	at := slices.IndexFunc(words, func(w string) bool {
		return strings.Trim(w, "0123456789") == "" || strings.Trim(w, "0123456789") == "f"
	})
	if at >= 0 {
		n, err := strconv.Atoi(strings.TrimSuffix(words[at], "f"))
		rest := slices.Delete(slices.Clone(words), at, at+1)
		if err != nil || !all(rest, mildWords, badWords, indoorFill) {
			return ""
		}
		return indoors(n, rest, strings.HasSuffix(words[at], "f"))
	}
	switch {
	case !all(words, mildWords, badWords, indoorFill):
		return ""
	case slices.ContainsFunc(words, among(badWords)):
		return "uncomfortable"
	case slices.ContainsFunc(words, among(mildWords)):
		return "comfortable"
	}
	return ""
}

// indoors sorts a temperature; around it are the words that may name its unit.
func indoors(n int, around []string, fahrenheit bool) string {
	switch {
	case slices.ContainsFunc(around, among([]string{"c", "celsius"})):
		n = n*9/5 + 32
	case !fahrenheit && n <= celsiusToF && !slices.ContainsFunc(around, among([]string{"f", "fahrenheit"})):
		return ""
	}
	switch {
	case n < extremeUnderF || n > extremeToF:
		return "extreme"
	case n >= mildFromF && n <= mildToF:
		return "comfortable"
	}
	return "uncomfortable"
}

func among(list []string) func(string) bool {
	return func(w string) bool { return slices.Contains(list, w) }
}

// all reports whether every word is in one of the lists.
func all(words []string, lists ...[]string) bool {
	return !slices.ContainsFunc(words, func(w string) bool {
		return !slices.ContainsFunc(lists, func(list []string) bool { return slices.Contains(list, w) })
	})
}
