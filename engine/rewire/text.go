package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/paragraph"
	"stepdown/engine/planner"
)

// Text is the report for a screen of 80 columns, both bases drawn.
func (r Report) Text() string { return r.text(true) }

// Linear is the report without the drawing, for a screen reader or a log.
func (r Report) Linear() string { return r.text(false) }

func (r Report) text(drawn bool) string {
	var b strings.Builder
	switch r.State {
	case Asks:
		fmt.Fprintln(&b, "ONE QUESTION FIRST: LAND NOTHING YET")
		r.askText(&b)
		fmt.Fprintln(&b)
		fill(&b, "", "Put the answer into the file; or stepdown rewire, without a file, leads there a step at a time.")
	case Answer:
		r.answerText(&b, drawn)
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

func (r Report) answerText(b *strings.Builder, drawn bool) {
	fmt.Fprintln(b, "WHERE EACH WIRE GOES")
	var ids []string
	for _, e := range r.Equipment {
		ids = append(ids, e.Title())
	}
	fill(b, "for: ", strings.Join(ids, "; or "))
	fmt.Fprintln(b)
	if drawn {
		r.draw(b)
		fmt.Fprintln(b)
	}
	fmt.Fprintf(b, "  %-12s %-9s %-10s %s\n", "wire", "goes to", "how sure", "why")
	for _, p := range r.Landing {
		lead := fmt.Sprintf("  %-12s %-9s %-10s ", p.Conductor.Name, r.to(p), p.Confidence)
		fill(b, lead, p.Reason)
	}
	r.jumperText(b)
	fmt.Fprintln(b, "\nSet the new thermostat:")
	r.settingText(b)
	fill(b, "  ", "fed by: "+feeds[r.Plan.Power])
	bullets(b, r.Lost)
	r.commonText(b)
	for _, p := range r.Proofs {
		fmt.Fprintln(b)
		p.text(b, r.Case.New)
	}
	r.edgeText(b)
	fmt.Fprintln(b)
	first := "Power off and locked out, base proven dead, before a wire is touched."
	if r.Case.Audience != house.Tech {
		first = "The breaker of the indoor unit is off before a wire is touched, and the thermostat is dark."
	}
	fill(b, "", first+" Local codes and licensed practice come first.")
}

func (r Report) settingText(b *strings.Builder) {
	for _, s := range r.Settings {
		fill(b, "  ", s.ID+": "+s.Value+" ("+s.Why+")")
	}
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
	fill(b, "", fmt.Sprintf("Every call tried in the model, %s, an invented house at the centre of every range:", p.Equipment))
	loads := p.loads()
	fmt.Fprintf(b, "  %-15s", "call")
	for _, l := range loads {
		fmt.Fprintf(b, "%-9s", short[l])
	}
	fmt.Fprintln(b, "VA of")
	var live, needs []string
	for _, c := range p.Calls {
		fmt.Fprintf(b, "  %-15s", c.Title)
		for _, l := range loads {
			fmt.Fprintf(b, "%-9s", c.cell(l))
		}
		var sources []string
		for _, s := range c.Sources {
			sources = append(sources, fmt.Sprintf("%.0f/%.0f", s.VA, s.Rating))
		}
		fmt.Fprintln(b, strings.Join(sources, " "))
		if c.Live != 0 {
			live = append(live, c.Title+": "+screwWords(base, c.Live))
		}
	}
	for _, l := range loads {
		for _, coil := range p.Calls[0].Coils {
			if coil.Part == l {
				needs = append(needs, fmt.Sprintf("%s %.1f", short[l], coil.PickUp))
			}
		}
	}
	fill(b, "  ", "in: it pulls in. The number is its volts AC while every coil draws its inrush; it needs: "+strings.Join(needs, ", ")+".")
	fill(b, "  ", "Live screws: "+strings.Join(live, "; ")+".")
}

// edgeText tells of the houses at the ends of the ranges.
func (r Report) edgeText(b *strings.Builder) {
	var houses []string
	for _, e := range r.Edges {
		if !slices.Contains(houses, e.House) {
			houses = append(houses, e.House)
		}
	}
	if len(houses) == 0 {
		return
	}
	fmt.Fprintln(b)
	fill(b, "", fmt.Sprintf("Tried too in %d invented houses at the ends of the ranges: no wrong load comes on, nothing shorts.", len(houses)))
	fill(b, "  ", strings.Join(houses, "; ")+".")
	if len(r.Tight) > 0 {
		lead := "Tight in some of them. In a house that may be so, read these on that call:"
		if r.Case.Audience != house.Tech {
			lead = "Tight in some of them. Where something chatters or does not start, turn it off and have a technician read:"
		}
		fill(b, "", lead)
		bullets(b, r.Tight)
	}
}

func screwWords(base Base, set house.Letters) string {
	var out []string
	for _, t := range set.List() {
		out = append(out, base.Word(t))
	}
	return strings.Join(out, " ")
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

func bullets(b *strings.Builder, lines []string) {
	for _, l := range lines {
		fill(b, "  - ", l)
	}
}

// columns is how wide a line is let grow.
const columns = 80

// fill writes text after a lead.
func fill(b *strings.Builder, lead, text string) { b.WriteString(paragraph.Fill(text, lead, columns)) }
