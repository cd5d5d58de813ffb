// Package prove shows that trees can be trusted before anybody follows them:
// that every one is whole (form), that exactly one branch holds for every
// reading (branches), that no step is unsafe (safety), that every fault of
// every house the model draws ends where it should (physics), and what a call
// costs against the best possible one (cost).
//
//	report, err := prove.Prove(book, forecast.New(catalog, forecast.Options{}), files, prove.Options{Draws: 8, Workers: 2})
//	report.WriteText(os.Stdout)
//	text, ok := prove.Explain("branch-gap")
//
// It uses none of the engine's own elimination: what a reading leaves over is
// worked out here from the forecast alone.
//
// May import: tree, session, planner, caution, circuit, forecast, policy, house, source, quantity.
package prove
