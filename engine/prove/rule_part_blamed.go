package prove

var partBlamed = &Rule{
	Code:  "part-blamed",
	Proof: Physics,
	Title: "a house that does not show the complaint never ends at a part",
	Why: `People call about a house that works when asked, or about something else than
what they say. Such a call ends at none, delay-running, stat-setting or
not-this-circuit, or stays open. It sells nobody a part.`,
	Bad: `
air: {look: air, branches: {cool: finding stat-y-open, …}}`,
	Good: `
air: {look: air, branches: {cool: finding none, …}}`,
}
