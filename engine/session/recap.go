package session

import (
	"fmt"

	"stepdown/engine/house"
)

// recap says where a call stands that somebody takes up again; nothing before
// its complaint is known.
func (b *Book) recap(s State) []Effect {
	t := b.Trees.Trees[s.gates.complaint]
	if t == nil || s.phase == leaving {
		return nil
	}
	line := "So far: " + t.Title
	if s.facts.Equipment != house.NoEquipment {
		line += "; " + s.facts.Equipment.Title()
	}
	out := []Effect{tell(line + ".")}
	switch n := len(s.seen); n {
	case 0:
	case 1:
		out = append(out, tell("One look or reading is kept; `record` shows it."))
	default:
		out = append(out, tell(fmt.Sprintf("%d looks and readings are kept; `record` shows them.", n)))
	}
	return out
}
