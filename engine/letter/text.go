package letter

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/paragraph"
)

// columns is how wide a line is let grow.
const columns = 80

// Form is how a card is written.
type Form uint8

// Drawn with Unicode, drawn with ASCII, or in words alone for a screen reader.
const (
	Unicode Form = iota
	ASCII
	Linear
)

// Overview is a base with every letter in a few words.
func Overview(f Form) string {
	var b strings.Builder
	b.WriteString("THE LETTERS OF A THERMOSTAT'S WALL BASE\n\n")
	p := pen(f)
	if f != Linear {
		p.rule(&b, true)
	}
	for _, l := range letters {
		if f == Linear {
			fmt.Fprintf(&b, "  %-4s %s\n", l.Terminal, l.Name)
			continue
		}
		p.row(&b, l.Terminal, false, "  "+l.Name)
	}
	if f != Linear {
		p.rule(&b, false)
	}
	b.WriteString("\n  No base has all of them. Y1 is Y, W1 is W, AUX is W2.\n")
	fill(&b, "  ! ", "B drives the reversing valve on some systems and is the common on others: read it before it lands anywhere. stepdown rewire leads there.")
	fill(&b, "  ", "A colour is a hint and no more. "+Sort)
	b.WriteString("\nOne letter in full: stepdown terminals Y\n")
	return b.String()
}

// Text is a letter's card: a base with its way out drawn, then the words.
func (l Letter) Text(f Form) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s  %s\n\n", l.Terminal, l.Name)
	if f != Linear {
		l.draw(&b, pen(f))
		b.WriteByte('\n')
	}
	line := func(head, text string) {
		if text != "" {
			fill(&b, fmt.Sprintf("  %-9s", head), text)
		}
	}
	line("does", l.Does)
	line("goes to", strings.Join(l.Goes, ", then ")+".")
	line("live", upper(l.Live)+".")
	if len(l.Marks) > 0 {
		line("also", "Marked "+strings.Join(l.Marks, ", ")+".")
	}
	line("colour", l.colour())
	line("class", "Control: 24 volts AC, 30 at the most. Line voltage lies beside it behind either cover.")
	all, some := l.Equipment()
	line("in", words(all))
	line("in some", words(some))
	for _, c := range l.Careful {
		fill(&b, "  ! ", c)
	}
	b.WriteByte('\n')
	fill(&b, "  ", Sort+" Local codes and the unit's own diagram come first.")
	return b.String()
}

// colour is the usual colours, and that they are no more than that.
func (l Letter) colour() string {
	list := Colours(l.Terminal)
	switch len(list) {
	case 0:
		return "None is usual."
	case 1:
		return upper(list[0]) + ", mostly. A hint: no published standard gives colours to letters."
	}
	return upper(list[0]) + " most often, then " + strings.Join(list[1:], ", ") + ". A hint: no published standard gives colours to letters."
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

func words(list []house.Equipment) string {
	var out []string
	for _, e := range list {
		out = append(out, e.String())
	}
	return strings.Join(out, ", ")
}

// base are the screws drawn beside a letter: one R, or Rc and Rh.
func (l Letter) base() []house.Terminal {
	var out []house.Terminal
	split := l.Terminal == house.Rc || l.Terminal == house.Rh
	for _, x := range letters {
		if t := x.Terminal; t == house.R && split || (t == house.Rc || t == house.Rh) && !split {
			continue
		}
		out = append(out, x.Terminal)
	}
	return out
}

// draw is the base with the letter's conductor going out of it.
func (l Letter) draw(b *strings.Builder, p pencil) {
	way := p.way(l.Goes)
	p.rule(b, true)
	next := -1
	for _, t := range l.base() {
		here := t == l.Terminal
		if here {
			next = 0
		}
		beside := ""
		if next >= 0 && next < len(way) {
			beside = way[next]
			next++
		}
		p.row(b, t, here, beside)
	}
	p.rule(b, false)
	for ; next >= 0 && next < len(way); next++ {
		b.WriteString(strings.Repeat(" ", p.width()) + way[next] + "\n")
	}
}

// pencil is what a drawing is made of.
type pencil struct {
	corners                           [4]string
	across, down, open, landed, leads string
}

func pen(f Form) pencil {
	if f == Unicode {
		return pencil{[4]string{"┌", "┐", "└", "┘"}, "─", "│", "○", "●", "──"}
	}
	return pencil{[4]string{"+", "+", "+", "+"}, "-", "|", "o", "@", "--"}
}

// inside is a base's width between its sides.
const inside = 10

// width is the base's width with its margin.
func (p pencil) width() int { return 2 + 1 + inside + 1 }

func (p pencil) rule(b *strings.Builder, top bool) {
	left, right := p.corners[2], p.corners[3]
	if top {
		left, right = p.corners[0], p.corners[1]
	}
	b.WriteString("  " + left + strings.Repeat(p.across, inside) + right + "\n")
}

func (p pencil) row(b *strings.Builder, t house.Terminal, landed bool, beside string) {
	screw := p.open
	if landed {
		screw = p.landed
	}
	fmt.Fprintf(b, "  %s %-4s  %s  %s%s\n", p.down, t, screw, p.down, beside)
}

// way is the conductor's hops as lines beside the base.
func (p pencil) way(hops []string) []string {
	room := columns - p.width()
	var out []string
	line := ""
	for _, h := range hops {
		add := p.leads + " " + h + " "
		if line != "" && len([]rune(line+add)) > room {
			out = append(out, strings.TrimRight(line, " "))
			line = "   "
		}
		line += add
	}
	return append(out, strings.TrimRight(line, " "))
}

// fill writes text after a lead.
func fill(b *strings.Builder, lead, text string) { b.WriteString(paragraph.Fill(text, lead, columns)) }
