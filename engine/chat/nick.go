package chat

import (
	"strings"

	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// nick is a reading's name as it is shown. A tree tells its readings apart by the
// sort of system too; who stands at it knows that, and on another the word only
// puzzles.
func nick(p session.Pair) string { return source.Clean(strings.ReplaceAll(p.Name, "-pump", "")) }

func nicks(pairs []session.Pair) []string {
	out := make([]string, len(pairs))
	for i, p := range pairs {
		out[i] = nick(p)
	}
	return out
}

// unnick gives readings under the names of the tree, whichever was typed.
func unnick(pairs []session.Pair, read map[string]quantity.Reading) map[string]quantity.Reading {
	out := make(map[string]quantity.Reading, len(read))
	for name, r := range read {
		for _, p := range pairs {
			if name == nick(p) {
				name = p.Name
			}
		}
		out[name] = r
	}
	return out
}
