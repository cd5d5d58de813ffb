package prove

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/tree"
)

// course is how one caller's call goes, and everything that may go wrong in it
// once: the same in every house that answers alike what it hangs on.
type course struct {
	calls int      // of all kinds
	main  passed   // the call as asked
	aside []passed // where something is unable; and wrong readings, as far as they matter
	seen  []glance // on the main way
}

// passed is an ending that may have to be judged, and how many calls end so.
type passed struct {
	*ending
	times int32
	// What was seen, where that decides: that of the main way up to since, then
	// the rest.
	since int32
	seen  []glance
}

// glance is one probe made in a call.
type glance struct {
	goal   goalID
	feed   int16 // the number among the book's odd goals, from 1; 0 for others
	rested bool  // after five minutes were counted
}

// odd reports whether it was made in a state of the house that no forecast is
// of.
func (g glance) odd() bool { return g.feed > 0 }

// hinge is what a course hangs on: what a probe shows, as far as a name of a
// tree and the planner can tell.
type hinge struct {
	name *tree.Name
	glance
}

// turn is a hinge and what the house answered.
type turn struct {
	hinge
	answer int
}

// courses keeps the courses of calls by what the house answered on the way, so
// that a call is walked once for all houses that answer alike. It serves one
// worker.
type courses struct {
	starts  map[start]*fork
	count   int
	marks   map[*tree.Name][]float64
	endings map[ending]*ending
	turns   []turn // of the call walked last, whose number is walk
	walk    uint32
	noted   [][]noted // by goal
}

// noted is a hinge met in some walk, the last of them by number.
type noted struct {
	hinge
	walk uint32
}

// start is what a course depends on beside the house.
type start struct {
	tree         *tree.Tree
	who          house.Audience
	truth, known int32
	slip         SlipKind
	delay        bool // it is the fault, and runs out once its minutes are counted
}

// fork is a run of turns, then ways that part at the same hinge, or the end.
type fork struct {
	run    []turn
	ways   []*fork
	course *course
}

// coursesMost bounds how many courses are kept; past it all start anew.
const coursesMost = 1 << 16

func newCourses() *courses {
	return &courses{starts: map[start]*fork{}, marks: map[*tree.Name][]float64{}, endings: map[ending]*ending{}}
}

// of is the course of a call in the house as it is; walked only where no house
// before has answered alike.
func (c *courses) of(w *walker, t *tree.Tree, known house.Facts, slip SlipKind, condemns func(house.Finding) bool) (*course, error) {
	key := start{t, w.who, w.factsID(w.truth), w.factsID(known), slip, w.values.fault == house.DelayRunning}
	if got := c.find(w, c.starts[key], slip); got != nil {
		return got, nil
	}
	r := &recorder{course: &course{}, w: w, courses: c, condemns: condemns}
	c.walk++
	c.turns = c.turns[:0]
	w.ends, w.hinges = r.end, c.hinge
	w.call(t, known, slip)
	for i := range c.turns {
		c.turns[i].answer = c.answer(w, c.turns[i].hinge, slip)
	}
	if c.count++; c.count > coursesMost {
		c.starts, c.endings, c.count = map[start]*fork{}, map[ending]*ending{}, 1
	}
	leaf := &fork{run: slices.Clone(c.turns), course: r.course}
	if c.starts[key] == nil {
		c.starts[key] = leaf
		return r.course, nil
	}
	return r.course, c.starts[key].grow(leaf)
}

// find goes from a fork as the house answers; nil where no course is known.
func (c *courses) find(w *walker, f *fork, slip SlipKind) *course {
	made := 0 // turns of the run taken already
	for f != nil {
		for _, t := range f.run[made:] {
			if c.answer(w, t.hinge, slip) != t.answer {
				return nil
			}
		}
		if f.course != nil {
			return f.course
		}
		f, made = f.way(c.answer(w, f.ways[0].run[0].hinge, slip)), 1
	}
	return nil
}

// hinge notes what the call being walked hangs on, once.
func (c *courses) hinge(h hinge) {
	for int(h.goal) >= len(c.noted) {
		c.noted = append(c.noted, nil)
	}
	list := c.noted[h.goal]
	i := slices.IndexFunc(list, func(n noted) bool { return n.hinge == h })
	switch {
	case i < 0:
		c.noted[h.goal] = append(list, noted{h, c.walk})
	case list[i].walk == c.walk:
		return
	default:
		list[i].walk = c.walk
	}
	c.turns = append(c.turns, turn{hinge: h})
}

// way is the way on for an answer, nil where there is none.
func (f *fork) way(answer int) *fork {
	for _, o := range f.ways {
		if o.run[0].answer == answer {
			return o
		}
	}
	return nil
}

// grow adds a leaf whose run is all its turns from here on.
func (f *fork) grow(leaf *fork) error {
	for {
		same := 0
		for same < len(f.run) && same < len(leaf.run) && f.run[same] == leaf.run[same] {
			same++
		}
		leaf.run = leaf.run[same:]
		if len(leaf.run) == 0 {
			return errors.New("two calls of one start answer alike and end apart")
		}
		if same < len(f.run) {
			*f = fork{run: f.run[:same], ways: []*fork{{f.run[same:], f.ways, f.course}}}
		}
		if f.course != nil || f.ways[0].run[0].hinge != leaf.run[0].hinge {
			return fmt.Errorf("two calls of one start that answered alike go on otherwise, at %s", leaf.run[0].name.Step)
		}
		next := f.way(leaf.run[0].answer)
		if next == nil {
			f.ways = append(f.ways, leaf)
			return nil
		}
		f = next
	}
}

// answer numbers what the house shows at a hinge: 0 where the probe cannot be
// made, then OL and the parts of a range, the constants between them parts of
// their own; the answers of a look.
func (c *courses) answer(w *walker, h hinge, slip SlipKind) int {
	x := w.values.at(h.goal, w.goals.of(h.glance), slip, h.rested)
	switch {
	case x.unable:
		return 0
	case h.name.IsLook():
		return 1 + int(x.answer)
	case x.reading.OL:
		return 1
	}
	way := 2
	for _, mark := range c.marksOf(w, h.name) {
		switch {
		case x.reading.Value > mark:
			way += 2
		case x.reading.Value == mark:
			return way + 1
		default:
			return way
		}
	}
	return way
}

// marksOf are the readings of a name at which anything changes, ascending.
func (c *courses) marksOf(w *walker, n *tree.Name) []float64 {
	out, ok := c.marks[n]
	if !ok {
		out = w.cutsOf(n)
		for _, x := range planner.Marks(n.Step.Probes()[n.Pair]) {
			out = insert(out, x)
		}
		c.marks[n] = out
	}
	return out
}

// recorder writes down the course of a call while it is walked.
type recorder struct {
	course   *course
	w        *walker
	courses  *courses
	condemns func(house.Finding) bool
}

// end keeps an ending that a house may have to be judged by. A wrong reading
// matters where the call blames a thermostat, or a limit near the true reading
// parts it from an end at some part.
func (r *recorder) end(e *ending) {
	c := r.course
	c.calls++
	switch e.side.kind {
	case SlipUnable:
		p := r.passed(e)
		if e.finding == house.Undecided {
			p.since = int32(e.side.seen)
			p.seen = glances(r.w.seen[p.since:])
		}
		c.aside = append(c.aside, p)
	case SlipWrong:
		limit := !math.IsInf(e.side.cut, 0) && e.side.step.Kind == tree.MeasureStep && e.finding != house.Undecided
		if limit || r.condemns(e.finding) {
			r.wrong(e)
		}
	case NoSlip:
		c.seen = glances(r.w.seen)
		c.main = r.passed(e)
	default:
		c.main = r.passed(e)
	}
}

// wrong adds an ending after a wrong reading, alike ones once.
func (r *recorder) wrong(e *ending) {
	c := r.course
	alike := func(o passed) bool {
		return o.finding == e.finding && o.pos == e.pos && o.rested == e.rested && o.side.kind == SlipWrong &&
			o.side.step == e.side.step && o.side.nth == e.side.nth && o.side.pair == e.side.pair && o.side.cut == e.side.cut
	}
	if i := slices.IndexFunc(c.aside, alike); i >= 0 {
		c.aside[i].times++
		return
	}
	c.aside = append(c.aside, r.passed(e))
}

// passed is an ending met once; equal endings are kept once for all courses.
func (r *recorder) passed(e *ending) passed {
	kept := r.courses.endings[*e]
	if kept == nil {
		kept = e
		r.courses.endings[*e] = e
	}
	return passed{ending: kept, times: 1}
}

func glances(seen []seen) []glance {
	if len(seen) == 0 {
		return nil
	}
	out := make([]glance, len(seen))
	for i := range seen {
		out[i] = seen[i].glance
	}
	return out
}
