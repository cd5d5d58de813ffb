package prove

var faultMissed = &Rule{
	Code:  "fault-missed",
	Proof: Physics,
	Title: "a call that goes as asked never ends at a part that is good",
	Why: `The model put this fault into this house, every question was answered as the
house shows it, and the call named something that every allowed probe together
tells apart from it. The lines under the problem replay the call.`,
	Bad: `
branches:
  # a blown fuse reads so too
  - {when: rc < control_min, then: finding transformer-failed}`,
	Good: `
branches:
  - when: rc < control_min and sec < control_min
    then: finding transformer-failed
  - {when: rc < control_min and sec >= control_min, then: step fuse-look}`,
}
