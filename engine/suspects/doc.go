// Package suspects keeps what still explains a call: the faults, and the kinds
// of equipment they may be in, weighed by every look and reading so far. It
// tells what was ruled out, which probe is best made next, and when what was
// seen contradicts everything it knows, which slip is the likeliest.
//
//	engine := suspects.New(forecast, weights)
//	call, err := engine.Open(suspects.Case{Facts: facts, Symptoms: symptoms})
//	told, err := call.Observe(suspects.Seen{Probe: probe, Setup: setup, Reading: reading})
//	explanation := call.Explain()
//	next, ok, err := call.Next(allowed, setup)
//
// Two things are kept apart. A fault is consistent while every reading lies in
// its interval; only that rules it out. Its probability also counts how well
// the readings fit and leaves a little for a slip; that only orders.
//
// May import: forecast, policy, house, quantity, source.
package suspects
