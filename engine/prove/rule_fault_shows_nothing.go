package prove

var faultShowsNothing = &Rule{
	Code:  "fault-shows-nothing",
	Proof: Form,
	Title: "every fault of every equipment shows some complaint on some house of it",
	Why: `Somebody has this fault in the house and calls, and no tree takes the call. Either
a complaint is missing, a symptom is written too narrowly to let it in, or the
equipment is missing from the fits of the tree that would.`,
	Bad: `
symptom: {setup: {mode: cool, calling: 'yes'}, look: air, shows: [warm]}
                                    # a dead call leaves the air as the room`,
	Good: `
symptom:
  {setup: {mode: cool, calling: 'yes'}, look: air, shows: [room, none, warm]}`,
}
