package prove

var branchGap = &Rule{
	Code:  "branch-gap",
	Proof: Branches,
	Title: "every possible reading has a branch",
	Why: `A reading between two branches leaves the technician standing with a live
meter and no next step. It happens at an end that neither side takes (< and >),
and where two readings are combined and one combination was forgotten.`,
	Bad: `
branches:
  - {when: rc < control_min, then: tree weak-control-power}
  - {when: rc > control_min, then: step coil}      # 20.4 itself has no branch`,
	Good: `
branches:
  - {when: rc < control_min, then: tree weak-control-power}
  - {when: rc >= control_min, then: step coil}`,
}
