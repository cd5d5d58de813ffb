package prove

var branchNever = &Rule{
	Code:  "branch-never",
	Proof: Branches,
	Title: "every branch holds for some reading",
	Why: `A branch that no reading takes is a slip in its condition: a limit exchanged,
a sign turned round. What it was meant to catch goes somewhere else.`,
	Bad: `
branches:
  - when: rc < control_min and rc > control_max
    then: finding control-voltage-high`,
	Good: `
branches:
  - {when: rc > control_max, then: finding control-voltage-high}`,
}
