package chat

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// finding gives the end of a call: a ticket to a dispatcher, what to do and
// say to a homeowner, the part and its evidence to a technician.
func (c *Chat) finding(f *session.FindingEffect) []string {
	if c.talk.Audience() == house.Dispatcher {
		return c.ticket(f)
	}
	out := append(c.gap(), c.verdict(f)...)
	for _, t := range f.Text {
		out = append(out, wrap(t, "    ", c.Style.column())...)
	}
	if line := thermostatLine(f); line != "" {
		out = append(out, wrap(line, "    ", c.Style.column())...)
	}
	if c.talk.Audience() == house.Homeowner {
		out = append(out, c.numbered("Do", f.Do)...)
		out = append(out, c.section("Then", oneOf(f.Confirm))...)
		out = append(out, c.numbered(session.AgainHead, f.Again)...)
		tell := slices.Concat(f.Tell, c.mayBe(f), oneOf(prefixed("What "+settling(f)+": ", f.Settles)), c.evidence(f.Evidence))
		return append(out, c.bullets("Tell the technician", tell)...)
	}
	out = append(out, c.bullets("Seen", c.evidence(f.Evidence))...)
	if len(f.Faults) > 1 {
		out = append(out, c.bullets("Still possible", c.faultTitles(f.Faults))...)
	}
	out = append(out, c.section(upper(settling(f)), oneOf(f.Settles))...)
	out = append(out, c.numbered("Do", f.Do)...)
	out = append(out, c.section("Confirm", oneOf(f.Confirm))...)
	out = append(out, c.numbered(session.AgainHead, f.Again)...)
	out = append(out, c.section("Commonly from", oneOf(f.Commonly))...)
	return append(out, c.section("Parts", oneOf(some(f.Parts, partsMost, ", ")))...)
}

// settling says how much the probe named at an open end tells.
func settling(f *session.FindingEffect) string {
	if f.Partly {
		return "would tell most"
	}
	return "would settle it"
}

// mayBe names the likeliest of what an open end leaves, in a line.
func (c *Chat) mayBe(f *session.FindingEffect) []string {
	if f.ID != house.Undecided || len(f.Faults) < 2 {
		return nil
	}
	return []string{"Still possible: " + some(c.titles(f.Faults), suspectsFew, "; ")}
}

// verdict is the head of a finding: what it is, and what sort of end.
func (c *Chat) verdict(f *session.FindingEffect) []string {
	word, paint := "FOUND", c.paint.good
	switch {
	case f.Verdict == house.VerdictEmergency:
		word, paint = "EMERGENCY", c.paint.bad
	case f.Verdict == house.VerdictUndecided, f.ID == house.Undecided:
		word, paint = "NOT DECIDED", c.paint.warn
	case f.Verdict == house.VerdictCallAPro:
		paint = c.paint.bad
	}
	out := c.marked(word+" ", source.Clean(titleOf(f)), paint)
	if words := f.Verdict.Words(); !strings.EqualFold(word, words) && words != "" {
		out = append(out, wrap("Verdict: "+words+odds(f), "    ", c.Style.column())...)
	}
	return out
}

// odds is how likely what was found is; what was not decided has none.
func odds(f *session.FindingEffect) string {
	if f.Probability <= 0 || f.ID == house.Undecided {
		return ""
	}
	return fmt.Sprintf(" (%s likely)", percent(f.Probability))
}

func titleOf(f *session.FindingEffect) string {
	if f.Title != "" {
		return f.Title
	}
	return string(f.ID)
}

// thermostatOpen stands where nothing was proven of the thermostat.
const thermostatOpen = "The thermostat is not shown to have failed: do not replace it on this."

// thermostatLine says what the call means for the thermostat, the part most
// often changed for nothing.
func thermostatLine(f *session.FindingEffect) string {
	if f.Condemns || len(f.Faults) == 0 || len(f.Faults) == 1 && f.Faults[0] == house.None {
		return ""
	}
	for _, fault := range f.Faults {
		if fault.Condemns() {
			return thermostatOpen
		}
	}
	if f.ID == house.Undecided {
		return thermostatOpen
	}
	return "The thermostat is not the failed part: do not replace it."
}

// evidence is every probe and what it showed; what was made twice says how the
// one differs from the other.
func (c *Chat) evidence(seen []session.Seen) []string {
	var out []string
	for i, how := range session.Apart(c.talk.Facts().Equipment, seen) {
		text := c.seen(seen[i])
		if how != "" {
			text += " (" + how + ")"
		}
		out = append(out, text)
	}
	return out
}

// seen is one probe and what it showed, in words.
func (c *Chat) seen(s session.Seen) string {
	p := s.Probe
	if p.IsLook() {
		return session.LookName(p.Look) + ": " + p.Look.AnswerText(s.Answer)
	}
	value := quantity.Format(s.Reading, p.Quantity)
	if c.Style.ASCII {
		value = quantity.FormatASCII(s.Reading, p.Quantity)
	}
	if p.Quantity == quantity.Current {
		return "current in " + conductorText(p.Conductor) + ": " + value
	}
	mode := ""
	if p.Quantity == quantity.LowZVolts {
		mode = ", low-impedance mode"
	}
	return fmt.Sprintf("%s to %s at the %s%s: %s", p.Red, p.Black, placeText(p.At), mode, value)
}

// section is a heading and its lines; nothing where there are none.
func (c *Chat) section(head string, lines []string) []string {
	if len(lines) == 0 {
		return nil
	}
	out := []string{"  " + c.paint.head(head)}
	for _, l := range lines {
		out = append(out, wrap(l, "    ", c.Style.column())...)
	}
	return out
}

// bullets is a heading and its lines, each marked.
func (c *Chat) bullets(head string, lines []string) []string {
	if len(lines) == 0 {
		return nil
	}
	out := []string{"  " + c.paint.head(head)}
	for _, l := range lines {
		out = append(out, wrap(l, "    "+c.marks.bullet+" ", c.Style.column())...)
	}
	return out
}

func (c *Chat) numbered(head string, lines []string) []string {
	if len(lines) == 0 {
		return nil
	}
	out := []string{"  " + c.paint.head(head)}
	for i, l := range lines {
		out = append(out, wrap(l, fmt.Sprintf("   %2d. ", i+1), c.Style.column())...)
	}
	return out
}

func (c *Chat) faultTitles(faults []house.Fault) []string {
	return strings.Split(some(c.titles(faults), faultsMost, "\n"), "\n")
}

// What a finding lists at most: more is a wall of text.
const (
	faultsMost = 10
	partsMost  = 12
)

// some joins words, the first of many, with how many are left out.
func some(words []string, most int, by string) string {
	if len(words) > most+1 {
		words = append(slices.Clone(words[:most]), fmt.Sprintf("and %d more", len(words)-most))
	}
	return strings.Join(words, by)
}

// prefixed is text with words before it; nothing where there is none.
func prefixed(words, text string) string {
	if text == "" {
		return ""
	}
	return words + text
}

func oneOf(line string) []string {
	if line == "" {
		return nil
	}
	return []string{line}
}

func percent(p float64) string {
	switch {
	case p > 0 && p < 0.01:
		return "under 1 %"
	case p < 1 && p > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", p*100)
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func (c *Chat) end(e *session.End) []string {
	switch {
	case e.Kept && c.unsaved:
		return c.alarm("Left. The record could not be written: only what came before that can be resumed.")
	case e.Kept && e.Blank:
		return c.say("Nothing was said, so nothing is kept.")
	case e.Kept && c.Call != "":
		return c.say("Kept. Go on with: stepdown resume " + c.Call)
	case e.Kept:
		return c.say("Kept.")
	case c.unsaved:
		return c.alarm("The call is over. Its record could not be written.")
	}
	return append(c.say("The call is over."), c.handing()...)
}
