package tree_test

import (
	"fmt"
	"os"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

func Example() {
	lib, problems := tree.Load(os.DirFS("testdata/base"))
	if err := problems.Err(); err != nil {
		fmt.Println(err)
		return
	}
	t := lib.Trees[house.NoControlPower]
	s := t.First
	fmt.Println(s, s.Probes()[0], s.Edges()[1].To)

	env, secondary := t.NewEnv(), s.Unable.Next()
	if err := env.Read(secondary, "sec", quantity.Of(0.2)); err != nil {
		fmt.Println(err)
		return
	}
	to, _, err := secondary.Decide(env)
	fmt.Println(secondary, "0.2 V:", to, err)
	// Output:
	// no-control-power/fuse look fuse-look finding fuse-blown
	// no-control-power/secondary 0.2 V: finding transformer-failed <nil>
}
