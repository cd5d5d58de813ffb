package chat

import (
	"github.com/fatih/color"
)

// Style is how one stream is written to; the caller looks at the stream.
type Style struct {
	Width   func() int // of the screen, in cells; 80 where nil or not positive
	ASCII   bool       // the screen shows no Unicode
	Plain   bool       // linear text: no drawing, no redraw, no blank lines
	Color   bool
	Prompts bool // a person sees the prompts
}

// Widths in cells: what an unknown screen is taken for, the least a line is
// wrapped to, and the most, since a longer line is hard to read.
const (
	widthDefault = 80
	widthMin     = 24
	widthMax     = 96
)

func (s Style) width() int {
	w := 0
	if s.Width != nil {
		w = s.Width()
	}
	if w <= 0 {
		w = widthDefault
	}
	return max(w, widthMin)
}

// column is the width text is wrapped to.
func (s Style) column() int { return min(s.width(), widthMax) }

// paint colours words. A word or a mark beside each colour carries the meaning.
type paint struct {
	head, warn, good, bad, faint, redLead, blackLead func(...any) string
}

func (s Style) paint() paint {
	of := func(as ...color.Attribute) func(...any) string {
		c := color.New(as...)
		if s.Color {
			c.EnableColor()
		} else {
			c.DisableColor()
		}
		return c.Sprint
	}
	return paint{
		head:    of(color.Bold),
		warn:    of(color.FgYellow, color.Bold),
		good:    of(color.FgGreen, color.Bold),
		bad:     of(color.FgRed, color.Bold),
		faint:   of(color.Faint),
		redLead: of(color.FgRed),
		// Black on a dark screen cannot be seen.
		blackLead: of(color.Bold),
	}
}

// marks are the few signs beyond ASCII, with what stands for them.
type marks struct {
	bullet, caution, dash, screw, left, vertical, horizontal      string
	topLeft, topRight, bottomLeft, bottomRight, filled, continued string
}

func (s Style) marks() marks {
	if s.ASCII {
		return marks{bullet: "-", caution: "!", dash: "-", screw: "o", left: "<--", vertical: "|", horizontal: "-",
			topLeft: "+", topRight: "+", bottomLeft: "+", bottomRight: "+", filled: "@", continued: "..."}
	}
	return marks{bullet: "•", caution: "▲", dash: "–", screw: "○", left: "◄─", vertical: "│", horizontal: "─",
		topLeft: "┌", topRight: "┐", bottomLeft: "└", bottomRight: "┘", filled: "●", continued: "…"}
}
