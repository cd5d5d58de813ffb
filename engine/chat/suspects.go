package chat

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

// Suspects named unasked, named at most, and told the evidence of; and the bar
// of the likeliest, in cells.
const (
	suspectsFew  = 3
	suspectsMost = 12
	suspectsTold = 5
	barCells     = 12
	barScreen    = 60 // a narrower screen shows none
)

// leftNow says in a line what is left after what was just seen, and names them
// once they are few. At the end of a call the finding says more.
func (c *Chat) leftNow(x session.Explanation) []string {
	q, n := c.open(), len(x.Left)
	was, said := c.count, c.nothing
	c.count, c.nothing = n, n > 0 && n == was
	switch {
	case n == 0 && q.Ask != nil && q.Ask.Step == "retake":
		return nil // the question says it
	case n == 0 && was == 0:
		return nil // it was said
	case n == 0:
		return c.say("No single fault explains all of this.")
	case n == was && said:
		return nil // once in a run is enough
	case n == was:
		return c.say(fmt.Sprintf("Nothing more is ruled out: %s left.", counted(n, "suspect")))
	}
	out := c.say(ruledOut(x.RuledOut, n))
	if n > suspectsFew || c.ended || q.Ask == nil && q.Do == nil && q.Caution == nil {
		return out
	}
	return append(out, c.ranked(x.Left)...)
}

// ruledOut counts what is out and what is left.
func ruledOut(out, left int) string {
	if out == 0 {
		return fmt.Sprintf("Nothing is ruled out yet: %s left.", counted(left, "suspect"))
	}
	return fmt.Sprintf("%s ruled out, %d left.", counted(out, "suspect"), left)
}

// account tells of every suspect left, what speaks for the likeliest, and what
// ruled out the others.
func (c *Chat) account(x session.Explanation) []string {
	var out []string
	switch {
	case len(x.Left) == 0:
		out = c.say("No single fault explains all of this: look for a slip, something that comes and goes, or two faults at once.")
	case x.Left[0].With != house.NoFault:
		out = c.say("No single fault explains all of this. Two at once would:")
	default:
		out = c.say(ruledOut(x.RuledOut, len(x.Left)))
	}
	out = append(append(out, c.ranked(x.Left)...), c.remainder(x.Left)...)
	var lines []string
	for _, r := range x.Ruled {
		if len(r.Faults) > 0 {
			lines = append(lines, fmt.Sprintf("%s: %d, %s", c.seenIn(r.Seen), len(r.Faults), some(c.titles(r.Faults), suspectsFew, "; ")))
		}
	}
	head := "What ruled the others out"
	if len(x.Left) == 0 || x.Left[0].With != house.NoFault {
		head = "What ruled out each one alone"
	}
	return append(out, c.bullets(head, lines)...)
}

// remainder is what the suspects listed do not add up to: the readings may be
// wrong, or the fault gone while somebody looked.
func (c *Chat) remainder(list []session.Suspect) []string {
	rest := 1.0
	for _, s := range list {
		rest -= s.Probability
	}
	if len(list) == 0 || rest < 0.01 {
		return nil
	}
	lead := strings.Repeat(" ", 4+width(c.bar(1, 1))) + pad(percent(rest), 10)
	return wrap("a slip, or a fault that comes and goes", lead, c.Style.column())
}

// ranked lists suspects, most likely first, each with its bar and its percent,
// and what speaks for the likeliest.
func (c *Chat) ranked(list []session.Suspect) []string {
	var out []string
	said := map[string]string{} // of the suspect above
	for i, s := range list {
		if i == suspectsMost {
			return append(out, c.say(fmt.Sprintf("  and %d more", len(list)-i))...)
		}
		lead := "    " + c.bar(s.Probability, list[0].Probability) + pad(percent(s.Probability), 10)
		name := c.title(s.Fault)
		if s.With != house.NoFault {
			name += ", together with: " + c.title(s.With)
		}
		out = append(out, wrap(name, lead, c.Style.column())...)
		for _, e := range []struct {
			word string
			seen []session.Seen
		}{{"for it: ", s.For}, {"against it: ", s.Against}} {
			text := some(c.allSeen(e.seen), suspectsFew, "; ")
			if i < suspectsTold && text != "" {
				shown := text
				if text == said[e.word] {
					shown = "the same"
				}
				out = append(out, wrap(e.word+shown, strings.Repeat(" ", width(lead)), c.Style.column())...)
			}
			said[e.word] = text
		}
	}
	return out
}

// bar draws a probability beside the most; the number says the same.
func (c *Chat) bar(p, most float64) string {
	if c.Style.Plain || c.Style.column() < barScreen || most <= 0 {
		return ""
	}
	mark := "█"
	if c.Style.ASCII {
		mark = "#"
	}
	return pad(strings.Repeat(mark, max(1, int(p/most*barCells+0.5))), barCells+1)
}

// seenIn is one probe, what it showed and in which call.
func (c *Chat) seenIn(s session.Seen) string {
	return c.seen(s) + " (" + session.CallText(c.talk.Facts().Equipment, s.Probe.Quantity, s.Setup) + ")"
}

func (c *Chat) allSeen(list []session.Seen) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = c.seenIn(s)
	}
	return out
}

func (c *Chat) titles(faults []house.Fault) []string {
	out := make([]string, len(faults))
	for i, f := range faults {
		out[i] = c.title(f)
	}
	return out
}
