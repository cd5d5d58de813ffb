package complaint_test

import (
	"fmt"

	"stepdown/engine/complaint"
	"stepdown/engine/house"
)

func Example() {
	m := complaint.New(map[house.Complaint][]string{house.NoCooling: {"not cooling"}})
	for _, words := range []string{"my A/C isnt coolign", "it won't turn on", "no cooling, and I smell gas"} {
		found := m.Match(words)
		fmt.Printf("%v %v %q\n", found.Trees, found.Sure, found.Emergency)
	}
	// Output:
	// [no-cooling] true ""
	// [no-cooling no-heat dark-display] false ""
	// [no-cooling] true "gas"
}
