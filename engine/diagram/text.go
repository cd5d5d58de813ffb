package diagram

import (
	"fmt"
	"strings"

	"stepdown/engine/paragraph"
)

// Form is what a drawing in text is made of.
type Form uint8

// Lines of Unicode, of ASCII, or words alone for a screen reader.
const (
	Unicode Form = iota
	ASCII
	Linear
)

// columns is how wide a line is let grow, and columnsMin the least it is asked
// to stay within.
const (
	columns    = 80
	columnsMin = 32
)

// pencil is the pieces a way out is drawn with: one that others follow, the
// last, what runs on beside wrapped lines, and the arrow.
type pencil struct{ fork, last, beside, below, arrow string }

var pencils = map[Form]pencil{
	Unicode: {"├─ ", "└─ ", "│  ", "   ", "→ "},
	ASCII:   {"+- ", "`- ", "|  ", "   ", "-> "},
	Linear:  {"- ", "- ", "  ", "  ", "goes to "},
}

// Text is the tree as an outline, each step with its ways out drawn under it.
func (d Diagram) Text(f Form) string { return d.TextWithin(f, columns) }

// TextWithin is the same in lines of at most so many cells, for a screen that is
// narrower than the paper.
func (d Diagram) TextWithin(f Form, cells int) string {
	b := outline{cells: min(max(cells, columnsMin), columns)}
	p := pencils[f]
	b.wrap("", "  ", fmt.Sprintf("%s: %s", d.Tree.ID, d.Tree.Title))
	for _, l := range d.head() {
		b.wrap("  ", "  ", l)
	}
	for _, c := range d.Steps {
		lead := fmt.Sprintf("\n%3d  ", c.Number)
		b.wrap(lead, "     ", c.Step.ID+": "+strings.Join(c.Asks, "; "))
		if c.Setup != "" {
			b.wrap("     ", "     ", "with "+c.Setup)
		}
		b.wrap("     ", "     ", c.Step.Why)
		for i, w := range c.Ways {
			first, rest := p.fork, p.beside
			if i == len(c.Ways)-1 {
				first, rest = p.last, p.below
			}
			b.way(w, p, "     "+first, "     "+rest)
		}
	}
	return b.String()
}

// labelled is the column a target begins in where the label is short.
const labelled = 34

// way writes a way on one line, or its target under a long label.
func (b *outline) way(w Way, p pencil, first, rest string) {
	target := p.arrow + w.whither()
	if n := len([]rune(first + w.Label)); n < labelled && labelled+len([]rune(target)) <= b.cells {
		b.WriteString(first + w.Label + strings.Repeat(" ", labelled-n) + target + "\n")
		return
	}
	if line := first + w.Label + " " + target; b.cells < columns && paragraph.Width(line) <= b.cells {
		b.WriteString(line + "\n")
		return
	}
	b.wrap(first, rest, w.Label)
	b.wrap(rest+"  ", rest+"    ", target)
}

// whither is where a way leads, in a few words.
func (w Way) whither() string {
	if w.Number > 0 {
		return fmt.Sprintf("%d %s", w.Number, strings.TrimPrefix(w.Target, "step "))
	}
	return w.Target
}

// outline is what is drawn on, of so many cells.
type outline struct {
	strings.Builder
	cells int
}

// wrap writes text after a lead, which may start with line feeds; what follows
// comes after rest.
func (b *outline) wrap(lead, rest, text string) {
	line := strings.TrimLeft(lead, "\n")
	b.WriteString(strings.TrimSuffix(lead, line) + strings.Join(paragraph.Lines(text, line, rest, b.cells), "\n") + "\n")
}
