package source_test

import (
	"fmt"

	"stepdown/engine/source"
)

func Example() {
	data := []byte("title: A reading\nvolst: 26.8\n")
	r := source.NewReporter()
	f := source.Parse("demo.yaml", data, r).Fields(r, "title", "volts")
	fmt.Println(f.Need("title").String(r))
	fmt.Println(r.Err())
	// Output:
	// A reading
	// demo.yaml:2:1: unknown key "volst" (unknown-key)
	//     volst: 26.8
	//     ^^^^^
	//     hint: did you mean volts?
}
