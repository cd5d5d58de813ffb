package quantity

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Limits on what is read at all, in runes: past them it is a paste, not a
// reading.
const (
	readingRunesMax = 60
	batchRunesMax   = 600
	echoRunesMax    = 40
)

// Parse reads one reading as a person types it: "26.8", "26.8v", "24.3 vac",
// ".4", "24,6", "240 mV", "about 26", "26.5-ish", "zero", and for ohms "OL",
// "open", "1.2k", "12Ω", "0.3 MΩ". The result is in the base unit and has
// passed Check. The error is one line: what was read, what is wanted, an
// example.
func Parse(text string, q Quantity) (Reading, error) {
	if !q.known() {
		return Reading{}, fmt.Errorf("%s is no quantity", q)
	}
	if utf8.RuneCountInString(text) > readingRunesMax {
		return Reading{}, refuse(text, q, "is too long for one reading")
	}
	folded := fold(text)
	if folded == "" {
		return Reading{}, fmt.Errorf("nothing was typed; %s are wanted, such as %s", q.Title(), kinds[q].example)
	}
	s := trimHedges(folded)
	var r Reading
	why := ""
	if rest, ok := cutOverLimit(s); ok {
		r, why = overLimit(rest, q)
	} else {
		r, why = numeric(s, q)
	}
	if why == "" {
		why = r.unfit(q)
	}
	if why != "" {
		return Reading{}, refuse(text, q, why)
	}
	return r, nil
}

// numeric reads a number and its unit; why is empty, or what is wrong, worded
// to follow the quoted text.
func numeric(s string, q Quantity) (r Reading, why string) {
	n, why := scan(s, q)
	if why != "" {
		return r, why
	}
	u, ok := units(n.rest)
	if !ok {
		return r, "is not a reading"
	}
	if why := u.against(q); why != "" {
		return r, why
	}
	value, err := strconv.ParseFloat(n.digits+"e"+strconv.Itoa(n.exp+u.exp), 64)
	switch {
	case err != nil:
		return r, tooMuch(q)
	case n.negative && value == 0 && q != DCVolts:
		return r, negative(q)
	case n.negative:
		value = -value
	}
	return Of(value + 0), "" // -0 becomes 0
}

func overLimit(rest string, q Quantity) (r Reading, why string) {
	r = Reading{OL: true}
	if u, _ := units(rest); u.dim != "" && q == Resistance {
		why = u.against(q)
	}
	return r, why
}

// refuse builds the one line of an error.
func refuse(text string, q Quantity, why string) error {
	return fmt.Errorf("%s %s; %s are wanted, such as %s", shorten(text), why, q.Title(), kinds[q].example)
}

// shorten quotes what was typed, escaped and cut to a length that fits a line.
func shorten(text string) string {
	text = strings.TrimSpace(text)
	runes := []rune(text)
	if len(runes) > echoRunesMax {
		text = string(runes[:echoRunesMax]) + "..."
	}
	return strconv.Quote(text)
}

// overLimits are the ways a meter and its user say that nothing conducts, as
// letters and digits only.
var overLimits = []string{
	"overlimit", "overload", "overrange", "outoflimit", "opencircuit", "openline", "open", "ol", "0l",
}

// cutOverLimit takes an over-limit word off the front and gives the rest (a
// unit, or nothing).
func cutOverLimit(s string) (rest string, ok bool) {
	squeezed := strings.Map(func(c rune) rune {
		if strings.ContainsRune(" .-_", c) {
			return -1
		}
		return c
	}, s)
	for _, w := range overLimits {
		if len(squeezed) < len(w) || !strings.EqualFold(squeezed[:len(w)], w) {
			continue
		}
		if rest := squeezed[len(w):]; rest == "" || isUnit(rest) {
			return rest, true
		}
	}
	return "", false
}

func isUnit(s string) bool {
	_, ok := units(s)
	return ok
}
