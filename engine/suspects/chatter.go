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

// dragged adds, where a fuse holds a short, what lies between a healthy house and
// one with the fuse blown: how far the short drags the voltage down is a matter
// of tenths of an ohm, and where that leaves an armature or a display the few
// houses drawn do not tell.
func dragged(l house.Look, pieces, healthy, blown []forecast.Piece) []forecast.Piece {
	out := slices.Clip(pieces)
	if l == house.FuseLook {
		return out
	}
	add := func(p forecast.Piece) {
		if !slices.ContainsFunc(out, func(q forecast.Piece) bool { return q.Lo == p.Lo }) {
			p.Share = chatterShare
			out = append(out, p)
		}
	}
	for _, p := range healthy {
		add(p)
	}
	for _, p := range blown {
		add(p)
	}
	if a, ok := armatures[l]; ok && len(out) > len(pieces) {
		add(a.chatters)
		add(a.out)
	}
	return out
}
