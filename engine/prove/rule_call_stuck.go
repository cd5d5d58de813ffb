package prove

var callStuck = &Rule{
	Code:  "call-stuck",
	Proof: Physics,
	Title: "every call comes to an end",
	Why: `The conversation did not take an answer that the house gives, or went on without
end. Nobody can be left there.`,
	Bad: `
branches: {lit: step board}          # and the display shows blank`,
	Good: `
branches: {lit: step board, blank: tree dark-display, …}`,
}
