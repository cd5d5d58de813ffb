package quantity_test

import (
	"fmt"

	"stepdown/engine/quantity"
)

func Example() {
	r, err := quantity.Parse("about 26.8 vac", quantity.ACVolts)
	fmt.Println(quantity.Format(r, quantity.ACVolts), err)
	_, err = quantity.Parse("12 ohm", quantity.ACVolts)
	fmt.Println(err)
	// Output:
	// 26.8 V <nil>
	// "12 ohm" is in ohms; volts AC are wanted, such as 26.8
}

func ExampleParseBatch() {
	got, err := quantity.ParseBatch("yc 0,1 rc -", quantity.ACVolts, []string{"yc", "rc"})
	fmt.Println(got["yc"].Value, got["rc"].Missing, err)
	// Output: 0.1 true <nil>
}
