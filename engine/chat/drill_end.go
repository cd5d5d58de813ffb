package chat

import (
	"fmt"
	"strings"

	"stepdown/engine/drill"
	"stepdown/engine/house"
	"stepdown/engine/paragraph"
	"stepdown/engine/quantity"
)

// Score is what the drill came to; false before a fault was named, or without
// a coach.
func (d *Drill) Score() (drill.Score, bool) { return d.score, d.scored }

// hint names the probe best made next, and what it tells apart.
func (d *Drill) hint() []string {
	coach := d.game.Coach()
	if coach == nil {
		return d.say("There is no coach in this drill.")
	}
	next, ok, err := coach.Hint(d.game)
	switch {
	case err != nil:
		return d.problem(err)
	case !ok:
		return d.say("No probe tells apart what is left: name the fault.")
	}
	text := "Best next: " + next.Goal.Probe.String()
	if differs := differences(d.game.Setup(), next.Goal.Setup); differs != "" {
		text += ", with " + differs
	}
	if next.Rested {
		text += ", after wait"
	}
	out := d.say(text + ".")
	if n := len(next.Splits); n > 1 {
		out = append(out, d.say(fmt.Sprintf("It parts what is left into %d groups.", n))...)
	}
	return append(out, d.say(fmt.Sprintf("Hints so far: %d.", d.game.Hints()))...)
}

// differences are the keys in which a wanted setup is not as the house stands.
func differences(from, to house.Setup) string {
	var out []string
	for _, k := range house.Keys() {
		was, wanted := strings.Join(from.Words(k), ","), strings.Join(to.Words(k), ",")
		if was != wanted && !(k == house.KeyJumperAt && to.Jumper == 0) {
			if wanted == "" {
				wanted = "none"
			}
			out = append(out, k.String()+"="+wanted)
		}
	}
	return strings.Join(out, " ")
}

// wait lets a counted five minutes pass.
func (d *Drill) wait() []string {
	if err := d.game.Wait(); err != nil {
		return d.problem(err)
	}
	return d.say("Five minutes have passed.")
}

// marked gives the path taken beside the best one, and the score's sum.
func (d *Drill) marked(v drill.Verdict) []string {
	coach := d.game.Coach()
	if coach == nil {
		return nil
	}
	score, taken, best, err := coach.Mark(d.game, v)
	if err != nil {
		return d.problem(err)
	}
	d.score, d.scored = score, true
	out := d.beside(d.path("Path taken", taken), d.path("Best path", best))
	out = append(out, d.say("Score")...)
	for _, l := range d.score.Sum() {
		out = append(out, wrap(l.Text, fmt.Sprintf("  %6d  ", l.Points), d.style.column())...)
	}
	return append(out, fmt.Sprintf("  = %4d", d.score.Total))
}

// path is a path as lines: its head, then each probe with what it showed.
func (d *Drill) path(head string, p drill.Path) []string {
	out := []string{fmt.Sprintf("%s: %s, %.1f min", head, counted(len(p.Steps), "probe"), p.Minutes)}
	was, rested := house.Setup{}, false
	for i, s := range p.Steps {
		line := fmt.Sprintf("%d. %s: %s", i+1, s.Goal.Probe, d.showed(s))
		if changed := differences(was, s.Goal.Setup); i > 0 && changed != "" {
			line += " (" + changed + ")"
		}
		if s.Rested && !rested {
			line += " (after wait)"
		}
		out, was, rested = append(out, line), s.Goal.Setup, s.Rested
	}
	return out
}

func (d *Drill) showed(s drill.Step) string {
	p := s.Goal.Probe
	switch {
	case p.IsLook():
		return p.Look.AnswerID(s.Answer)
	case d.style.ASCII:
		return quantity.FormatASCII(s.Reading, p.Quantity)
	}
	return quantity.Format(s.Reading, p.Quantity)
}

// besideLeast is the width from which two lists stand side by side.
const besideLeast = 76

// beside sets two lists beside each other, or one after the other on a narrow
// or a linear screen.
func (d *Drill) beside(left, right []string) []string {
	if d.style.Plain || d.style.column() < besideLeast {
		return append(d.say(left...), d.say(right...)...)
	}
	room := (d.style.column() - 6) / 2
	a, b := narrow(left, room), narrow(right, room)
	var out []string
	for i := range max(len(a), len(b)) {
		l, r := "", ""
		if i < len(a) {
			l = a[i]
		}
		if i < len(b) {
			r = b[i]
		}
		out = append(out, strings.TrimRight("  "+pad(l, room)+"  "+r, " "))
	}
	return out
}

// narrow wraps each line to a column's room.
func narrow(lines []string, room int) []string {
	var out []string
	for i, l := range lines {
		lead := ""
		if i > 0 {
			lead = strings.Repeat(" ", strings.Index(l, " ")+1)
		}
		for k, part := range paragraph.Lines(l, "", "", room-len(lead)) {
			if k > 0 {
				part = lead + part
			}
			out = append(out, part)
		}
	}
	return out
}
