package prove

import (
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// names reports whether a text names a probe in the words of trees: a look by
// its id, a reading by its pair and place (`Y-C at outdoor`), a clamp by its
// conductor.
func names(text string, p house.Probe) bool {
	switch {
	case p.IsLook():
		return hasWord(text, p.Look.String())
	case p.Quantity == quantity.Current:
		return hasWord(text, p.Conductor.String())
	}
	return hasWord(text, p.Red.String()+"-"+p.Black.String()+" at "+p.At.String()) ||
		hasWord(text, p.Black.String()+"-"+p.Red.String()+" at "+p.At.String())
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
