package prove

var complaintShowsNothing = &Rule{
	Code:  "complaint-shows-nothing",
	Proof: Form,
	Title: "a complaint is shown by some fault on every equipment it fits",
	Why: `A complaint that no fault of an equipment can show sends its people through a
tree that has nothing for them. The symptom is wrong, or the equipment does not
belong in fits.`,
	Bad: `
symptom: {setup: {mode: emergency, calling: 'yes'}, look: air, shows: [room]}
fits: [cool-gas]                    # it has no emergency heat`,
	Good: `
symptom:
  {setup: {mode: emergency, calling: 'yes'}, look: air, shows: [room, cool]}
fits: [pump-cooling-valve, pump-heating-valve]`,
}
