package complaint

import (
	"slices"
	"strings"
	"unicode"

	"stepdown/engine/source"
)

// The concepts that the code itself speaks of.
const (
	brk    = "|" // a clause ends
	not    = "not"
	stop   = "stop"
	off    = "off"
	run    = "run"
	always = "always"
	blank  = "blank"
)

// wordsMax bounds the work on a text that is no complaint.
const wordsMax = 400

// lexicon turns words into concepts.
type lexicon struct {
	concept map[string]string // words in a row, joined by one space
	known   map[string]bool   // every word that means something here
	order   []string          // the same, for a stable nearest
	rowMax  int               // most words in a row

	articles, skip, common map[string]bool
}

func newLexicon() *lexicon {
	l := &lexicon{concept: map[string]string{}, known: map[string]bool{},
		articles: set(articles), skip: set(filler), common: set(common)}
	for line := range strings.Lines(vocabulary) {
		name, list, ok := strings.Cut(strings.TrimSpace(line), ":")
		if !ok {
			continue
		}
		for row := range strings.SplitSeq(name+","+list, ",") {
			for _, words := range either(l.bare(strings.Fields(row))) {
				l.concept[strings.Join(words, " ")] = name
				l.rowMax = max(l.rowMax, len(words))
			}
			l.learn(row)
		}
	}
	l.learn(signWords())
	l.learn(outsideWords())
	return l
}

// bare drops the articles of a row.
func (l *lexicon) bare(row []string) []string {
	return slices.DeleteFunc(row, func(w string) bool { return l.articles[w] })
}

// either writes out a row whose words are written a/b: one row for each.
func either(row []string) [][]string {
	out := [][]string{nil}
	for _, word := range row {
		var longer [][]string
		for _, head := range out {
			for w := range strings.SplitSeq(word, "/") {
				longer = append(longer, append(head[:len(head):len(head)], w))
			}
		}
		out = longer
	}
	return out
}

func (l *lexicon) learn(text string) {
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,/", r) }) {
		if !l.known[w] {
			l.known[w] = true
			l.order = append(l.order, w)
		}
	}
}

func set(words string) map[string]bool {
	m := map[string]bool{}
	for w := range strings.FieldsSeq(words) {
		m[w] = true
	}
	return m
}

// breaks end a clause: a denial does not reach over them.
var breaks = set("but and however though although because while so except")

// split gives a text's words in lower case, apostrophes and the marks inside
// a/c and 24/7 dropped, with brk where a clause ends.
func split(text string) []string {
	var out []string
	var word strings.Builder
	flush := func() {
		if word.Len() > 0 {
			out = append(out, word.String())
			word.Reset()
		}
	}
	runes := []rune(strings.ToLower(text))
	for i, r := range runes {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			word.WriteRune(r)
		case strings.ContainsRune("'’`´", r), (r == '/' || r == '.') && singles(runes, i):
		default:
			flush()
			if strings.ContainsRune(",.;:!?\n", r) {
				out = append(out, brk)
			}
		}
	}
	flush()
	return out
}

// singles tells whether the mark at i joins two single letters, as in a/c and
// a.c., or digits, as in 24/7.
func singles(r []rune, i int) bool {
	if i == 0 || i+1 >= len(r) || !unicode.IsLetter(r[i+1]) {
		return i > 0 && i+1 < len(r) && unicode.IsDigit(r[i-1]) && unicode.IsDigit(r[i+1])
	}
	alone := func(j, step int) bool {
		return j >= 0 && j < len(r) && unicode.IsLetter(r[j]) && (j+step < 0 || j+step >= len(r) || !unicode.IsLetter(r[j+step]))
	}
	return alone(i-1, -1) && alone(i+1, 1)
}

// stem reduces a word to one the lexicon knows, mending a slip where no other
// way leads to one; a word it cannot place comes back as it is.
func (l *lexicon) stem(w string) string {
	if s, ok := l.ending(w); ok {
		return s
	}
	if l.skip[w] || l.common[w] || len(w) < 4 || w == brk {
		return w
	}
	for _, known := range l.order {
		if len(known) >= 4 && known[0] == w[0] && oneSlip(w, known) {
			return known
		}
	}
	if len(w) < longWord {
		return w
	}
	if near, ok := source.Nearest(w, l.order); ok {
		return near
	}
	return w
}

// longWord is the length from which two slips are mended, the first letter's
// among them.
const longWord = 8

// oneSlip tells whether one letter left out, put in, replaced or swapped with
// its neighbour makes b of a.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch len(b) - len(a) {
	case 1:
		return a[i:] == b[i+1:]
	case 0:
		return i == len(a) || a[i+1:] == b[i+1:] ||
			i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
	}
	return false
}

// ending tries w and w without an ending.
func (l *lexicon) ending(w string) (string, bool) {
	if l.known[w] {
		return w, true
	}
	for _, end := range []string{"s", "es", "ed", "ing", "in", "d"} {
		base, ok := strings.CutSuffix(w, end)
		if !ok || len(base) < 3 {
			continue
		}
		if l.known[base] {
			return base, true
		}
		if n := len(base); base[n-1] == base[n-2] && l.known[base[:n-1]] {
			return base[:n-1], true
		}
		if l.known[base+"e"] {
			return base + "e", true
		}
	}
	return "", false
}

// words gives the text as stems, clause ends among them.
func (l *lexicon) words(text string) []string {
	raw := split(text)
	if len(raw) > wordsMax {
		raw = raw[:wordsMax]
	}
	stems := raw[:0]
	for _, w := range raw {
		if !l.articles[w] {
			stems = append(stems, l.stem(w))
		}
	}
	return stems
}

// concepts reads stems as concepts: the longest row of words first, filler
// dropped, a word of no concept as "?".
func (l *lexicon) concepts(stems []string) []string {
	var out []string
	for i := 0; i < len(stems); {
		name, n := l.row(stems[i:])
		switch {
		case n > 0:
			out = append(out, name)
			i += n
			continue
		case stems[i] == brk || breaks[stems[i]]:
			if len(out) > 0 && out[len(out)-1] != brk {
				out = append(out, brk)
			}
		case !l.skip[stems[i]]:
			out = append(out, "?")
		}
		i++
	}
	return settle(out)
}

// row finds the longest concept that starts here.
func (l *lexicon) row(stems []string) (string, int) {
	for n := min(l.rowMax, len(stems)); n > 0; n-- {
		if name, ok := l.concept[strings.Join(stems[:n], " ")]; ok {
			return name, n
		}
	}
	return "", 0
}

// settle works out the words whose sense hangs on a neighbour: what will not
// stop runs always, what stopped cooling does not cool, what is not blank is
// lit, and what just stopped does not run.
func settle(in []string) []string {
	var out []string
	for i := 0; i < len(in); i++ {
		next := func(k int) string {
			if i+k < len(in) {
				return in[i+k]
			}
			return ""
		}
		switch c := in[i]; {
		case c == not && (next(1) == stop || next(1) == off):
			out = append(out, always)
			i++
		case c == not && next(1) == always, c == stop && next(1) == always:
			out = append(out, not, run)
			i++
		case c == not && next(1) == blank:
			out = append(out, "?")
			i++
		case c == stop && (next(1) == "" || next(1) == brk):
			out = append(out, not, run)
		case c == stop:
			out = append(out, not)
		case c == not && next(1) == not:
		default:
			out = append(out, c)
		}
	}
	return out
}
