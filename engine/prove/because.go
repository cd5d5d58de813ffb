package prove

import (
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// names reports whether a text names a probe on equipment e in the words of
// trees: a look by its id, a reading by its pair and place (`Y-C at outdoor`), a
// clamp by its conductor. Trees write R and C for either transformer's.
func names(text string, p house.Probe, e house.Equipment) bool {
	switch {
	case p.IsLook():
		return hasWord(text, p.Look.String())
	case p.Quantity == quantity.Current:
		return hasWord(text, p.Conductor.String())
	}
	for _, red := range []house.Terminal{p.Red, house.R, house.C} {
		for _, black := range []house.Terminal{p.Black, house.R, house.C} {
			if house.Measure(p.Quantity, red, black, p.At).On(e) == p && (hasWord(text, red.String()+"-"+black.String()+" at "+p.At.String()) ||
				hasWord(text, black.String()+"-"+red.String()+" at "+p.At.String())) {
				return true
			}
		}
	}
	return false
}

// hasWord reports whether text has the words, not as part of longer ones.
func hasWord(text, words string) bool {
	for at := 0; ; {
		i := strings.Index(text[at:], words)
		if i < 0 {
			return false
		}
		i += at
		end := i + len(words)
		if (i == 0 || !wordByte(text[i-1])) && (end == len(text) || !wordByte(text[end])) {
			return true
		}
		at = i + 1
	}
}

func wordByte(b byte) bool {
	return b == '-' || b == '@' || b >= '0' && b <= '9' || b|0x20 >= 'a' && b|0x20 <= 'z'
}
