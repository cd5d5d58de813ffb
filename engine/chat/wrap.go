package chat

import (
	"strings"

	"github.com/mattn/go-runewidth"

	"stepdown/engine/source"
)

// cells measures without asking the environment for its locale.
var cells = &runewidth.Condition{EastAsianWidth: false}

// width is s in terminal cells; colour sequences take none.
func width(s string) int {
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

// pad fills s with spaces to n cells.
func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-width(s))) }

// wrap breaks foreign text at spaces into lines of at most col cells: the
// first starts with first, the others with as many spaces. A line feed in the
// text starts a new line; a word wider than a line is cut.
func wrap(text, first string, col int) []string {
	rest := strings.Repeat(" ", width(first))
	room := max(1, col-width(first))
	var out []string
	lead := first
	for _, para := range strings.Split(source.CleanText(text), "\n") {
		for _, line := range fill(para, room) {
			out = append(out, strings.TrimRight(lead+line, " "))
			lead = rest
		}
	}
	return out
}

// fill breaks one paragraph into lines of at most room cells.
func fill(para string, room int) []string {
	lines := []string{""}
	for _, word := range strings.Fields(para) {
		last := len(lines) - 1
		switch used := width(lines[last]); {
		case used == 0:
			lines[last] = word
		case used+1+width(word) <= room:
			lines[last] += " " + word
			continue
		default:
			lines = append(lines, word)
		}
		last = len(lines) - 1
		for width(lines[last]) > room {
			head, tail := cut(lines[last], room)
			lines = append(lines[:last], head, tail)
			last++
		}
	}
	return lines
}

// cut splits s after at most room cells, at least one character.
func cut(s string, room int) (head, tail string) {
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

// lines joins lines, each ended.
func joinLines(lines []string) string {
	if len(lines) == 0 {
		return ""
	}
	return strings.Join(lines, "\n") + "\n"
}

// splitLines undoes joinLines.
func splitLines(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(strings.TrimSuffix(text, "\n"), "\n")
}
