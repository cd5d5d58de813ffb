package letter

import (
	"slices"

	"stepdown/engine/house"
)

// Jackets are the colours a control cable's conductors come in.
var Jackets = []string{"red", "white", "green", "blue", "yellow", "brown", "orange", "black", "grey", "purple", "pink", "tan"}

// usual is what each letter's conductor most often looks like, commonest
// first. It is common practice: no published standard gives colours to letters,
// so a colour is told as a hint and never decides.
var usual = map[house.Terminal][]string{
	house.R:  {"red"},
	house.C:  {"blue", "black", "brown", "grey"},
	house.Y:  {"yellow"},
	house.Y2: {"black", "purple"},
	house.G:  {"green", "black", "grey"},
	house.O:  {"orange"},
	house.B:  {"blue"},
	house.W:  {"white"},
	house.W2: {"white"},
	house.E:  {"brown"},
	house.L:  {"black"},
}

// Colours are the usual colours of a letter's conductor, commonest first.
func Colours(t house.Terminal) []string {
	if t == house.Rc || t == house.Rh {
		t = house.R
	}
	return slices.Clone(usual[t])
}

// Hint lists the letters a conductor of this colour most often carries, the
// likeliest first. It is a hint and decides nothing.
func Hint(colour string) []house.Terminal {
	var out []house.Terminal
	for rank := range 4 {
		for t := house.R; t <= house.L; t++ {
			if u := usual[t]; rank < len(u) && u[rank] == colour {
				out = append(out, t)
			}
		}
	}
	return out
}
