package prove_test

import (
	"fmt"
	"strings"

	"stepdown/engine/prove"
)

func Example() {
	text, _ := prove.Explain("branch-gap")
	title, _, _ := strings.Cut(text, "\n")
	fmt.Println(title)
	// Output: branch-gap: every possible reading has a branch
}
