package quantity

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// ParseBatch reads several readings typed in one line: by name
// ("yc 0.1 rc 26.8", "yc=0.1, rc=26.8", "0.1 on yc, 26.8 on rc"), or bare in
// the order of names where there is one for each. Names match without regard
// to case and hyphens. "-", "skip", "cannot" for a value gives a Missing
// reading. By name, some may be left out: they are then not in the result,
// whose keys are names as given. Two values for one name, a name not asked for
// and a value without one are refused.
func ParseBatch(text string, q Quantity, names []string) (map[string]Reading, error) {
	if !q.known() {
		return nil, fmt.Errorf("%s is no quantity", q)
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("no reading was asked for")
	}
	if utf8.RuneCountInString(text) > batchRunesMax {
		return nil, fmt.Errorf("%s is too long; type it like %s", shorten(text), batchExample(q, names))
	}
	b := batch{q: q, names: names, keys: map[string]string{}}
	for _, n := range names {
		b.keys[nameKey(n)] = n
	}
	fields := b.split(text)
	if len(fields) == 0 {
		return nil, fmt.Errorf("nothing was typed; type it like %s", batchExample(q, names))
	}
	groups, err := b.group(text, fields)
	if err != nil {
		return nil, err
	}
	return b.values(groups)
}

func batchExample(q Quantity, names []string) string {
	value, _, _ := strings.Cut(kinds[q].example, " ")
	if len(names) == 1 {
		return value
	}
	parts := make([]string, len(names))
	for i, n := range names {
		parts[i] = n + " " + value
	}
	return strings.Join(parts, " ")
}

type batch struct {
	q     Quantity
	names []string
	keys  map[string]string // by nameKey
}

// field is a word of the line; name is set where it is one asked for.
type field struct {
	text, name string
}

// group is the words that give one name its value.
type group struct {
	name string
	text string
}

func nameKey(s string) string {
	return strings.NewReplacer("-", "", "_", "", "/", "").Replace(strings.ToLower(s))
}

// split cuts the line into words: separators go, names are marked, a value
// glued to its name (yc0.1) is cut off.
func (b *batch) split(text string) []field {
	words := strings.Fields(b.separate(fold(text)))
	for len(words) > 1 && isLead(words[0]) {
		words = words[1:]
	}
	var out []field
	for i := 0; i < len(words); i++ {
		w := words[i]
		if i+2 < len(words) && strings.EqualFold(words[i+1], "to") {
			if name, ok := b.keys[nameKey(w+words[i+2])]; ok {
				out = append(out, field{name: name})
				i += 2
				continue
			}
		}
		if name, ok := b.keys[nameKey(w)]; ok && nameKey(w) != "" {
			out = append(out, field{name: name})
			continue
		}
		if name, rest, ok := b.glued(w); ok {
			out = append(out, field{name: name}, field{text: rest})
			continue
		}
		out = append(out, field{text: w})
	}
	return out
}

// separate writes each separator as a space. A comma between digits stays: it
// is a decimal comma or ambiguous, which Parse settles; between two numbers
// that both have a point it is a separator.
func (b *batch) separate(s string) string {
	s = strings.NewReplacer(";", " ", "|", " ", "=", " ", ":", " ", "&", " ").Replace(s)
	var out strings.Builder
	for _, word := range strings.Fields(s) {
		parts := strings.Split(word, ",")
		allPoints := true
		for _, p := range parts {
			allPoints = allPoints && strings.Contains(p, ".")
		}
		for i, p := range parts {
			if i > 0 {
				digits := endsInDigit(parts[i-1]) && p != "" && isDigit(p[0])
				if digits && !allPoints {
					out.WriteByte(',')
				} else {
					out.WriteByte(' ')
				}
			}
			out.WriteString(p)
		}
		out.WriteByte(' ')
	}
	return out.String()
}

func endsInDigit(s string) bool { return s != "" && isDigit(s[len(s)-1]) }

// glued cuts yc0.1 into yc and 0.1. A name that ends in a digit is not cut:
// the value would start nobody knows where; nor is yc-0.1, whose dash may be a
// minus sign or not.
func (b *batch) glued(word string) (name, rest string, ok bool) {
	for _, n := range b.names {
		if len(word) <= len(n) || !strings.EqualFold(word[:len(n)], n) || endsInDigit(n) {
			continue
		}
		tail := word[len(n):]
		if isDigit(tail[0]) || strings.ContainsRune(".~", rune(tail[0])) {
			return n, tail, true
		}
	}
	return "", "", false
}

// group gathers the words that belong to each value.
func (b *batch) group(text string, fields []field) ([]group, error) {
	named := 0
	for _, f := range fields {
		if f.name != "" {
			named++
		}
	}
	first, last := fields[0], fields[len(fields)-1]
	switch {
	case named == 0:
		return b.inOrder(text, fields)
	case first.name != "":
		return gather(fields, false), nil
	case last.name != "":
		return gather(fields, true), nil
	}
	return nil, fmt.Errorf("%s: not clear which reading is which; type it like %s", shorten(text), batchExample(b.q, b.names))
}

// gather cuts at the names; the words of a name follow it, or, where after is
// true, come before it.
func gather(fields []field, after bool) []group {
	var out []group
	var words []string
	for _, f := range fields {
		switch {
		case f.name == "":
			words = append(words, f.text)
		case after:
			out = append(out, group{f.name, joinWords(words)})
			words = nil
		default:
			if n := len(out); n > 0 {
				out[n-1].text = joinWords(words)
			}
			out, words = append(out, group{name: f.name}), nil
		}
	}
	if n := len(out); n > 0 && !after {
		out[n-1].text = joinWords(words)
	}
	return out
}

// joinWords drops the words that only join a value to its name or the next.
func joinWords(words []string) string {
	joins := func(w string) bool {
		switch strings.ToLower(w) {
		case "and", "on", "at", "for", "from", "across", "between":
			return true
		}
		return false
	}
	for len(words) > 0 && joins(words[len(words)-1]) {
		words = words[:len(words)-1]
	}
	for len(words) > 0 && joins(words[0]) {
		words = words[1:]
	}
	return strings.Join(words, " ")
}

// inOrder gives bare values to the names in the order asked, when there is one
// for each.
func (b *batch) inOrder(text string, fields []field) ([]group, error) {
	var parts []string
	if len(b.names) == 1 {
		words := make([]string, len(fields))
		for i, f := range fields {
			words[i] = f.text
		}
		return []group{{b.names[0], strings.Join(words, " ")}}, nil
	}
	full := false // the part under way has its number
	for i, f := range fields {
		joins := strings.EqualFold(f.text, "and") && (i+1 >= len(fields) || startsValue(fields[i+1].text))
		starts := startsValue(f.text)
		switch {
		case joins:
			continue
		case len(parts) == 0, full && (starts || isLead(f.text)):
			parts, full = append(parts, f.text), starts
		default:
			parts[len(parts)-1] += " " + f.text
			full = full || starts
		}
	}
	if len(parts) != len(b.names) {
		return nil, fmt.Errorf("%s: %d readings are wanted and %d typed; type it like %s",
			shorten(text), len(b.names), len(parts), batchExample(b.q, b.names))
	}
	out := make([]group, len(parts))
	for i, p := range parts {
		out[i] = group{b.names[i], p}
	}
	return out, nil
}

// startsValue says whether a word can be the number of a reading.
func startsValue(w string) bool {
	if cannot(w) || strings.EqualFold(w, "zero") {
		return true
	}
	if _, ok := cutOverLimit(w); ok {
		return true
	}
	w = strings.TrimLeft(w, "+-~.,")
	return w != "" && isDigit(w[0])
}

// cannot says whether a value says that this one cannot be read.
func cannot(s string) bool {
	switch strings.ToLower(s) {
	case "-", "--", "---", "cannot", "can not", "can't", "cant", "skip", "unable", "n/a", "na":
		return true
	}
	return false
}

func (b *batch) values(groups []group) (map[string]Reading, error) {
	out := make(map[string]Reading, len(groups))
	for _, g := range groups {
		if _, twice := out[g.name]; twice {
			return nil, fmt.Errorf("%s is given twice; type each name once, like %s", g.name, batchExample(b.q, b.names))
		}
		r, err := b.value(g)
		if err != nil {
			return nil, err
		}
		out[g.name] = r
	}
	return out, nil
}

func (b *batch) value(g group) (Reading, error) {
	if cannot(g.text) {
		return Reading{Missing: true}, nil
	}
	if g.text == "" {
		return Reading{}, fmt.Errorf("%s has no reading; type it like %s", g.name, batchExample(b.q, b.names))
	}
	if strings.HasPrefix(g.text, "- ") {
		return Reading{}, fmt.Errorf("%s: %s could be a minus sign or a reading left out; type the number alone, or - alone", g.name, shorten(g.text))
	}
	r, err := Parse(g.text, b.q)
	if err != nil && len(b.names) > 1 {
		return Reading{}, fmt.Errorf("%s: %w", g.name, err)
	}
	return r, err
}
