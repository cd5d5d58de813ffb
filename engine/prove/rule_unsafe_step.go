package prove

var unsafeStep = &Rule{
	Code:  "unsafe-step",
	Proof: Safety,
	Title: "no step is taken in a house that is not safe for it",
	Why: `Whatever is asked, by a tree or by anybody, and wherever the call was broken
off before: no cover comes off before lockout, nothing is touched that was not
proven dead, and nobody does what is not theirs to do. Order is the planner's
business; no tree can ask it away.`,
	Bad: `
open the cover -> put the jumper on        # never proven dead`,
	Good: `
thermostat off -> lock out -> try the controls -> open the cover
-> live-dead-live -> discharge -> put the jumper on`,
}
