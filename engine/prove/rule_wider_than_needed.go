package prove

var widerThanNeeded = &Rule{
	Code:  "wider-than-needed",
	Proof: Physics,
	Title: "a call goes as far as its probes can",
	Why: `The call stayed open between faults that another probe, allowed to this person
in this house, tells apart. Ask for it; or say in because which probe is missing
or forbidden.`,
	Bad: `
unable: finding undecided            # the outdoor strip was never read`,
	Good: `
unable: step strip`,
}
