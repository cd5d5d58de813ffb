package main

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"github.com/chzyer/readline"

	"stepdown/engine/paragraph"
)

// Widths in cells: the least a line is folded to, the least a column of text is
// folded within, and from where on a line was broken because it was full.
const (
	narrowMin = 24
	columnMin = 20
	fullFrom  = 60
)

// wide is how many cells the terminal has that is written to; 0 for a pipe and a
// file, which get lines whole.
func (w world) wide() int {
	wide, _, err := readline.GetSize(int(w.stdout.Fd()))
	if err != nil {
		return 0
	}
	return max(wide, 0)
}

// onScreen folds what is written to a terminal that is narrower than its lines.
func (w world) onScreen(text string) string {
	if wide := w.wide(); wide > 0 {
		return folded(text, wide)
	}
	return text
}

// folded breaks lines wider than so many cells. A row of a table goes on with
// its next field under it; text beside a name stays beside it where there is
// room; and lines of one paragraph are filled again.
func folded(text string, cells int) string {
	cells = max(cells, narrowMin)
	lines := slices.Collect(strings.Lines(text))
	var b strings.Builder
	for i := 0; i < len(lines); {
		line := strings.TrimSuffix(lines[i], "\n")
		last := i
		if r := rowOf(line); paragraph.Width(line) > cells {
			for last+1 < len(lines) && r.goesOn(lines[last], lines[last+1]) {
				last++
				r.fields[len(r.fields)-1].text += " " + strings.TrimSpace(lines[last])
			}
			line = strings.Join(r.fold(cells), "\n")
		}
		b.WriteString(line + lines[last][len(strings.TrimSuffix(lines[last], "\n")):])
		i = last + 1
	}
	return b.String()
}

// field is what stands in one column of a row, from a cell on.
type field struct {
	at   int
	text string
}

// row is a line as fields with two spaces and more between them.
type row struct{ fields []field }

var (
	betweenFields = regexp.MustCompile(` {2,}`)
	marked        = regexp.MustCompile(`^(-|•|!|\*|[0-9]+\.|error:|hint:) +`)
)

func rowOf(line string) row {
	bare := strings.TrimLeft(line, " ")
	at := len(line) - len(bare)
	var r row
	for bare != "" {
		text, gap := bare, ""
		if span := betweenFields.FindStringIndex(bare); span != nil {
			text, gap = bare[:span[0]], bare[span[0]:span[1]]
		}
		r.fields = append(r.fields, field{at, text})
		at += paragraph.Width(text) + len(gap)
		bare = bare[len(text)+len(gap):]
	}
	return r
}

// last is the row's last field.
func (r row) last() field { return r.fields[len(r.fields)-1] }

// textAt is where the row's last text begins, behind a mark of a list.
func (r row) textAt() int { return r.last().at + len(marked.FindString(r.last().text)) }

// goesOn reports whether next only is the rest of the line before it: text under
// the row's last field, of a line that was full.
func (r row) goesOn(line, next string) bool {
	n := rowOf(strings.TrimRight(next, "\n "))
	if len(r.fields) == 0 || len(n.fields) != 1 || n.last().at != r.textAt() || r.typed() {
		return false
	}
	line = strings.TrimRight(line, "\n ")
	afresh := unicode.IsUpper([]rune(n.last().text)[0]) && !strings.ContainsAny(line[len(line)-1:], ".,:;?!")
	return n.textAt() == n.last().at && paragraph.Width(line) >= fullFrom && !afresh
}

// typed reports whether the row is a command to be typed.
func (r row) typed() bool {
	return r.fields[0].at > 0 && strings.HasPrefix(r.fields[0].text, "stepdown")
}

// fold breaks the row into lines of at most so many cells.
func (r row) fold(cells int) []string {
	if len(r.fields) == 0 {
		return []string{""}
	}
	fits := 0
	for fits < len(r.fields) && r.fields[fits].at+paragraph.Width(r.fields[fits].text) <= cells {
		fits++
	}
	indent := min(r.fields[0].at, cells/3)
	under := strings.Repeat(" ", indent+4)
	switch {
	case fits == 0:
		lines := r.fill(indent, cells)
		if len(r.fields) == 1 {
			return lines
		}
		return append(lines, r.rest(1, indent+4).fold(cells)...)
	case fits == len(r.fields):
		return []string{r.upTo(fits)}
	case fits == len(r.fields)-1 && cells-r.last().at >= columnMin:
		lead := r.upTo(fits)
		lead += strings.Repeat(" ", r.last().at-paragraph.Width(lead))
		return paragraph.Lines(r.last().text, lead, strings.Repeat(" ", r.textAt()), cells)
	case fits == len(r.fields)-1:
		return append([]string{r.upTo(fits)}, paragraph.Lines(r.last().text, under, under, cells)...)
	}
	return append([]string{r.upTo(fits)}, r.rest(fits, indent+4).fold(cells)...)
}

// fill breaks the first field as the paragraph it is. A sentence goes on where
// it began, behind its mark; anything else two cells further in.
func (r row) fill(indent, cells int) []string {
	text := r.fields[0].text
	hang := len(marked.FindString(text))
	if hang == 0 && !strings.HasSuffix(text, ".") {
		hang = 2
	}
	return paragraph.Lines(text, strings.Repeat(" ", indent), strings.Repeat(" ", indent+hang), cells)
}

// upTo is the row's first fields as a line, each in its column.
func (r row) upTo(n int) string {
	line := ""
	for _, f := range r.fields[:n] {
		line += strings.Repeat(" ", f.at-paragraph.Width(line)) + f.text
	}
	return line
}

// rest is the row from a field on, moved to begin at a cell.
func (r row) rest(from, at int) row {
	var out row
	for _, f := range r.fields[from:] {
		out.fields = append(out.fields, field{at, f.text})
		at += paragraph.Width(f.text) + 2
	}
	return out
}
