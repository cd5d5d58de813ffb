package suspects

import (
	"slices"
	"testing"

	"stepdown/engine/house"
)

// While readings stay unexplained, no thermostat is condemned without the good
// ones that leave fewest of them so.
func TestNearestGoodThermostat(t *testing.T) {
	c, _ := open(t)
	at := func(f house.Fault) int {
		return slices.IndexFunc(c.hyps, func(h hypothesis) bool { return h.fault == f })
	}
	for h := range c.hyps {
		c.belief.misfits[h] = 3
	}
	c.belief.misfits[at(house.StatYOpen)], c.belief.misfits[at(house.OpenY)] = 1, 2
	if got := c.nearest(); !slices.Equal(got, []int{at(house.OpenY)}) {
		t.Errorf("nearest with a good thermostat: %v, want open-y, %d", got, at(house.OpenY))
	}
	if !c.allCondemn([]int{at(house.StatYOpen)}) || c.allCondemn([]int{at(house.StatYOpen), at(house.OpenY)}) {
		t.Error("who condemns is told wrongly")
	}
}
