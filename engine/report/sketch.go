package report

// sketch is a ladder laid out: what the page draws, in user units of an SVG
// (one is a CSS pixel where the drawing is not scaled).
type sketch struct {
	Width, Height int
	side          int // left and right of the rails
	Lines         []svgLine
	Dots          []svgDot
	Boxes         []svgBox
	Texts         []svgText
}

type svgLine struct {
	X1, Y1, X2, Y2 int
	Class          string
}

type svgDot struct {
	X, Y, R int
	Class   string
}

type svgBox struct {
	X, Y, W, H int
	Class      string
}

// svgText is at most Room wide; Anchor says whether X is its start, middle or
// end.
type svgText struct {
	X, Y, Room int
	Class      string
	Text       string
	Anchor     string
}

// The grid, in user units: an element's cell, a joint's, and the rows of a
// rung from its head on.
const (
	cellWide   = 86
	jointWide  = 52
	sideWide   = 52 // left and right of the rails, for the names of their joints, at least
	letterWide = 7  // of a joint's name, in bold
	headTall   = 18 // the rung's name
	overTall   = 36 // joint labels and the word of a mark
	underTall  = 44 // an element's name
	tagTall    = 20 // one reading
	rungGap    = 12
	symbolHalf = 9
)

func (l *ladder) sketch() *sketch {
	s := &sketch{side: sideWide}
	for _, r := range l.rungs {
		for _, j := range []joint{r.joints[0], r.joints[len(r.joints)-1]} {
			s.side = max(s.side, 8+letterWide*len(j.label()[0]))
		}
	}
	for _, r := range l.rungs {
		s.Width = max(s.Width, 2*s.side+len(r.elements)*(jointWide+cellWide))
	}
	y := 0
	ends := map[string]end{}
	for _, r := range l.rungs {
		y += headTall + overTall
		s.rung(r, y, ends)
		y += underTall + len(r.tags)*tagTall + rungGap
	}
	s.Height = y
	return s
}

func (s *sketch) jointX(i int) int   { return s.side + i*(jointWide+cellWide) }
func (s *sketch) elementX(i int) int { return s.jointX(i) + (jointWide+cellWide)/2 }

// rung draws one rung at the height of its line. A rung that ends at the
// common reaches the right side, where rungs of one common share a rail; so do
// the left ends that are one joint.
func (s *sketch) rung(r *rung, y int, ends map[string]end) {
	s.write(svgText{s.jointX(0) + 10, y - overTall - 4, s.Width - 2*s.side, "rung", r.name, "start"})
	last := len(r.joints) - 1
	at := func(i int) int {
		if i == last && !r.short {
			return s.Width - s.side
		}
		return s.jointX(i)
	}
	class := "wire"
	if r.line {
		class = "wire line"
	}
	for i := range r.joints {
		s.joint(r.joints[i], at(i), y, i == 0, i == last && !r.short)
		if i < last {
			s.Lines = append(s.Lines, svgLine{at(i), y, s.elementX(i) - symbolHalf - 3, y, class}, svgLine{s.elementX(i) + symbolHalf + 3, y, at(i + 1), y, class})
		}
	}
	for i, e := range r.elements {
		s.element(e, s.elementX(i), y, class)
	}
	s.rail("left", r.joints[0], at(0), y, ends, class)
	if !r.short {
		s.rail("right", r.joints[last], at(last), y, ends, class)
	}
	for i, t := range r.tags {
		s.tag(t, at, y+underTall+i*tagTall)
	}
}

// end is where the rung above ended on one side.
type end struct {
	joint string
	y     int
}

// rail joins a rung's end to the rung above where that ends at the same joint.
func (s *sketch) rail(side string, j joint, x, y int, ends map[string]end, class string) {
	now := end{jointWords(j), y}
	if up, ok := ends[side]; ok && up.joint == now.joint {
		s.Lines = append(s.Lines, svgLine{x, up.y, x, y, class})
	}
	ends[side] = now
}

func (s *sketch) text(x, y, room int, class, text string) {
	s.write(svgText{x, y, room, class, text, "middle"})
}

func (s *sketch) write(t svgText) {
	if t.Text != "" {
		s.Texts = append(s.Texts, t)
	}
}

// joint draws a point with its screw's name above, or beside it on a rail.
func (s *sketch) joint(j joint, x, y int, leftmost, rightmost bool) {
	s.Dots = append(s.Dots, svgDot{x, y, 3, "joint"})
	l := j.label()
	switch {
	case leftmost:
		s.write(svgText{x - 8, y, s.side - 8, "screw", l[0], "end"})
		s.write(svgText{x - 8, y + 11, s.side - 8, "place", l[1], "end"})
	case rightmost:
		s.write(svgText{x + 8, y, s.side - 8, "screw", l[0], "start"})
		s.write(svgText{x + 8, y + 11, s.side - 8, "place", l[1], "start"})
	default:
		s.text(x, y-18, jointWide+14, "screw", l[0])
		s.text(x, y-7, jointWide, "place", l[1])
	}
}

func (s *sketch) element(e element, x, y int, class string) {
	s.symbol(e.shape, x, y, class)
	s.text(x, y+22, cellWide, "name", e.text[0])
	s.text(x, y+33, cellWide, "name", e.text[1])
	if e.mark == unmarked {
		return
	}
	box := "mark " + map[mark]string{possible: "possible", failed: "failed"}[e.mark]
	s.Boxes = append(s.Boxes, svgBox{x - cellWide/2 + 1, y - overTall + 5, cellWide - 2, overTall + underTall - 8, box})
	s.text(x, y-17, cellWide-6, "verdict", e.mark.word())
	if e.mark == failed {
		s.Lines = append(s.Lines, svgLine{x - 11, y - 11, x + 11, y + 11, "cross"}, svgLine{x - 11, y + 11, x + 11, y - 11, "cross"})
	} else {
		s.text(x+20, y-4, 12, "verdict", "?")
	}
}

func (s *sketch) symbol(k shape, x, y int, class string) {
	h := symbolHalf
	line := func(x1, y1, x2, y2 int) {
		s.Lines = append(s.Lines, svgLine{x1, y1, x2, y2, class})
	}
	across := func() { line(x-h-3, y, x+h+3, y) }
	switch k {
	case wireShape:
		across()
	case switchShape: // closed: a blade from one contact to the other
		line(x-h-3, y, x-h, y)
		line(x-h, y, x+h, y-5)
		line(x+h, y-6, x+h, y)
		line(x+h, y, x+h+3, y)
	case contactShape: // two plates
		line(x-h-3, y, x-4, y)
		line(x-4, y-h, x-4, y+h)
		line(x+4, y-h, x+4, y+h)
		line(x+4, y, x+h+3, y)
	case loadShape:
		line(x-h-3, y, x-h, y)
		line(x+h, y, x+h+3, y)
		s.Dots = append(s.Dots, svgDot{x, y, h, "load"})
	case fuseShape:
		across()
		s.Boxes = append(s.Boxes, svgBox{x - h, y - 5, 2 * h, 10, "fuse"})
	case sourceShape: // two windings
		line(x-h-3, y, x-h, y)
		line(x+h, y, x+h+3, y)
		s.Dots = append(s.Dots, svgDot{x - 4, y, 6, "load"}, svgDot{x + 4, y, 6, "load"})
	}
}

// tag draws a reading under its rung: a line from lead to lead with the value
// on it, a square foot under the red lead, a round one under the black.
func (s *sketch) tag(t tag, at func(int) int, y int) {
	red, black := t.red, t.black
	if red < 0 || black < 0 {
		x := at(max(red, black))
		s.foot(x, y, red >= 0)
		room := 3 * jointWide
		s.text(min(max(x, room/2), s.Width-room/2), y+13, room, "reading", t.text)
		return
	}
	s.Lines = append(s.Lines, svgLine{at(red), y, at(black), y, "lead"})
	s.foot(at(red), y, true)
	s.foot(at(black), y, false)
	s.text((at(red)+at(black))/2, y+12, jointWide+cellWide-8, "reading", t.text)
}

func (s *sketch) foot(x, y int, red bool) {
	if red {
		s.Boxes = append(s.Boxes, svgBox{x - 4, y - 4, 8, 8, "red"})
		return
	}
	s.Dots = append(s.Dots, svgDot{x, y, 4, "black"})
}
