package diagram

import (
	"fmt"
	"html"
	"io"
	"strings"

	"stepdown/engine/tree"
)

// Measures of the drawing, in its own units: a letter is at most em wide at
// the size it is written in, whatever fixed-width face stands in.
const (
	em       = 8.4 // at 13 units, with room to spare
	line     = 19.0
	pad      = 12.0
	margin   = 16.0
	cardWide = 660.0
	gap      = 22.0 // between cards
	laneWide = 12.0
	labelCol = 38 // letters a label has beside its target
)

// room is how many letters a line of a card holds.
const room = 75

const style = `
text{font:13px ui-monospace,Menlo,Consolas,"DejaVu Sans Mono","Liberation Mono",monospace;fill:#1b1b1b}
.h{font-weight:bold}.w{fill:#555}
.c{fill:#fff;stroke:#444}.f{fill:#eef3ee;stroke:#446644}.t{fill:#eef0f6;stroke:#445577;stroke-dasharray:4 2}
.l{fill:none;stroke:#666;stroke-width:1.3}.a{fill:#666;stroke:none}
.p{fill:#fafafa}
@media (prefers-color-scheme:dark){text{fill:#eee}.w{fill:#aaa}.p{fill:#161616}.c{fill:#222;stroke:#999}
.f{fill:#1d2a1d;stroke:#8ab48a}.t{fill:#1e2430;stroke:#8fa3cc}.l{stroke:#999}.a{fill:#999}}
`

// row is one line of a card: text on the left, and a target on the right.
type row struct {
	text, class string
	way         *Way
}

// card is a step with its rows and where it stands.
type card struct {
	Card
	rows     []row
	top, end float64
}

// sheet is the drawing being made.
type sheet struct {
	b     strings.Builder
	cards []card
	lanes []lane
	wide  float64
	high  float64
}

// lane is the line beside the cards that leads to one step, from the first row
// that leads there to the step itself.
type lane struct {
	to       int // index of the card
	from     []float64
	top, end float64
	column   int
}

// SVG writes the tree as one picture that needs nothing else.
func (d Diagram) SVG(w io.Writer) error {
	s := &sheet{}
	top := margin + line*float64(2+len(d.headLines()))
	for _, c := range d.Steps {
		top = s.place(c, top) + gap
	}
	s.high = top - gap + margin
	s.route()
	s.write(d)
	_, err := io.WriteString(w, s.b.String())
	return err
}

// headLines is the tree's head, broken to the drawing's width.
func (d Diagram) headLines() []string {
	var out []string
	for _, l := range d.head() {
		out = append(out, broken(l, room)...)
	}
	return out
}

// place gives a step its rows and its height.
func (s *sheet) place(c Card, top float64) float64 {
	k := card{Card: c, top: top}
	add := func(text, class string) {
		for _, l := range broken(text, room) {
			k.rows = append(k.rows, row{text: l, class: class})
		}
	}
	add(fmt.Sprintf("%d  %s", c.Number, c.Step.ID), "h")
	for _, a := range c.Asks {
		add(a, "")
	}
	if c.Setup != "" {
		add("with "+c.Setup, "")
	}
	add(c.Step.Why, "w")
	for i := range c.Ways {
		way := &c.Ways[i]
		lines := broken(way.Label, labelCol)
		for n, l := range lines {
			r := row{text: l}
			if n == len(lines)-1 {
				r.way = way
			}
			k.rows = append(k.rows, r)
		}
	}
	k.end = top + line*float64(len(k.rows)) + 2*pad
	s.cards = append(s.cards, k)
	return k.end
}

// base is where a row's letters stand.
func (k card) base(i int) float64 { return k.top + pad + line*float64(i) + 0.72*line }

// route gives each step that is led to a lane of its own, and lanes that pass
// one another different columns.
func (s *sheet) route() {
	lanes := make([]lane, len(s.cards))
	for _, k := range s.cards {
		for i, r := range k.rows {
			if r.way == nil || r.way.Number == 0 {
				continue
			}
			l := &lanes[r.way.Number-1]
			y := k.base(i) - 0.25*line
			if len(l.from) == 0 {
				l.top = y
			}
			l.from = append(l.from, y)
		}
	}
	most := 0
	for i := range lanes {
		l := &lanes[i]
		if len(l.from) == 0 {
			continue
		}
		l.to, l.end = i, s.cards[i].base(0)-0.25*line
		for l.column = 0; s.taken(l); l.column++ {
		}
		most = max(most, l.column+1)
		s.lanes = append(s.lanes, *l)
	}
	s.wide = margin + cardWide + laneWide*float64(most+1) + margin
}

// taken reports whether another lane runs in the same column beside l.
func (s *sheet) taken(l *lane) bool {
	for _, o := range s.lanes {
		if o.column == l.column && o.top <= l.end && l.top <= o.end {
			return true
		}
	}
	return false
}

func (s *sheet) printf(format string, args ...any) { fmt.Fprintf(&s.b, format, args...) }

// text writes letters and the room they have.
func (s *sheet) text(x, y, wide float64, class, text string) {
	s.printf("<text x=\"%.1f\" y=\"%.1f\" class=\"%s\" data-room=\"%.1f\">%s</text>\n", x, y, class, wide, html.EscapeString(text))
}

func (s *sheet) write(d Diagram) {
	title := d.Tree.ID.String() + ": " + d.Tree.Title
	s.printf("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" aria-labelledby=\"t d\" viewBox=\"0 0 %.0f %.0f\" width=\"%.0f\" height=\"%.0f\">\n",
		s.wide, s.high, s.wide, s.high)
	s.printf("<title id=\"t\">%s</title>\n<desc id=\"d\">%s</desc>\n", html.EscapeString(title), html.EscapeString(d.Text(Linear)))
	s.printf("<style>%s</style>\n<rect class=\"p\" width=\"%.0f\" height=\"%.0f\"/>\n", style, s.wide, s.high)
	y := margin + 0.72*line
	s.text(margin, y, cardWide, "h", title)
	for _, l := range d.headLines() {
		y += line
		s.text(margin, y, cardWide, "w", l)
	}
	for _, l := range s.lanes {
		s.lane(l)
	}
	for _, k := range s.cards {
		s.card(k)
	}
	s.printf("</svg>\n")
}

// lane draws what leads to a step: a stub from each row, down, and an arrow.
func (s *sheet) lane(l lane) {
	right := margin + cardWide
	x := right + laneWide*float64(l.column+1)
	for _, y := range l.from {
		s.printf("<path class=\"l\" d=\"M%.1f %.1fH%.1f\"/>\n", right, y, x)
	}
	s.printf("<path class=\"l\" d=\"M%.1f %.1fV%.1fH%.1f\"/>\n", x, l.top, l.end, right+6)
	s.printf("<path class=\"a\" d=\"M%.1f %.1fl7 -4v8z\"/>\n", right, l.end)
}

func (s *sheet) card(k card) {
	s.printf("<rect class=\"c\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" rx=\"4\"/>\n", margin, k.top, cardWide, k.end-k.top)
	left := margin + pad
	for i, r := range k.rows {
		if r.way == nil {
			s.text(left, k.base(i), cardWide-2*pad, r.class, r.text)
			continue
		}
		s.text(left, k.base(i), float64(labelCol)*em, r.class, r.text)
		s.target(*r.way, left+float64(labelCol+1)*em, k.base(i))
	}
}

// target is where a way leads: a step in plain letters before its line, a
// finding in a round box, another tree in a dashed one.
func (s *sheet) target(w Way, x, base float64) {
	text := w.whither()
	most := room - labelCol - 3
	if r := []rune(text); len(r) > most {
		text = string(r[:most-3]) + "..."
	}
	wide := em * float64(len([]rune(text))+1)
	switch w.Kind {
	case tree.ToFinding:
		s.printf("<rect class=\"f\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" rx=\"8\"/>\n", x, base-0.72*line, wide, line-3)
	case tree.ToTree:
		s.printf("<rect class=\"t\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\"/>\n", x, base-0.72*line, wide, line-3)
	}
	s.text(x+0.5*em, base, wide-em, "", text)
}

// broken breaks a text at spaces to so many letters a line.
func broken(text string, most int) []string {
	var out []string
	now := ""
	for _, word := range strings.Fields(text) {
		for len([]rune(word)) > most {
			r := []rune(word)
			if now != "" {
				out, now = append(out, now), ""
			}
			out, word = append(out, string(r[:most])), string(r[most:])
		}
		switch {
		case now == "":
			now = word
		case len([]rune(now))+1+len([]rune(word)) > most:
			out, now = append(out, now), word
		default:
			now += " " + word
		}
	}
	return append(out, now)
}
