package chat

import "stepdown/engine/session"

// Aside is another conversation, held on a call's own lines until it ends.
type Aside interface {
	Begin() string
	Prompt() string
	OneShot(line string) string
	Complete(line string) []string
	Ended() bool
}

// landing begins the check of how a new thermostat's wires were landed. It is
// asked of people's memory and eyes: not while a cover is off.
func (c *Chat) landing() []string {
	switch at := c.talk.House().Setup; {
	case c.Hooks.Landing == nil:
		return c.say("No circuit model is attached to this call, so no landing can be checked.")
	case at.CoverIndoor || at.CoverOutdoor:
		return c.say("A cover is off. Type landing again once it is back on.")
	}
	aside, err := c.Hooks.Landing()
	if err != nil {
		return c.problem(err.Error())
	}
	c.aside = aside
	return append(c.say("The check of a landing; quit leads back to the call."), splitLines(aside.Begin())...)
}

// toAside hands a line to the aside, but for one that tells of danger. Once it
// has ended the call's question stands again.
func (c *Chat) toAside(line string) []string {
	if what := c.emergency(line); what != "" {
		c.aside = nil
		return c.did(session.Event{Kind: session.Emergency, Reply: what})
	}
	out := splitLines(c.aside.OneShot(line))
	if !c.aside.Ended() {
		return out
	}
	c.aside = nil
	out = append(out, c.did(session.Event{Kind: session.Note, Reply: "how the wires were landed was checked"})...)
	return append(append(out, c.say("Back to the call.")...), c.again(c.open())...)
}
