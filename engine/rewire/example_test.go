package rewire_test

import (
	"fmt"

	"stepdown/engine/rewire"
)

// A heat pump's valve wire, from a B screw, is read before it lands.
func Example() {
	c, problems := rewire.Parse("swap.yaml", []byte(`
equipment: pump-heating-valve
new-base: {letters: R C Y G O/B AUX/E, power: common}
conductors:
  - {colour: red, old: R}
  - {colour: black, old: C}
  - {colour: yellow, old: Y}
  - {colour: green, old: G}
  - {colour: blue, old: B}
  - {colour: white, old: W2}
`))
	if len(problems) > 0 {
		fmt.Print(problems)
		return
	}
	report, err := rewire.New(catalog()).Solve(c)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(report.State, report.Question.ID)
	// Output: question ohms:blue:black
}
