package complaint

import (
	"slices"
	"strings"
	"unicode"

	"stepdown/engine/source"
)

// wordsMax bounds the work on a text that is no complaint.
const wordsMax = 400

// lexicon turns words into concepts.
type lexicon struct {
	concept map[string][]string // of words in a row, joined by one space
	known   map[string]bool     // every word that means something here
	order   []string            // the same, for a stable nearest
	rowMax  int                 // most words in a row

	root                   map[string]string // a known word without its ending, if that is one
	longhand               map[string][]string
	articles, skip, common map[string]bool
}

func newLexicon() *lexicon {
	l := &lexicon{concept: map[string][]string{}, known: map[string]bool{}, root: map[string]string{}, longhand: longhand(),
		articles: set(articles), skip: set(filler), common: set(common)}
	l.learn(signWords()) // first, so that a slip is sooner taken for an emergency's word
	l.learn(vocabulary)
	l.learn(outsideWords())
	for _, w := range l.order {
		if b, ok := base(w, func(b string) bool { return l.known[b] }); ok {
			l.root[w] = b
		}
	}
	for line := range strings.Lines(vocabulary) {
		name, list, ok := strings.Cut(strings.TrimSpace(line), ":")
		if !ok {
			continue
		}
		for row := range strings.SplitSeq(name+","+list, ",") {
			for _, words := range either(l.bare(strings.Fields(row))) {
				l.concept[l.roots(words)] = strings.Fields(name)
				l.rowMax = max(l.rowMax, len(words))
			}
		}
	}
	return l
}

// roots joins words, each without its ending where that is a known word too,
// so that a row of words stands for all its forms.
func (l *lexicon) roots(words []string) string {
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			b.WriteByte(' ')
		}
		if root, ok := l.root[w]; ok {
			w = root
		}
		b.WriteString(w)
	}
	return b.String()
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
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,/:\n", r) }) {
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
	runes := []rune(spellOut.Replace(strings.ToLower(text)))
	for i, r := range runes {
		switch {
		case r == 's' && owner(runes, i):
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

// owner tells whether the s at i is that of "AC's": of whom, or is.
func owner(r []rune, i int) bool {
	return i > 1 && strings.ContainsRune("'’", r[i-1]) && unicode.IsLetter(r[i-2]) && (i+1 == len(r) || !unicode.IsLetter(r[i+1]))
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
	if known, ok := l.mended(w); ok {
		return known
	}
	if one, ok := strings.CutSuffix(w, "s"); ok && len(one) >= 5 && !l.common[one] {
		if known, ok := l.mended(one); ok {
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

// mended finds the known word one slip away.
func (l *lexicon) mended(w string) (string, bool) {
	for _, known := range l.order {
		if len(known) >= 4 && known[0] == w[0] && oneSlip(w, known) {
			return known, true
		}
	}
	return "", false
}

// onceMax is the longest such word that is looked into.
const onceMax = 60

// once reduces a known word said several times in one breath, as in clickclick.
func (l *lexicon) once(w string) string {
	for n := 3; len(w) <= onceMax && n <= len(w)/2; n++ {
		if l.known[w[:n]] && strings.Repeat(w[:n], len(w)/n) == w {
			return w[:n]
		}
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
	return base(w, func(b string) bool { return l.known[b] })
}

// base takes an ending off w, so that a word stands that will do.
func base(w string, will func(string) bool) (string, bool) {
	for _, end := range []string{"s", "es", "ed", "ing", "in", "d"} {
		b, ok := strings.CutSuffix(w, end)
		if !ok || len(b) < 3 {
			continue
		}
		if will(b) {
			return b, true
		}
		if n := len(b); b[n-1] == b[n-2] && will(b[:n-1]) {
			return b[:n-1], true
		}
		if will(b + "e") {
			return b + "e", true
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
	var stems []string
	for _, w := range raw {
		full, ok := l.longhand[w]
		switch {
		case ok:
			stems = append(stems, full...)
		case !l.articles[w]:
			stems = append(stems, l.stem(l.once(w)))
		}
	}
	return stems
}

// concepts reads stems as concepts: the longest row of words first, filler
// dropped, a word of no concept as "?", degrees as what they feel like.
func (l *lexicon) concepts(stems []string) []string {
	var out []string
	room, feels, spent := temperature(stems)
	for i := 0; i < len(stems); {
		names, n := l.row(stems[i:])
		switch {
		case i == room && feels != "":
			out = append(out, brk, "house", feels, brk)
		case spent[i]:
		case n > 0:
			out = append(out, names...)
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

// row finds the longest row of words that starts here, and its concepts.
func (l *lexicon) row(stems []string) ([]string, int) {
	for n := min(l.rowMax, len(stems)); n > 0; n-- {
		if names, ok := l.concept[l.roots(stems[:n])]; ok {
			return names, n
		}
	}
	return nil, 0
}
