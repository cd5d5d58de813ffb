package prove

var thinMargin = &Rule{
	Code:  "thin-margin",
	Proof: Physics,
	Title: "no reading comes nearer to a limit it must not cross than the meter and 0.3 V",
	Why: `A reading on the wrong side of a limit sends the call astray. Where a modelled
house reads so near to a limit that another meter would read across it, the limit
stands in the wrong place or the step asks the wrong thing.`,
	Bad: `
limits: {open_min: {value: 26, unit: V, …}} # an open switch shows 26 to 28 V`,
	Good: `
limits: {open_min: {value: 5, unit: V, …}}      # closed shows under 0.1 V`,
}
