package chat

import (
	"fmt"
	"strconv"
	"strings"

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
	if len(ids) > 6 {
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
