package chat

import (
	"strings"

	"stepdown/engine/session"
	"stepdown/engine/source"
)

// help says what the open question takes, then the commands, a line each.
func (c *Chat) help() []string {
	out := c.say(c.takes(c.open())...)
	for _, k := range commands {
		if !c.offers(k.name) {
			continue
		}
		out = append(out, wrap(k.does, "    "+pad(k.shown, 11), c.Style.column())...)
	}
	return append(out, c.say("A reading or look nobody asked for is taken too: R to G at the thermostat is 0; display blank.")...)
}

// offers reports whether a command has somebody to answer it.
func (c *Chat) offers(name command) bool {
	switch name {
	case cmdExpect:
		return c.Hooks.Expect != nil
	case cmdSuspects:
		return c.Hooks.Suspects != nil
	case cmdLanding:
		return c.Hooks.Landing != nil
	}
	return true
}

// takes says how the open question is answered.
func (c *Chat) takes(q session.Effect) []string {
	switch {
	case q.Do != nil:
		return []string{"Type done, or y, when it is done."}
	case q.Caution != nil:
		return []string{"Read the caution, then type the word " + source.Clean(q.Caution.Word) + "."}
	case q.Ask == nil:
		return nil
	}
	switch q.Ask.Kind {
	case session.AskMeasure:
		if len(q.Ask.Pairs) > 1 {
			return []string{"Type what the meter shows, one reading at a time or all in one line: " +
				strings.Join(left(q.Ask), " 26.8 ") + " 0.1"}
		}
		return []string{"Type what the meter shows, such as " + q.Ask.Quantity.Example() + "."}
	case session.AskText:
		return []string{"Say it in your own words, in one line."}
	}
	return []string{"Type the number or the word of the answer; the start of the word will do."}
}
