package report

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"stepdown/engine/paragraph"
)

// The width of the text form, and the least it is wrapped to, in cells.
const (
	column    = 78
	columnMin = 32
)

// Text writes the report as plain text, as it is printed and kept.
func (r *Report) Text(w io.Writer) error { return r.TextWithin(w, column) }

// TextWithin writes the same in lines of at most so many cells, for a screen
// that is narrower than the paper.
func (r *Report) TextWithin(w io.Writer, cells int) error {
	cells = min(max(cells, columnMin), column)
	var b strings.Builder
	for i, s := range r.sections() {
		if i > 0 {
			b.WriteString("\n")
		}
		b.WriteString(s.Title + "\n")
		for _, p := range s.Pairs {
			b.WriteString(paragraph.Fill(p[1], fmt.Sprintf("  %-15s", p[0]), cells))
		}
		for n, l := range s.Lines {
			lead := "  "
			if s.Numbered {
				lead = fmt.Sprintf("  %2d. ", n+1)
			} else if len(s.Lines) > 1 {
				lead = "  - "
			}
			b.WriteString(paragraph.Fill(l, lead, cells))
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// JSON writes the report as one object, indented; its schema is published.
func (r *Report) JSON(w io.Writer) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(r)
}

// Markdown writes the report as Markdown; what people typed is escaped.
func (r *Report) Markdown(w io.Writer) error {
	var b strings.Builder
	b.WriteString("# Call report " + escape(r.Call) + "\n")
	for _, s := range r.sections() {
		b.WriteString("\n## " + s.Title + "\n\n")
		if len(s.Pairs) > 0 {
			b.WriteString("| | |\n| --- | --- |\n")
		}
		for _, p := range s.Pairs {
			fmt.Fprintf(&b, "| %s | %s |\n", p[0], escape(p[1]))
		}
		if len(s.Pairs) > 0 && len(s.Lines) > 0 {
			b.WriteString("\n")
		}
		for n, l := range s.Lines {
			mark := "-"
			if s.Numbered {
				mark = fmt.Sprintf("%d.", n+1)
			}
			b.WriteString(mark + " " + escape(l) + "\n")
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// escape keeps text from being read as Markdown or HTML.
func escape(s string) string {
	var b strings.Builder
	for _, c := range s {
		switch c {
		case '<':
			b.WriteString("&lt;")
		case '>':
			b.WriteString("&gt;")
		case '&':
			b.WriteString("&amp;")
		case '\\', '`', '*', '_', '[', ']', '|', '#', '!', '~':
			b.WriteString(`\` + string(c))
		default:
			b.WriteRune(c)
		}
	}
	return b.String()
}
