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

// columns is how wide a line is let grow.
const columns = 80

// pencil is the pieces a way out is drawn with: one that others follow, the
// last, what runs on beside wrapped lines, and the arrow.
type pencil struct{ fork, last, beside, below, arrow string }

var pencils = map[Form]pencil{
	Unicode: {"├─ ", "└─ ", "│  ", "   ", "→ "},
	ASCII:   {"+- ", "`- ", "|  ", "   ", "-> "},
	Linear:  {"- ", "- ", "  ", "  ", "goes to "},
}

// Text is the tree as an outline, each step with its ways out drawn under it.
func (d Diagram) Text(f Form) string {
	var b strings.Builder
	p := pencils[f]
	fmt.Fprintf(&b, "%s: %s\n", d.Tree.ID, d.Tree.Title)
	for _, l := range d.head() {
		wrap(&b, "  ", "  ", l)
	}
	for _, c := range d.Steps {
		lead := fmt.Sprintf("\n%3d  ", c.Number)
		wrap(&b, lead, "     ", c.Step.ID+": "+strings.Join(c.Asks, "; "))
		if c.Setup != "" {
			wrap(&b, "     ", "     ", "with "+c.Setup)
		}
		wrap(&b, "     ", "     ", c.Step.Why)
		for i, w := range c.Ways {
			first, rest := p.fork, p.beside
			if i == len(c.Ways)-1 {
				first, rest = p.last, p.below
			}
			w.text(&b, p, "     "+first, "     "+rest)
		}
	}
	return b.String()
}

// labelled is the column a target begins in where the label is short.
const labelled = 34

// text writes a way on one line, or its target under a long label.
func (w Way) text(b *strings.Builder, p pencil, first, rest string) {
	target := p.arrow + w.whither()
	if n := len([]rune(first + w.Label)); n < labelled && labelled+len([]rune(target)) <= columns {
		b.WriteString(first + w.Label + strings.Repeat(" ", labelled-n) + target + "\n")
		return
	}
	wrap(b, first, rest, w.Label)
	wrap(b, rest+"  ", rest+"    ", target)
}

// whither is where a way leads, in a few words.
func (w Way) whither() string {
	if w.Number > 0 {
		return fmt.Sprintf("%d %s", w.Number, strings.TrimPrefix(w.Target, "step "))
	}
	return w.Target
}

// wrap writes text after a lead, which may start with line feeds; what follows
// comes after rest.
func wrap(b *strings.Builder, lead, rest, text string) {
	line := strings.TrimLeft(lead, "\n")
	b.WriteString(strings.TrimSuffix(lead, line) + strings.Join(paragraph.Lines(text, line, rest, columns), "\n") + "\n")
}
