package prove

var becauseUnproven = &Rule{
	Code:  "because-unproven",
	Proof: Physics,
	Title: "a because names a probe that would tell the rest apart",
	Why: `A wider end is allowed where a because says which probe it lacks. The probe
must be named in the words of trees (a look's id, or a pair and its place, such
as Y-C at outdoor), and asking it must leave fewer faults than the call did.`,
	Bad: `
because: this is hard to tell`,
	Good: `
because: coil-1-coil-2 at outdoor would tell, and takes a cover off`,
}
