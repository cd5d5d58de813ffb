package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/letter"
	"stepdown/engine/quantity"
)

// wireLine reads one wire, or done.
func (t *Talk) wireLine(line string) string {
	switch strings.ToLower(line) {
	case "done":
		if len(t.c.Conductors) == 0 {
			return "Name a wire first, such as: red R\n"
		}
		t.stage = atBase
		return "The letters on the new base, as they are marked, such as: R C Y G O/B W2 E\n"
	case "back":
		if n := len(t.c.Conductors); n > 0 {
			t.c.Conductors = t.c.Conductors[:n-1]
			t.c.Readings = slices.DeleteFunc(slices.Clone(t.c.Readings), func(r Reading) bool { return max(r.Red, r.Black) == n-1 })
		}
		return t.wires()
	}
	w, err := parseWire(line)
	if err != nil {
		return mistake(err)
	}
	base := w.Name
	for n := 2; t.c.find(w.Name) >= 0; n++ {
		w.Name = fmt.Sprintf("%s-%d", base, n)
	}
	t.c.Conductors = append(t.c.Conductors, w)
	if w.Name != base {
		return fmt.Sprintf("  It is called %s from now on: put a mark on it.\n", w.Name)
	}
	return ""
}

// parseWire reads "blue B C", "blue old B equipment C now O/B".
func parseWire(line string) (Conductor, error) {
	words := strings.Fields(line)
	w := Conductor{Name: strings.ToLower(words[0])}
	if w.Name == "gray" {
		w.Name = "grey"
	}
	if !slices.Contains(letter.Jackets, w.Name) {
		return w, fmt.Errorf("%q is no colour known here: one of %s", words[0], strings.Join(letter.Jackets, ", "))
	}
	w.Colour = w.Name
	into := []*Mark{&w.Old, &w.Board}
	for _, word := range words[1:] {
		switch strings.ToLower(word) {
		case "old":
			into = []*Mark{&w.Old, &w.Board}
			continue
		case "equipment", "board":
			into = []*Mark{&w.Board}
			continue
		case "now":
			into = []*Mark{&w.Now}
			continue
		}
		m, err := ParseMark(word)
		switch {
		case err != nil:
			return w, fmt.Errorf("%v: one of %s", err, letters)
		case len(into) == 0:
			return w, fmt.Errorf("%q is one letter too many", word)
		}
		*into[0], into = m, into[1:]
	}
	return w, nil
}

// readLine takes a reading nobody asked for: "blue to red 3.1 ohms". It is
// false for any other line.
func (t *Talk) readLine(line string) (string, bool) {
	words := strings.Fields(line)
	if len(words) < 4 || !strings.EqualFold(words[1], "to") || t.stage >= atHands {
		return "", false
	}
	r := Reading{Quantity: quantity.Resistance, Red: t.c.find(words[0]), Black: t.c.find(words[2])}
	switch {
	case r.Red < 0 || r.Black < 0:
		unknown := words[0]
		if r.Red >= 0 {
			unknown = words[2]
		}
		return fmt.Sprintf("error: no wire is called %q: name it first, then the reading\n", unknown), true
	case r.Red == r.Black:
		return "error: both leads are on one wire\n", true
	}
	var err error
	if r.Value, err = quantity.Parse(strings.Join(words[3:], " "), r.Quantity); err != nil {
		return mistake(err), true
	}
	t.take(r)
	if t.stage < atGoal {
		return fmt.Sprintf("  Noted: %s from %s to %s.\n", value(r), words[0], words[2]), true
	}
	return t.solve(), true
}

// take keeps a reading, in place of an older one of the same.
func (t *Talk) take(r Reading) {
	same := func(o Reading) bool {
		return o.Quantity == r.Quantity && (o.Red == r.Red && o.Black == r.Black || o.Red == r.Black && o.Black == r.Red)
	}
	t.c.Readings = append(slices.DeleteFunc(slices.Clone(t.c.Readings), same), r)
}
