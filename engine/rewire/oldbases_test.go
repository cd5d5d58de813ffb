package rewire_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/rewire"
)

// oldMarks are the ways old bases mark a board screw's conductor (common
// practice); a base that has no more ways repeats its last.
var oldMarks = map[house.Terminal][]string{
	house.R: {"R", "Rh", "Rc", "R"}, house.Y: {"Y", "Y1"}, house.W: {"W", "W1"},
	house.W2: {"W2", "AUX", "W1", "E", "AUX/E"}, house.O: {"O", "O/B"}, house.B: {"B", "O/B"},
}

// onOldBase is an equipment's conductors on an old base marked in the n-th way.
func onOldBase(t testing.TB, id house.Equipment, n int, base string) rewire.Case {
	t.Helper()
	var wires []string
	for _, l := range catalog().Equipment(id).Cables[0].Conductors {
		mark := l.String()
		if ways := oldMarks[l]; len(ways) > 0 {
			mark = ways[min(n, len(ways)-1)]
		}
		wires = append(wires, "w"+l.String()+" "+mark)
	}
	return swap(t, id, strings.Join(wires, ","), base, rewire.PowerEither)
}

// TestAllPairsOfOldAndNewBases: the same house lands the same whatever its old
// base called the screws; a plain B is read first; where the equipment is not
// named, the questions that are asked lead to the same landing, or to none
// where the base has no screw for it.
func TestAllPairsOfOldAndNewBases(t *testing.T) {
	for _, id := range catalog().IDs() {
		truth := catalog().Equipment(id).Cables[0].Conductors
		w := newWall(t, catalog().Equipment(id).Nominal(), truth)
		for n := range 5 {
			for _, base := range bases {
				for _, named := range []bool{true, false} {
					c := onOldBase(t, id, n, base)
					name := fmt.Sprintf("%s, old base %d, on %s, named %v", id, n, base, named)
					if !named {
						c.Equipment = house.NoEquipment
					}
					r, _, asked := w.follow(c)
					lands := !slices.ContainsFunc(truth, func(l house.Terminal) bool { return expected(id, l, c.New) == "-" })
					switch {
					case lands && (r.State != rewire.Answer || !w.right(r)):
						t.Errorf("%s: %s %v %s, asked %v", name, r.State, r.Why, landing(r), asked)
					case !lands && r.State == rewire.Answer:
						t.Errorf("%s: lands on a base without the screws: %s, asked %v", name, landing(r), asked)
					}
					b := slices.IndexFunc(c.Conductors, func(w rewire.Conductor) bool { return w.Old.String() == "B" })
					if b >= 0 && lands && !slices.ContainsFunc(asked, func(q string) bool { return strings.HasPrefix(q, "ohms:wB:") }) {
						t.Errorf("%s: a B lands unread, asked %v", name, asked)
					}
				}
			}
		}
	}
}
