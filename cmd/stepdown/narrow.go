package main

import (
	"strings"

	"github.com/chzyer/readline"

	"stepdown/engine/paragraph"
)

// narrowMin is the least a line is folded to, in cells.
const narrowMin = 24

// onScreen folds what is written to a terminal that is narrower than its lines;
// a pipe and a file get them whole.
func (w world) onScreen(text string) string {
	wide, _, err := readline.GetSize(int(w.stdout.Fd()))
	if err != nil || wide <= 0 {
		return text
	}
	return folded(text, wide)
}

// folded breaks lines wider than so many cells at spaces; what is left of a line
// stands under it, two cells further in. Spacing within a line is kept.
func folded(text string, cells int) string {
	cells = max(cells, narrowMin)
	var b strings.Builder
	for line := range strings.Lines(text) {
		line, end := strings.TrimSuffix(line, "\n"), line[len(strings.TrimSuffix(line, "\n")):]
		indent := line[:len(line)-len(strings.TrimLeft(line, " "))]
		indent = indent[:min(len(indent), cells/3)]
		for paragraph.Width(line) > cells {
			head, tail := paragraph.Cut(line, cells)
			if !strings.HasPrefix(tail, " ") {
				if at := strings.LastIndex(strings.TrimRight(head, " "), " "); at > len(indent)+2 {
					head, tail = head[:at], head[at:]+tail
				}
			}
			b.WriteString(strings.TrimRight(head, " ") + "\n")
			line = indent + "  " + strings.TrimLeft(tail, " ")
		}
		b.WriteString(line + end)
	}
	return b.String()
}
