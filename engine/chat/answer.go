package chat

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

// exactAnswer finds the choice that a line names outright: its id, its number
// or its words.
func exactAnswer(line string, choices []session.Choice) (id string, ok bool) {
	word := foldWords(line)
	if n, err := strconv.Atoi(word); err == nil {
		if n >= 1 && n <= len(choices) {
			return choices[n-1].ID, true
		}
		return "", false
	}
	for _, c := range choices {
		if word == foldWords(c.ID) || word == spaced(c.ID) || word == foldWords(c.Text) {
			return c.ID, true
		}
	}
	return "", false
}

// heardAnswer reads other words for an answer: those people use for a look,
// and the ways to say no to a list.
func heardAnswer(line string, ask *session.Ask) (id string, ok bool) {
	words := plainWords(line)
	if ask.Step == house.FactLetters.String() {
		return heardLetters(line, ask.Answers)
	}
	if ask.Kind == session.AskLook {
		a, ok := ask.Look.Heard(words)
		id = ask.Look.AnswerID(a)
		return id, ok && slices.Contains(ids(ask.Answers), id)
	}
	for _, id := range []string{"no", "none-of-these"} {
		if slices.Contains(noWords, words) && slices.Contains(ids(ask.Answers), id) {
			return id, true
		}
	}
	return "", false
}

// heardLetters finds the set of letters that was typed, in whatever order.
func heardLetters(line string, choices []session.Choice) (id string, ok bool) {
	typed, err := house.ParseLetters(strings.NewReplacer(" AND ", " ", "-", " ", "+", " ").Replace(strings.TrimSpace(strings.ToUpper(line))))
	if err != nil || typed == 0 {
		return "", false
	}
	for _, c := range choices {
		if set, err := house.ParseLetters(c.ID); err == nil && set == typed {
			return c.ID, true
		}
	}
	return "", false
}

// noWords are the ways to say that nothing of a list is so.
var noWords = []string{"no", "none", "nope", "nothing", "neither", "none of them", "none of these", "none of those", "no none",
	"no none of these", "no none of those", "no none of them", "nothing like that", "no nothing", "no nothing like that", "no emergency"}

// plainWords are a line's words, without those that say nothing of a look.
func plainWords(line string) string {
	var words []string
	for _, w := range strings.Fields(strings.NewReplacer(":", " ", "=", " ", ",", " ", "-", " ").Replace(foldWords(line))) {
		if !slices.Contains(lookFillers, w) {
			words = append(words, w)
		}
	}
	return strings.Join(words, " ")
}

// lookFillers are words that say nothing about a look.
var lookFillers = []string{"the", "is", "are", "look", "looks", "shows", "at", "a", "an", "it", "its", "says", "now"}

// joinWords only join others.
var joinWords = []string{"and", "with", "or", "of", "in", "for", "my", "our", "we", "i", "have", "got"}

// holdsAnswer finds the choices whose words hold every word that was typed,
// where that is a word or two of the choice's own.
func holdsAnswer(line string, choices []session.Choice) []string {
	words := slices.DeleteFunc(strings.Fields(plainWords(line)), func(w string) bool { return slices.Contains(joinWords, w) })
	if len(words) == 0 || !slices.ContainsFunc(words, func(w string) bool { return len(w) > 2 }) {
		return nil
	}
	var out []string
	for _, c := range choices {
		has := strings.FieldsFunc(foldWords(c.Text+" "+spaced(c.ID)), func(r rune) bool { return strings.ContainsRune(" ,:;()-/", r) })
		if !slices.ContainsFunc(words, func(w string) bool { return !slices.Contains(has, w) }) {
			out = append(out, c.ID)
		}
	}
	return out
}

// startsAnswer finds the choices whose id starts with what was typed.
func startsAnswer(line string, choices []session.Choice) []string {
	word := foldWords(line)
	if word == "" {
		return nil
	}
	var out []string
	for _, c := range choices {
		if strings.HasPrefix(foldWords(c.ID), word) || strings.HasPrefix(spaced(c.ID), word) {
			out = append(out, c.ID)
		}
	}
	return out
}

// spaced is an id as it is said: low battery for low-battery.
func spaced(id string) string { return strings.ReplaceAll(foldWords(id), "-", " ") }

// wanted lists the answers for an error line.
func wanted(choices []session.Choice) string {
	ids := make([]string, len(choices))
	for i, c := range choices {
		ids[i] = c.ID
	}
	if len(ids) == 0 {
		return "an answer"
	}
	if len(ids) > 6 || strings.Contains(ids[0], " ") {
		return fmt.Sprintf("one of the %d answers, by number or word", len(ids))
	}
	return "one of " + strings.Join(ids, ", ")
}

func ids(choices []session.Choice) []string {
	out := make([]string, len(choices))
	for i, c := range choices {
		out[i] = c.ID
	}
	return out
}
