package tree

import (
	"os"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

func base(t testing.TB) *Library {
	t.Helper()
	lib, problems := Load(os.DirFS("testdata/base"))
	if err := problems.Err(); err != nil {
		t.Fatalf("the base trees have problems:\n%v", err)
	}
	return lib
}

func step(t testing.TB, lib *Library, c house.Complaint, id string) *Step {
	t.Helper()
	for _, s := range lib.Trees[c].Steps {
		if s.ID == id {
			return s
		}
	}
	t.Fatalf("no step %s/%s", c, id)
	return nil
}

func TestLoad(t *testing.T) {
	lib := base(t)
	_ = quantity.ACVolts
	if len(lib.Trees) != 3 {
		t.Fatal(len(lib.Trees))
	}
}
