package source

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Clean makes one line of foreign text safe to show: control characters (C0,
// C1, DEL, so every escape sequence), format characters such as bidirectional
// overrides, line and paragraph separators and bytes that are no UTF-8 come
// out as visible escapes, a tab as a space. Ordinary text is unchanged.
func Clean(s string) string { return clean(s, false) }

// CleanText is Clean for a paragraph: its line feeds stay.
func CleanText(s string) string { return clean(s, true) }

func clean(s string, keepLines bool) string {
	if !dirty(s) {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		c, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case c == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case c == '\n' && keepLines:
			b.WriteByte('\n')
		case c == '\n':
			b.WriteString(`\n`)
		case c == '\t':
			b.WriteByte(' ')
		case unsafeRune(c) && c < 0x80:
			fmt.Fprintf(&b, `\x%02x`, c)
		case unsafeRune(c) && c < 0x10000:
			fmt.Fprintf(&b, `\u%04x`, c)
		case unsafeRune(c):
			fmt.Fprintf(&b, `\U%08x`, c)
		default:
			b.WriteRune(c)
		}
		i += n
	}
	return b.String()
}

func dirty(s string) bool {
	if !utf8.ValidString(s) {
		return true
	}
	return strings.ContainsFunc(s, unsafeRune)
}

// unsafeRune says whether a character can move the cursor, start an escape
// sequence, reorder or hide text.
func unsafeRune(c rune) bool {
	if c < 0x7f {
		return c < 0x20
	}
	return unicode.In(c, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp)
}

// maskControls replaces each unsafe character by one '?', so columns hold; a
// tab stays.
func maskControls(s string) string {
	return strings.Map(func(c rune) rune {
		if c == '\t' || !unsafeRune(c) && c != utf8.RuneError {
			return c
		}
		return '?'
	}, s)
}
