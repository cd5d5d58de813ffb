package complaint

import (
	"slices"
	"strings"

	"stepdown/engine/house"
)

// Match is what words were understood as.
type Match struct {
	Emergency string          // gas, carbon-monoxide, smoke, water or shock; empty where none
	Outside   string          // what it sounds like, outside the control circuit; empty where nothing
	Equipment house.Equipment // recognised, but never metered; NoEquipment as a rule
	Trees     []house.Complaint
	Sure      bool // the first tree stands alone
}

// Matcher finds what words may mean. It does not change once made.
type Matcher struct {
	lex      *lexicon
	patterns []pattern
	signs    []sign
}

// pattern is a phrase as concepts.
type pattern struct {
	tree     house.Complaint
	concepts []string
}

// New makes a matcher of the built-in phrases and those of the trees.
func New(trees map[house.Complaint][]string) *Matcher {
	m := &Matcher{lex: newLexicon(), signs: signs()}
	built := phrases()
	for _, tree := range house.Complaints() {
		for _, words := range slices.Concat(built[tree], trees[tree]) {
			m.add(tree, words)
		}
	}
	for _, u := range unclear {
		for _, tree := range u.trees {
			m.add(tree, u.words)
		}
	}
	return m
}

func (m *Matcher) add(tree house.Complaint, words string) {
	concepts := m.lex.concepts(m.lex.words(words))
	concepts = slices.DeleteFunc(concepts, func(c string) bool { return c == brk || c == "?" })
	if len(concepts) > 0 {
		m.patterns = append(m.patterns, pattern{tree, concepts})
	}
}

// Match reads what a person said. Any text is taken; one that means nothing
// here gives the zero Match.
func (m *Matcher) Match(text string) Match {
	stems := m.lex.words(text)
	found := Match{Emergency: m.emergency(stems), Equipment: declined(stems)}
	var appliance bool
	if found.Outside, appliance = outside(stems); !appliance {
		found.Trees, found.Sure = m.trees(m.lex.concepts(stems))
	}
	return found
}

// weight is what finding a concept is worth; 2 unless listed.
var weight = map[string]float64{
	"air": 1, "house": 1, "ac": 1.5, "unit": 1, run: 1, "mode": 1, off: 1.5,
	"fuse": 3, "chatter": 3, "swap": 6, "since": 1, "flow": 1, "aux": 4, "stage": 3, "faultlight": 3, "wrong": 3, "float": 3, "pan": 1.5,
}

func worth(concept string) float64 {
	if w, ok := weight[concept]; ok {
		return w
	}
	return 2
}

// How far two concepts of a phrase may stand apart, and what each word
// between them costs.
const (
	gapMax  = 3
	gapCost = 0.4
)

// A tree is listed where it comes to listShare of the best one's points, and
// the best is sure where the next is sureLead points behind.
const (
	pointsMin = 2.5
	listShare = 0.65
	sureLead  = 1.1
)

// trees ranks the trees whose phrases are in the text.
func (m *Matcher) trees(text []string) ([]house.Complaint, bool) {
	points := map[house.Complaint]float64{}
	for _, p := range m.patterns {
		if got := p.in(text); got > points[p.tree] {
			points[p.tree] = got
		}
	}
	var order []house.Complaint
	for _, tree := range house.Complaints() {
		if points[tree] >= pointsMin {
			order = append(order, tree)
		}
	}
	slices.SortStableFunc(order, func(a, b house.Complaint) int {
		switch {
		case points[a] > points[b]:
			return -1
		case points[a] < points[b]:
			return 1
		}
		return 0
	})
	if len(order) == 0 {
		return nil, false
	}
	best := points[order[0]]
	order = slices.DeleteFunc(order, func(c house.Complaint) bool { return points[c] < listShare*best })
	return order, len(order) == 1 || points[order[1]] <= best-sureLead
}

// in gives the most points the phrase gets anywhere in the text, 0 where it
// is not there.
func (p pattern) in(text []string) float64 {
	best := 0.0
	for start := range text {
		if got := p.at(text, start); got > best {
			best = got
		}
	}
	return best
}

func (p pattern) at(text []string, i int) float64 {
	if text[i] != p.concepts[0] || p.concepts[0] != not && denied(text, i) {
		return 0
	}
	points := worth(p.concepts[0])
	for k, want := range p.concepts[1:] {
		gap := slices.Index(text[i+1:min(len(text), i+2+gapMax)], want)
		if gap < 0 {
			return 0
		}
		between := text[i+1 : i+1+gap]
		if want == "air" && p.concepts[k] == not && slices.ContainsFunc(between, warmth) {
			return 0 // no cold air is not no air
		}
		if slices.Contains(between, not) || slices.Contains(between, brk) && p.concepts[k] == not {
			return 0
		}
		points += worth(want) - gapCost*float64(gap)
		i += gap + 1
	}
	return points
}

func warmth(concept string) bool {
	return concept == "cold" || concept == "hot" || concept == "cool"
}

// denied tells whether a denial stands within two words before i, in the same
// clause.
func denied(text []string, i int) bool {
	for k := i - 1; k >= 0 && k >= i-2 && text[k] != brk; k-- {
		if text[k] == not {
			return true
		}
	}
	return false
}

// has tells whether the stems hold the words in a row.
func has(stems []string, words string) bool {
	return index(stems, words) >= 0
}

// index is where the words stand in a row, -1 where they do not.
func index(stems []string, words string) int {
	row := strings.Fields(words)
	for i := 0; i+len(row) <= len(stems); i++ {
		if slices.Equal(stems[i:i+len(row)], row) {
			return i
		}
	}
	return -1
}
