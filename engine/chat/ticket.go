package chat

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/paragraph"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// ticketLines is a whole screen of text, less the row of the prompt.
const ticketLines = 23

// ticket is what a dispatcher sends: urgency, hazards, what it may be, parts
// and skills, on one screen. Where it is too long the least urgent text is
// shortened, and that is said.
func (c *Chat) ticket(f *session.FindingEffect) []string {
	for most := 5; ; most-- {
		out := c.ticketOf(f, most)
		if len(out) <= ticketLines || most == 1 {
			return out[:min(len(out), ticketLines)]
		}
	}
}

// ticketOf writes the ticket with at most so many lines a field.
func (c *Chat) ticketOf(f *session.FindingEffect, most int) []string {
	out := append(c.gap(), c.marked("TICKET ", source.Clean(titleOf(f)), c.paint.head)...)
	out = append(out, c.field("urgency", f.Urgency, 1)...)
	out = append(out, c.field("verdict", dispatchWords(f.Verdict)+odds(f), 1)...)
	out = append(out, c.field("caller", strings.Join(f.Do, " "), most)...)
	out = append(out, c.field("hazards", strings.Join(f.Hazards, "; "), most)...)
	out = append(out, c.field("for tech", strings.Join(f.Tell, " "), most)...)
	out = append(out, c.field("about", strings.Join(f.Text, " "), most)...)
	out = append(out, c.field("may be", strings.Join(c.faultTitles(f.Faults), "; "), most)...)
	next := "settles"
	if f.Partly {
		next = "next"
	}
	out = append(out, c.field(next, f.Settles, most)...)
	out = append(out, c.field("if again", strings.Join(f.Again, " "), most)...)
	out = append(out, c.field("seen", strings.Join(c.evidence(f.Evidence), "; "), most)...)
	out = append(out, c.field("parts", strings.Join(f.Parts, ", "), most)...)
	return append(out, c.field("skills", strings.Join(f.Skills, ", "), most)...)
}

// dispatchWords say a verdict to the one who sends people.
func dispatchWords(v house.Verdict) string {
	if v == house.VerdictCallAPro {
		return "send a licensed technician"
	}
	return v.Words()
}

// field is a name and its text, cut after so many lines.
func (c *Chat) field(name, text string, most int) []string {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	lead := fmt.Sprintf("    %-9s", name)
	lines := wrap(text, lead, c.Style.column())
	if len(lines) > most {
		lines = lines[:most]
		lines[most-1] = shortened(lines[most-1], c.marks.continued, c.Style.column())
	}
	lines[0] = "    " + c.paint.head(name) + strings.TrimPrefix(lines[0], "    "+name)
	return lines
}

// shortened ends a line with the mark of something left out.
func shortened(line, mark string, col int) string {
	head, rest := paragraph.Cut(line, max(1, col-width(mark)))
	if rest != "" {
		if i := strings.LastIndex(strings.TrimRight(head, " "), " "); i > 0 {
			head = head[:i]
		}
	}
	return strings.TrimRight(head, " ") + mark
}
