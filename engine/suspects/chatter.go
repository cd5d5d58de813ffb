package suspects

import (
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// armature is how a look tells what the contactor's armature does.
type armature struct{ in, out, chatters forecast.Piece }

// chatterShare is what is given to a chatter that no drawn house showed: less
// than one house of those drawn.
const chatterShare = 0.02

var armatures = map[house.Look]armature{
	house.OutdoorUnit:   armatureOf(house.OutdoorUnit, "running", "humming"),
	house.ContactorLook: armatureOf(house.ContactorLook, "pulled-in", "released"),
}

func armatureOf(l house.Look, in, out string) armature {
	piece := func(word string, share float64) forecast.Piece {
		a, err := l.ParseAnswer(word)
		if err != nil {
			panic(err) // the words are the vocabulary's own
		}
		return forecast.Piece{Lo: forecast.AtAnswer(a), Hi: forecast.AtAnswer(a), Share: share}
	}
	return armature{in: piece(in, 0), out: piece(out, 0), chatters: piece("chattering", chatterShare)}
}

// withChatter adds, where an armature pulls in in one house and hums in another,
// the chatter that lies between: houses in which it finds no rest are few, and
// those drawn may hold none.
func withChatter(l house.Look, pieces []forecast.Piece) []forecast.Piece {
	a, ok := armatures[l]
	if !ok {
		return pieces
	}
	shows := func(p forecast.Piece) bool {
		return slices.ContainsFunc(pieces, func(q forecast.Piece) bool { return q.Lo == p.Lo })
	}
	if !shows(a.in) || !shows(a.out) || shows(a.chatters) {
		return pieces
	}
	return append(slices.Clip(pieces), a.chatters)
}
