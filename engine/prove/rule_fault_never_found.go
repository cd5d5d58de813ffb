package prove

var faultNeverFound = &Rule{
	Code:  "fault-never-found",
	Proof: Form,
	Title: "a tree has an end for every fault that shows its complaint",
	Why: `Somebody will call about this complaint with this fault in the house. Where no
edge of any tree they can come to ends at it, the call can only name something
else.`,
	Bad: `
symptom: {setup: {fan: 'on'}, look: indoor-fan, shows: [stopped]}
…                                   # no edge ends at fan-relay-open`,
	Good: `
branches:
  - {when: relay_dc >= coil_open, then: finding fan-relay-open}`,
}
