package chat

import (
	"strings"

	"stepdown/engine/paragraph"
	"stepdown/engine/source"
)

// width is s in terminal cells; colour sequences take none.
func width(s string) int { return paragraph.Width(s) }

// pad fills s with spaces to n cells.
func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-width(s))) }

// wrap breaks foreign text at spaces into lines of at most col cells: the
// first starts with first, the others with as many spaces. A line feed in the
// text starts a new line; a word wider than a line is cut.
func wrap(text, first string, col int) []string {
	rest := strings.Repeat(" ", width(first))
	var out []string
	lead := first
	for _, para := range strings.Split(source.CleanText(text), "\n") {
		out = append(out, paragraph.Lines(para, lead, rest, col)...)
		lead = rest
	}
	return out
}

// joinLines joins lines, each ended.
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
