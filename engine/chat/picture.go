package chat

import (
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// picture shows where the leads of the open question go: a drawing of the
// screws, or the same in words where the text is linear or the screen narrow.
func (c *Chat) picture() []string {
	ask := c.open().Ask
	if ask == nil || ask.Kind != session.AskMeasure {
		out := c.say("No meter leads go on here.", standing(c.talk.Facts().Equipment, c.talk.House()))
		return append(out, c.ladder()...)
	}
	out := c.say(upper(meterText(ask)) + ", at the " + c.boardText(ask.At) + ".")
	drawn := c.drawing(ask)
	if c.Style.Plain || ask.Quantity == quantity.Current || tooWide(drawn, c.Style.width()) {
		drawn = c.inWords(ask)
	}
	out = append(out, drawn...)
	out = append(out, c.say(standing(c.talk.Facts().Equipment, c.talk.House()))...)
	return append(out, c.ladder()...)
}

func (c *Chat) ladder() []string {
	if c.Hooks.Ladder == nil {
		return nil
	}
	out := c.gap()
	for _, l := range c.Hooks.Ladder() {
		out = append(out, source.Clean(l))
	}
	return out
}

func tooWide(lines []string, cells int) bool {
	return slices.ContainsFunc(lines, func(l string) bool { return width(l) > cells })
}

func meterText(ask *session.Ask) string {
	if ask.Quantity == quantity.Current {
		return "clamp meter on amps AC"
	}
	return "meter on " + ask.Quantity.Title()
}

// boardText names what is looked at, at a place.
func (c *Chat) boardText(at house.Place) string {
	switch {
	case at == house.AtThermostat:
		return "thermostat's wall base"
	case c.talk.Facts().Equipment.Packaged():
		return "unit, behind its cover"
	case at == house.AtIndoor:
		return "indoor unit's board"
	}
	return "outdoor unit's strip"
}

// inWords says the picture.
func (c *Chat) inWords(ask *session.Ask) []string {
	var out []string
	for _, p := range ask.Pairs {
		text := "Red lead on " + endText(p.Red) + ". Black lead on " + endText(p.Black) + "."
		if ask.Quantity == quantity.Current {
			text = "Clamp around one conductor alone: " + conductorText(p.Conductor) + "."
		}
		out = append(out, wrap(text, "    "+nick(p)+": ", c.Style.column())...)
	}
	return out
}

// parts name what an end belongs to.
var parts = map[string]string{
	"sec": "transformer, 24 V side", "fuse": "board fuse", "float": "float switch", "limit": "heat limit", "rollout": "rollout switch",
	"gas": "gas valve", "seq": "heat sequencer", "relay": "fan relay", "heat-sec": "furnace transformer, 24 V side",
	"pressure": "pressure switches", "coil": "contactor coil", "valve": "reversing valve", "stage2": "second stage",
	"pri": "transformer, line side", "heat-pri": "furnace transformer, line side", "door": "door switch",
	"feed": "indoor feed", "feed2": "second indoor feed",
}

// partText names the part an end belongs to, empty for a letter.
func partText(t house.Terminal) string {
	if t.IsLetter() {
		return ""
	}
	id := t.String()
	text := ""
	switch i := strings.LastIndex(id, "-"); {
	case i > 0:
		text = parts[id[:i]]
	case t == house.GND:
		text = "cabinet ground"
	case strings.HasPrefix(id, "L"):
		text = "contactor, line side"
	case strings.HasPrefix(id, "T"):
		text = "contactor, load side"
	}
	if t.Class() == house.Line {
		text += ", LINE VOLTAGE"
	}
	return text
}

func endText(t house.Terminal) string {
	if text := partText(t); text != "" {
		return t.String() + " (" + text + ")"
	}
	return t.String()
}

// drawing draws the screws one under the other, a column for each reading.
func (c *Chat) drawing(ask *session.Ask) []string {
	ends := c.screws(ask)
	idCells := 0
	for _, t := range ends {
		idCells = max(idCells, width(t.String()))
	}
	m := c.marks
	bar := strings.Repeat(m.horizontal, idCells+4)
	head := "  " + strings.Repeat(" ", idCells+7)
	for _, p := range ask.Pairs {
		head += pad(nick(p), columnOf(p))
	}
	out := []string{strings.TrimRight(head, " "), "  " + m.topLeft + bar + m.topRight}
	for _, t := range ends {
		out = append(out, c.screwRow(t, idCells, ask))
	}
	return append(out, "  "+m.bottomLeft+bar+m.bottomRight)
}

// screwRow draws one screw and the leads that go on it.
func (c *Chat) screwRow(t house.Terminal, idCells int, ask *session.Ask) string {
	m, screw, leads := c.marks, c.marks.screw, ""
	for _, p := range ask.Pairs {
		word, painted := "", ""
		switch t {
		case p.Red:
			word, painted = "RED", c.paint.redLead("RED")
		case p.Black:
			word, painted = "BLACK", c.paint.blackLead("BLACK")
		}
		if word != "" {
			screw = m.filled
		}
		leads += painted + strings.Repeat(" ", columnOf(p)-len(word))
	}
	if screw == m.filled {
		leads = m.left + " " + leads
	} else {
		leads = ""
	}
	row := "  " + m.vertical + " " + pad(t.String(), idCells+1) + screw + " " + m.vertical + " " + leads
	if text := partText(t); text != "" && screw == m.filled {
		row += text
	}
	return strings.TrimRight(row, " ")
}

// columnOf is the width of one reading's column.
func columnOf(p session.Pair) int { return max(len("BLACK"), width(nick(p))) + 2 }

// screws are the ends drawn: the letters that may be there, then the ends of
// parts that a lead goes on.
func (c *Chat) screws(ask *session.Ask) []house.Terminal {
	facts := c.talk.Facts()
	letters := house.Letters(0)
	switch {
	case ask.At == house.AtThermostat && facts.Letters != 0:
		letters = facts.Letters
	case ask.At == house.AtOutdoor && !facts.Equipment.Packaged():
		letters = facts.Equipment.Strip()
	default:
		letters = facts.Equipment.Letters().Minus(facts.Equipment.SometimesLetters()).Add(house.C)
	}
	var ends []house.Terminal
	for _, p := range ask.Pairs {
		for _, t := range []house.Terminal{p.Red, p.Black} {
			letters = letters.Add(t)
			if !t.IsLetter() && !slices.Contains(ends, t) {
				ends = append(ends, t)
			}
		}
	}
	slices.Sort(ends)
	if len(ends) > 0 && !slices.ContainsFunc(ask.Pairs, func(p session.Pair) bool { return p.Red.IsLetter() || p.Black.IsLetter() }) {
		return ends
	}
	return append(letters.List(), ends...)
}
