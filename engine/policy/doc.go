// Package policy chooses which test to make next when every test costs
// minutes and several faults still explain what was seen: the exact optimum
// where few are left, rollout over a greedy rule above that, and the rules
// people are taught (half-split, a chart in a fixed order, p over c) to
// compare with. It works on an abstract table of states and tests and knows
// nothing of circuits. A Till prices the tests.
//
//	t := policy.Table{Prior: []float64{.5, .5}, Class: []int{0, 1}, Tests: []policy.Test{
//		policy.Answers(1, 0, 1), // costs a minute; state 0 answers 0, state 1 answers 1
//	}}
//	cost, first, ok := t.Optimum()
//
// May import: house.
package policy
