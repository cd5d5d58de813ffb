package chat

import "stepdown/engine/house"

// handing names the way to hand an ended call on: what a caller has seen is
// not asked again by the technician who comes. An emergency, and what needs
// nobody, is not handed on.
func (c *Chat) handing() []string {
	switch {
	case c.talk.Audience() == house.Tech, c.Call == "":
		return nil
	case c.found != house.VerdictUndecided && c.found != house.VerdictRepair && c.found != house.VerdictCallAPro:
		return nil
	}
	return c.say("A code for the technician, so that nothing is asked twice:", "  stepdown handover "+c.Call)
}
