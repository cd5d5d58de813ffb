package rewire

import (
	"slices"

	"stepdown/engine/house"
)

// Colours are the jackets a control cable comes with.
var Colours = []string{"red", "white", "green", "blue", "yellow", "brown", "orange", "black", "grey", "purple", "pink", "tan"}

// usual is what each letter's conductor most often looks like, commonest
// first. It is common practice: no published standard gives colours to letters,
// so a colour is told as a hint and never decides.
var usual = []struct {
	letter  house.Terminal
	colours []string
}{
	{house.R, []string{"red"}},
	{house.C, []string{"blue", "black", "brown", "grey"}},
	{house.Y, []string{"yellow"}},
	{house.Y2, []string{"black", "purple"}},
	{house.G, []string{"green", "black", "grey"}},
	{house.O, []string{"orange"}},
	{house.B, []string{"blue"}},
	{house.W, []string{"white"}},
	{house.W2, []string{"white"}},
	{house.E, []string{"brown"}},
	{house.L, []string{"black"}},
}

// Hint lists the letters a conductor of this colour most often carries. It is
// a hint and decides nothing.
func Hint(colour string) []house.Terminal {
	var out []house.Terminal
	for rank := 0; rank < 4; rank++ {
		for _, u := range usual {
			if rank < len(u.colours) && u.colours[rank] == colour {
				out = append(out, u.letter)
			}
		}
	}
	return out
}

// usualFor reports whether a colour is a usual one for a board letter.
func usualFor(colour string, t house.Terminal) bool {
	if t == house.Rc || t == house.Rh {
		t = house.R
	}
	return slices.Contains(Hint(colour), t)
}
