package policy_test

import (
	"fmt"

	"stepdown/engine/policy"
)

func Example() {
	t := policy.Table{Prior: []float64{.5, .5}, Class: []int{0, 1}, Tests: []policy.Test{
		policy.Answers(1, 0, 1), // costs a minute; state 0 answers 0, state 1 answers 1
	}}
	cost, first, ok := t.Optimum()
	fmt.Println(cost, first, ok)
	// Output: 1 0 true
}
