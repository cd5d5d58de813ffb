package prove

import (
	"testing"

	"stepdown/engine/house"
)

// TestASecondThingWrong holds coverage to what it says: an edge is taken, taken
// only where a call goes wrong twice, or listed; and a step that some call does
// ask for a probe has been unable there.
func TestASecondThingWrong(t *testing.T) {
	r := proven(t, Options{Complaints: []house.Complaint{house.FanAlways}, Equipment: house.PackagedGas, Houses: 1, Workers: 2})
	if r.EdgesTwice == 0 {
		t.Error("no edge is taken by a second thing wrong")
	}
	if r.Edges <= r.EdgesTwice+r.untakenEdges() {
		t.Errorf("of %d edges %d are taken twice wrong and %d by none", r.Edges, r.EdgesTwice, r.untakenEdges())
	}
	for _, u := range r.Untaken {
		for _, e := range u.Edges {
			if e == "unable" && u.Asked && !u.House {
				t.Errorf("%s is asked, and no call is unable there", u.Step)
			}
		}
	}
}
