package chat

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// effect gives one effect as lines.
func (c *Chat) effect(f session.Effect) []string {
	switch {
	case f.Tell != nil:
		return c.say(f.Tell.Text)
	case f.Suspects != nil:
		return c.leftNow(*f.Suspects)
	case f.Problem != nil:
		return c.problem(f.Problem.Text)
	case f.Finding != nil:
		return c.finding(f.Finding)
	case f.End != nil:
		return c.end(f.End)
	}
	return c.question(f)
}

// question gives the open question as lines; what shares its row with the
// prompt is left to above and Prompt.
func (c *Chat) question(q session.Effect) []string {
	switch {
	case q.Ask != nil:
		return c.ask(q.Ask)
	case q.Do != nil:
		return c.do(q.Do)
	case q.Caution != nil:
		return c.caution(q.Caution)
	}
	return nil
}

func (c *Chat) ask(ask *session.Ask) []string {
	if len(ask.Given) > 0 && c.headed == ask.Step { // the rest of a batch: its headline stands above
		return nil
	}
	c.headed = ask.Step
	out := append(c.gap(), c.headline(ask.Text)...)
	switch ask.Kind {
	case session.AskLook, session.AskChoose:
		return append(out, c.choices(ask.Answers)...)
	case session.AskMeasure:
		if !c.Style.Prompts {
			out = append(out, c.pairs(ask)...)
		}
	}
	return out
}

// headline is a question in bold.
func (c *Chat) headline(text string) []string {
	lines := c.say(text)
	for i, l := range lines {
		lines[i] = "  " + c.paint.head(strings.TrimSpace(l))
	}
	return lines
}

// choices numbers the answers, ids in one column and words in the next; on a
// narrow screen the words go under the id.
func (c *Chat) choices(choices []session.Choice) []string {
	idCells := 0
	for _, a := range choices {
		idCells = max(idCells, width(source.Clean(a.ID)))
	}
	col := c.Style.column()
	beside := 8+idCells+2+16 <= col
	var out []string
	for i, a := range choices {
		id, text := source.Clean(a.ID), source.Clean(a.Text)
		lead := fmt.Sprintf("   %2d ", i+1)
		switch {
		case text == "" || text == id:
			out = append(out, lead+id)
		case beside:
			out = append(out, wrap(text, lead+pad(id, idCells+2), col)...)
		default:
			out = append(append(out, lead+id), wrap(text, "      ", col)...)
		}
	}
	return out
}

// pairs lists the readings of a batch by name.
func (c *Chat) pairs(ask *session.Ask) []string {
	var out []string
	for _, p := range ask.Pairs {
		out = append(out, wrap(leads(p, ask.Quantity), "    "+nick(p)+": ", c.Style.column())...)
	}
	return out
}

// leads says where the leads, or the clamp, go.
func leads(p session.Pair, q quantity.Quantity) string {
	if q == quantity.Current {
		return "clamp around " + conductorText(p.Conductor)
	}
	return "red on " + p.Red.String() + ", black on " + p.Black.String()
}

func conductorText(k house.Conductor) string {
	text := "the " + k.Terminal.String() + " conductor at the " + placeText(k.At)
	if k.To != house.NoPlace {
		text += ", the one to the " + placeText(k.To)
	}
	return text
}

func placeText(p house.Place) string {
	switch p {
	case house.AtThermostat:
		return "thermostat's base"
	case house.AtIndoor:
		return "indoor unit"
	case house.AtOutdoor:
		return "outdoor unit"
	}
	return "house"
}

// do gives an instruction; where a person sees the prompts its text shares
// the row with the prompt.
func (c *Chat) do(do *session.Do) []string {
	if c.Style.Prompts {
		return nil
	}
	return c.say(doText(do, true))
}

// doText is the instruction, with its wait where nothing counts it on screen.
func doText(do *session.Do, wait bool) string {
	if wait && do.WaitSeconds > 0 {
		return do.Text + " " + waitText(do.WaitSeconds)
	}
	return do.Text
}

func waitText(seconds int) string {
	if seconds%60 == 0 && seconds > 60 {
		return fmt.Sprintf("Wait %d minutes (%d seconds).", seconds/60, seconds)
	}
	return fmt.Sprintf("Wait %d seconds.", seconds)
}

func (c *Chat) caution(k *session.CautionEffect) []string {
	out := append(c.gap(), c.marked(c.marks.caution+" CAUTION ", source.Clean(k.Title), c.paint.bad)...)
	for _, t := range k.Text {
		out = append(out, wrap(t, "    ", c.Style.column())...)
	}
	if len(k.Source) > 0 && !c.sourced[k.ID] { // once a sitting; why gives it again
		c.sourced[k.ID] = true
		for _, l := range wrap("Source: "+strings.Join(k.Source, "; "), "    ", c.Style.column()) {
			out = append(out, "    "+c.paint.faint(strings.TrimSpace(l)))
		}
	}
	return append(out, c.say("Type "+source.Clean(k.Word)+" to go on, or unable.")...)
}

// answersAgain is how long a list of answers may be to be shown again after a
// line that was not taken; a longer one stands above still.
const answersAgain = 6

// again is the question once more after a line that was not taken.
func (c *Chat) again(q session.Effect) []string {
	switch {
	case q.Ask != nil && len(q.Ask.Answers) > answersAgain:
		return append(c.headline(q.Ask.Text), c.say(fmt.Sprintf("1 to %d, or the word, as listed above.", len(q.Ask.Answers)))...)
	case q.Ask != nil && q.Ask.Kind != session.AskMeasure:
		return c.ask(q.Ask)[len(c.gap()):]
	case q.Ask != nil && c.Style.Prompts:
		return c.headline(q.Ask.Text)
	case q.Ask != nil:
		return append(c.headline(q.Ask.Text), c.pairs(q.Ask)...)
	case q.Do != nil:
		return c.do(q.Do)
	}
	return nil
}

// row is the text that belongs on the prompt's row, in two forms of the same
// words, and the prompt's own name.
func (c *Chat) row() (lead, painted, name string) {
	q := c.open()
	switch {
	case q.Ask != nil && q.Ask.Kind == session.AskMeasure:
		p := q.Ask.Pairs[0]
		most := 0
		for _, each := range append(q.Ask.Given, q.Ask.Pairs...) {
			most = max(most, width(leads(each, q.Ask.Quantity)))
		}
		lead = "    " + pad(leads(p, q.Ask.Quantity), most+2)
		painted = strings.Replace(lead, "red on "+p.Red.String(), c.paint.redLead("red")+" on "+p.Red.String(), 1)
		painted = strings.Replace(painted, "black on", c.paint.blackLead("black")+" on", 1)
		return lead, painted, nick(p)
	case q.Ask != nil && q.Ask.Kind == session.AskText:
		return "", "", ""
	case q.Ask != nil && q.Ask.Kind == session.AskLook:
		return "", "", q.Ask.Look.String()
	case q.Ask != nil:
		return "", "", source.Clean(q.Ask.Step)
	case q.Do != nil:
		lead = "  " + source.Clean(doText(q.Do, c.Style.Plain || c.Now == nil))
		return lead, lead, "done"
	case q.Caution != nil:
		return "", "", "word"
	}
	return "", "", ""
}

// The room a prompt leaves for what is typed, in cells: a reading with its
// unit, a done.
const (
	inputCells = 14
	doneCells  = 6
)

// doColumn is where the prompt of a short instruction stands.
const doColumn = 62

// Prompt is the prompt of the open question, with the words that share its
// row where there is room; only colour sequences, no other, are in it.
func (c *Chat) Prompt() string {
	if c.aside != nil {
		return c.aside.Prompt()
	}
	lead, painted, name := c.row()
	tail := c.tail(name)
	if lead == "" || !c.fits(lead, tail) {
		return "  " + tail
	}
	if c.open().Do != nil && c.fits(pad(lead, doColumn), tail) {
		painted += strings.Repeat(" ", max(0, doColumn-width(lead)))
	}
	if !strings.HasSuffix(painted, " ") {
		painted += "  "
	}
	return painted + tail
}

// tail is the prompt itself: the name and, while a wait is counted, what is
// left of it.
func (c *Chat) tail(name string) string {
	if left := c.waitLeft(); left > 0 && !c.Style.Plain {
		name = strings.TrimSpace(fmt.Sprintf("%s %5s", name, clock(left)))
	}
	return strings.TrimLeft(name+" > ", " ")
}

func (c *Chat) fits(lead, tail string) bool {
	room := inputCells
	if c.open().Do != nil {
		room = doneCells
	}
	return !c.Style.Plain && width(lead)+2+width(tail)+room <= c.Style.width()
}

// above are the words of the prompt's row that had no room on it.
func (c *Chat) above() []string {
	if !c.Style.Prompts || c.ended || c.aside != nil {
		return nil
	}
	lead, _, name := c.row()
	if lead == "" || c.fits(lead, c.tail(name)) {
		return nil
	}
	indent := lead[:len(lead)-len(strings.TrimLeft(lead, " "))]
	return wrap(lead, indent, c.Style.column())
}
