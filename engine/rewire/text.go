package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/planner"
)

// Text is the report for a screen of 80 columns.
func (r Report) Text() string {
	var b strings.Builder
	switch r.State {
	case Asks:
		r.askText(&b)
	case Answer:
		r.answerText(&b)
	default:
		title := "NO LANDING ON THIS BASE"
		if r.State == Undecided {
			title = "NOT KNOWN YET: LAND NOTHING"
		}
		fmt.Fprintln(&b, title)
		bullets(&b, r.Why)
		r.commonText(&b)
	}
	return b.String()
}

func (r Report) askText(b *strings.Builder) {
	q := r.Question
	fmt.Fprintf(b, "ONE QUESTION FIRST: LAND NOTHING YET\n")
	fill(b, "  ", q.Why)
	if steps, _ := q.Steps(r.Case.Audience, r.Case.Facts()); len(steps) > 0 {
		fmt.Fprintln(b, "\nTo get there:")
		for i, s := range steps {
			fill(b, fmt.Sprintf("  %2d. ", i+1), stepText(s))
		}
	}
	fmt.Fprintln(b)
	fill(b, "  ", q.Text)
	for _, a := range q.Answers {
		fill(b, "    ", a[0]+": "+a[1])
	}
	for _, m := range q.Means {
		fill(b, "    ", m)
	}
}

// stepText is a planner's action as one line.
func stepText(a planner.Action) string {
	switch a.Kind {
	case planner.Caution:
		return "Caution: " + a.Caution + ". Read it before you go on."
	case planner.Look:
		return a.Look.Question()
	}
	return a.Text
}

func (r Report) answerText(b *strings.Builder) {
	fmt.Fprintln(b, "WHERE EACH WIRE GOES")
	var ids []string
	for _, e := range r.Equipment {
		ids = append(ids, e.Title())
	}
	fill(b, "for: ", strings.Join(ids, "; or "))
	fmt.Fprintln(b)
	r.draw(b)
	fmt.Fprintf(b, "\n  %-12s %-9s %-10s %s\n", "wire", "goes to", "how sure", "why")
	for _, p := range r.Landing {
		lead := fmt.Sprintf("  %-12s %-9s %-10s ", p.Conductor.Name, r.to(p), p.Confidence)
		fill(b, lead, p.Reason)
	}
	r.jumperText(b)
	fmt.Fprintln(b, "\nSet the new thermostat:")
	for _, s := range r.Settings {
		fill(b, "  ", s.ID+": "+s.Value+" ("+s.Why+")")
	}
	fill(b, "  ", "fed by: "+feeds[r.Plan.Power])
	bullets(b, r.Lost)
	r.commonText(b)
	for _, p := range r.Proofs {
		fmt.Fprintln(b)
		p.text(b, r.Case.New)
	}
	fmt.Fprintln(b)
	fill(b, "", "Power off and locked out, base proven dead, before a wire is touched. Local codes and licensed practice come first.")
}

var feeds = map[Power]string{PowerCommon: "the common", PowerBattery: "batteries",
	PowerThroughLoad: "a little current through a load"}

func (r Report) to(p Placement) string {
	if p.To == house.NoTerminal {
		return "cap it"
	}
	return r.Case.New.Word(p.To)
}

func (r Report) jumperText(b *strings.Builder) {
	fmt.Fprintln(b, "\nJumpers on the new base:")
	base := r.Case.New
	say := func(a, c house.Terminal, no string) {
		if !base.Letters.Has(a) || !base.Letters.Has(c) {
			return
		}
		if joined(r.Plan.Joined, a, c) {
			fmt.Fprintf(b, "  %s-%s: join them\n", base.Word(a), base.Word(c))
			return
		}
		fill(b, "  ", fmt.Sprintf("%s-%s: leave them apart (%s)", base.Word(a), base.Word(c), no))
	}
	n := b.Len()
	say(house.Rc, house.Rh, "two transformers")
	say(house.R, house.Rc, "two transformers")
	say(house.R, house.Rh, "two transformers")
	say(house.W2, house.E, "nothing is on them")
	if !base.Letters.Has(house.W2) {
		say(house.W, house.E, "nothing is on them")
	}
	if b.Len() == n {
		fmt.Fprintln(b, "  none")
	}
}

func (r Report) commonText(b *strings.Builder) {
	if len(r.Common) == 0 {
		return
	}
	fmt.Fprintln(b, "\nThere is no common. What can be done:")
	for _, o := range r.Common {
		mark := "proven in the model"
		if !o.Proven {
			mark = "does not fit here"
		}
		fill(b, "  - ", o.Text+" "+o.Means+" ("+mark+")")
	}
}

// text is the proof: a line a call, a column a load.
func (p Proof) text(b *strings.Builder, base Base) {
	fmt.Fprintf(b, "Tried in the model, %s (an invented house at the centre of every range):\n", p.Equipment)
	loads := p.loads()
	fmt.Fprintf(b, "  %-15s %-14s", "call", "live screws")
	for _, l := range loads {
		fmt.Fprintf(b, " %-9s", short[l])
	}
	fmt.Fprintf(b, " %s\n", "VA of")
	for _, c := range p.Calls {
		var live []string
		for _, t := range c.Live.List() {
			live = append(live, base.Word(t))
		}
		fmt.Fprintf(b, "  %-15s %-14s", c.Title, strings.Join(live, " "))
		for _, l := range loads {
			fmt.Fprintf(b, " %-9s", c.cell(l))
		}
		for _, s := range c.Sources {
			fmt.Fprintf(b, " %.0f/%.0f", s.VA, s.Rating)
		}
		fmt.Fprintln(b)
	}
	fmt.Fprintln(b, "  in 23.1 = pulls in with 23.1 V AC, all coils at inrush; each needs its pick-up:")
	var needs []string
	for _, l := range loads {
		for _, coil := range p.Calls[0].Coils {
			if coil.Part == l {
				needs = append(needs, fmt.Sprintf("%s %.1f", short[l], coil.PickUp))
			}
		}
	}
	fill(b, "  ", strings.Join(needs, ", "))
}

// short are the loads as column heads.
var short = map[string]string{"contactor": "outdoor", "stage2": "stage 2", "reversing-valve": "valve",
	"fan-relay": "fan", "fan-input": "fan", "burner-control": "furnace", "gas-valve": "gas", "sequencer": "strips"}

func (p Proof) loads() []string {
	var out []string
	for _, c := range p.Calls {
		for _, coil := range c.Coils {
			if !slices.Contains(out, coil.Part) {
				out = append(out, coil.Part)
			}
		}
	}
	return out
}

func (c Call) cell(part string) string {
	for _, coil := range c.Coils {
		if coil.Part == part && slices.Contains(c.In, part) {
			return fmt.Sprintf("in %.1f", coil.Pulling)
		}
	}
	if slices.Contains(c.Wanted, part) {
		return "MISSING"
	}
	return "-"
}

// Text is the check for a screen of 80 columns.
func (k Checked) Text() string {
	var b strings.Builder
	switch {
	case k.State == Blocked:
		return k.Report.Text()
	case k.Good:
		fmt.Fprintln(&b, "THIS LANDING IS RIGHT")
	case k.State == Answer:
		fmt.Fprintln(&b, "THIS LANDING IS WRONG")
		bullets(&b, k.Wrong)
		if !slices.ContainsFunc(k.Effects, func(p Proof) bool { return !p.Good() }) {
			bullets(&b, []string{"No call tried here shows it. Mend it all the same: the next one may."})
		}
	default:
		fmt.Fprintln(&b, "NOT KNOWN YET: LEAVE THE POWER OFF")
		bullets(&b, k.Why)
	}
	for i, p := range k.Effects {
		fmt.Fprintln(&b)
		if len(k.Effects) > 1 {
			fmt.Fprintf(&b, "It may be so (%d): ", i+1)
		}
		p.effects(&b)
	}
	if len(k.Blown) > 0 {
		fmt.Fprintln(&b, "\nIf it was powered like this, it may have blown:")
		bullets(&b, k.Blown)
	}
	if k.Question != nil {
		fmt.Fprintln(&b)
		k.askText(&b)
	}
	return b.String()
}

// effects tells each call in a line.
func (p Proof) effects(b *strings.Builder) {
	fmt.Fprintf(b, "In each mode, %s:\n", p.Equipment)
	for _, c := range p.Calls {
		runs := "nothing runs"
		if in := titles(c.In); in != "" {
			runs = in
		}
		line := fmt.Sprintf("%s: %s", c.Title, runs)
		if len(c.Wrong) == 0 {
			line += ". Right"
		} else {
			line += ". WRONG: " + strings.Join(c.Wrong, "; ")
		}
		fill(b, "  ", line+".")
	}
}

func bullets(b *strings.Builder, lines []string) {
	for _, l := range lines {
		fill(b, "  - ", l)
	}
}

// columns is how wide a line is let grow.
const columns = 80

// fill writes text after a lead, broken at spaces; what follows is indented as
// far as the lead.
func fill(b *strings.Builder, lead, text string) {
	at := len([]rune(lead))
	b.WriteString(lead)
	col := at
	for i, w := range strings.Fields(text) {
		n := len([]rune(w))
		switch {
		case i > 0 && col+1+n > columns:
			b.WriteString("\n" + strings.Repeat(" ", at) + w)
			col = at + n
			continue
		case i > 0:
			b.WriteByte(' ')
			col++
		}
		b.WriteString(w)
		col += n
	}
	b.WriteByte('\n')
}

// draw puts both bases side by side, each screw with what is under it.
func (r Report) draw(b *strings.Builder) {
	old, now := r.oldRows(), r.newRows()
	const wide = 26
	rule := "  +" + strings.Repeat("-", wide) + "+"
	fmt.Fprintf(b, "   %-*s      %s\n%s   %s\n", wide, "old base", "new base", rule, rule)
	for i := range max(len(old), len(now)) {
		left, right := "", ""
		if i < len(old) {
			left = old[i]
		}
		if i < len(now) {
			right = now[i]
		}
		fmt.Fprintf(b, "  |%s|     |%s|\n", padded(left, wide), padded(right, wide))
	}
	fmt.Fprintf(b, "%s   %s\n", rule, rule)
	var capped []string
	for _, p := range r.Landing {
		if p.To == house.NoTerminal {
			capped = append(capped, p.Conductor.Name)
		}
	}
	if len(capped) > 0 {
		fill(b, "   capped: ", strings.Join(capped, ", "))
	}
}

func padded(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-3]) + "..."
	} else {
		return s + strings.Repeat(" ", n-len(r))
	}
}

// screwRow is one screw with the conductors under it.
func screwRow(mark string, under []string) string {
	return strings.TrimRight(fmt.Sprintf(" %-5s o  %s", mark, strings.Join(under, " + ")), " ")
}

func (r Report) oldRows() []string {
	var out []string
	add := func(mark string) {
		var under []string
		for _, w := range r.Case.Conductors {
			if w.Old.String() == mark {
				under = append(under, w.Name)
			}
		}
		if len(under) > 0 {
			out = append(out, screwRow(mark, under))
		}
	}
	for _, t := range append(house.Letters(^uint16(0)).List(), house.NoTerminal) {
		if t == house.O {
			add("O/B")
		}
		if t != house.NoTerminal {
			add(t.String())
		}
	}
	add("other")
	return out
}

func (r Report) newRows() []string {
	var out []string
	base := r.Case.New
	for _, t := range base.Letters.List() {
		var under []string
		for _, p := range r.Landing {
			if p.To == t {
				under = append(under, p.Conductor.Name)
			}
		}
		var to []string
		for _, j := range r.Plan.Joined {
			if j[0] == t {
				to = append(to, base.Word(j[1]))
			}
		}
		row := screwRow(base.Word(t), under)
		if len(to) > 0 {
			row += "  (joined to " + strings.Join(to, ", ") + ")"
		}
		out = append(out, row)
	}
	return out
}
