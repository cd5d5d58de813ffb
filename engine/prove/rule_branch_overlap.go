package prove

var branchOverlap = &Rule{
	Code:  "branch-overlap",
	Proof: Branches,
	Title: "no reading has two branches",
	Why: `Where two conditions hold for one reading the tree says two things at once.
Branches are no list that is tried from the top: the order of lines in a file
must not decide which part is replaced.`,
	Bad: `
branches:
  - {when: rc <= control_min, then: tree weak-control-power}
  - {when: rc >= control_min, then: step coil}     # 20.4 has both`,
	Good: `
branches:
  - {when: rc < control_min, then: tree weak-control-power}
  - {when: rc >= control_min, then: step coil}`,
}
