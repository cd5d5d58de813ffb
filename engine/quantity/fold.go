package quantity

import (
	"strings"
	"unicode"
)

// fold writes the look-alikes of typographic keyboards as ASCII (and every ohm
// sign as Ω), spaces as one space, and trims. Case stays: it tells m from M.
func fold(s string) string {
	s = strings.Map(func(c rune) rune {
		switch {
		case c >= 0xff01 && c <= 0xff5e: // full-width forms
			return c - 0xfee0
		case unicode.IsSpace(c):
			return ' '
		}
		switch c {
		case '\u2212', '\u2010', '\u2011', '\u2012', '\u2013', '\u2014':
			return '-'
		case '\u2126', 'ω':
			return 'Ω'
		case 'µ', 'μ':
			return 'u'
		case '≈', '∼', '≃', '≅':
			return '~'
		case '’', '‘':
			return '\''
		}
		return c
	}, s)
	s = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4").Replace(s)
	return strings.Join(strings.Fields(s), " ")
}

// leads are words said before a number that do not change it.
var leads = []string{
	"~", "=", ":", "about", "around", "approximately", "approx.", "approx", "roughly", "circa", "ca.", "ca",
	"nearly", "almost", "maybe", "probably", "just", "like", "say", "the meter", "my meter", "meter", "i", "it", "it's", "its",
	"got", "get", "have", "see", "read", "reads", "reading", "says", "said", "shows", "showing", "is", "was",
}

// tails are words said after a number that do not change it.
var tails = []string{
	".", "!", "?", ",", ";", "-ish", "ish", "or so", "or thereabouts", "give or take", "approximately", "approx.", "approx",
	"roughly", "about", "maybe", "steady", "now",
}

// trimHedges takes leads and tails off, as many as there are.
func trimHedges(s string) string {
	for {
		before := s
		for _, w := range leads {
			s = trimLead(s, w)
		}
		for _, w := range tails {
			s = trimTail(s, w)
		}
		if s == before {
			return s
		}
	}
}

func isLead(word string) bool {
	for _, w := range leads {
		if strings.EqualFold(w, word) {
			return true
		}
	}
	return false
}

// trimLead takes the word w off the front unless a letter follows it.
func trimLead(s, w string) string {
	if len(s) < len(w) || !strings.EqualFold(s[:len(w)], w) {
		return s
	}
	rest := s[len(w):]
	if isLetter(w[len(w)-1]) && rest != "" && (isLetter(rest[0]) || rest[0] == '\'') {
		return s
	}
	return strings.TrimLeft(rest, " ")
}

// trimTail takes the word w off the end unless it is part of a longer word;
// "ish" may be glued to what it follows.
func trimTail(s, w string) string {
	at := len(s) - len(w)
	if at < 0 || !strings.EqualFold(s[at:], w) {
		return s
	}
	rest := s[:at]
	if rest != "" && w != "ish" && isLetter(w[0]) && isLetter(rest[len(rest)-1]) {
		return s
	}
	return strings.TrimRight(rest, " ")
}

func isLetter(b byte) bool { return b|0x20 >= 'a' && b|0x20 <= 'z' }

func isDigit(b byte) bool { return b >= '0' && b <= '9' }
