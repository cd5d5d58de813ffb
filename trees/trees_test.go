package trees_test

import (
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/tree"
	"stepdown/trees"
)

func library(t *testing.T) *tree.Library {
	t.Helper()
	lib, problems := tree.Load(trees.FS)
	if len(problems) > 0 {
		t.Fatal(problems.Render(40))
	}
	return lib
}

func TestEmbeddedTreesLoad(t *testing.T) {
	lib := library(t)
	for _, c := range []house.Complaint{house.NoCooling, house.DarkDisplay, house.NoControlPower, house.WeakControlPower} {
		if lib.Trees[c] == nil {
			t.Errorf("tree %s is missing", c)
		}
	}
}

func TestEveryFindingHasItsTexts(t *testing.T) {
	lib := library(t)
	for _, f := range house.Findings() {
		if lib.Finding(f) == nil {
			t.Errorf("finding %s has no texts", f)
		}
	}
}
