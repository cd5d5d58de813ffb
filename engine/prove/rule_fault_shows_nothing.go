package prove

var faultShowsNothing = &Rule{
	Code:  "fault-shows-nothing",
	Proof: Form,
	Title: "every fault of an equipment with trees shows some complaint on some house",
	Why: `A fault nobody would ever notice cannot be looked for. Either a complaint is
missing, or a symptom is written too narrowly to let it in.`,
	Bad: `
symptom: {setup: {mode: cool, calling: 'yes'}, look: air, shows: [warm]}
                                    # a dead call leaves the air as the room`,
	Good: `
symptom: {setup: {mode: cool, calling: 'yes'}, look: air, shows: [room, none, warm]}`,
}
