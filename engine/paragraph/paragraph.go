package paragraph

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// cells measures without asking the environment for its locale.
var cells = &runewidth.Condition{EastAsianWidth: false}

// Width is s in terminal cells; colour sequences take none.
func Width(s string) int {
	n := 0
	for {
		i := strings.Index(s, "\x1b[")
		if i < 0 {
			return n + cells.StringWidth(s)
		}
		n += cells.StringWidth(s[:i])
		end := strings.IndexByte(s[i:], 'm')
		if end < 0 {
			return n
		}
		s = s[i+end+1:]
	}
}

// Lines breaks text at spaces into lines of at most columns cells. The first
// starts with lead, the others with rest; a word wider than a line is cut.
// There is always one line, and none ends in a space.
func Lines(text, lead, rest string, columns int) []string {
	var out []string
	line, bare := lead, true
	flush := func() {
		out = append(out, strings.TrimRight(line, " "))
		line, bare = rest, true
	}
	for _, word := range strings.Fields(text) {
		if !bare && Width(line)+1+Width(word) > columns {
			flush()
		}
		if !bare {
			line += " "
		}
		line, bare = line+word, false
		for Width(line) > columns && Width(word) > 1 {
			head, tail := Cut(word, max(1, columns-Width(strings.TrimSuffix(line, word))))
			if tail == "" {
				break
			}
			line = strings.TrimSuffix(line, word) + head
			flush()
			word = tail
			line, bare = line+word, false
		}
	}
	if !bare || len(out) == 0 {
		flush()
	}
	return out
}

// Fill is Lines with what follows indented as far as the lead, as text of whole
// lines.
func Fill(text, lead string, columns int) string {
	return strings.Join(Lines(text, lead, strings.Repeat(" ", Width(lead)), columns), "\n") + "\n"
}

// Cut splits s after at most room cells, at least one character.
func Cut(s string, room int) (head, tail string) {
	used := 0
	for i, c := range s {
		w := cells.RuneWidth(c)
		if i > 0 && used+w > room {
			return s[:i], s[i:]
		}
		used += w
	}
	return s, ""
}
