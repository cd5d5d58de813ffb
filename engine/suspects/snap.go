package suspects

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/policy"
	"stepdown/engine/quantity"
)

// tolerance is how far apart, on the forecast's axis, two ends of intervals may
// lie and still count as one: nobody is sent to a meter for less.
func tolerance(p house.Probe, x float64) float64 {
	switch {
	case p.IsLook():
		return 0
	case p.Quantity == quantity.Resistance:
		return 0.1
	case p.Quantity == quantity.Current:
		return 0.05
	case p.LineClass():
		return 6
	}
	return 0.4 + 0.05*math.Abs(x)
}

// snap moves ends of intervals that lie within the tolerance of one another to
// one place. It gives a pattern equal for tests that split the states alike,
// and whether the test splits any.
func snap(shows [][]policy.Piece, probe house.Probe) (pattern string, splits bool) {
	type end struct {
		at float64
		to *float64
	}
	var ends []end
	for i := range shows {
		for k := range shows[i] {
			ends = append(ends, end{shows[i][k].Lo, &shows[i][k].Lo}, end{shows[i][k].Hi, &shows[i][k].Hi})
		}
	}
	slices.SortFunc(ends, func(a, b end) int { return cmp.Compare(a.at, b.at) })
	rank := make(map[float64]byte)
	for i := 0; i < len(ends); {
		from := ends[i].at
		reach := from + tolerance(probe, from)
		rank[from] = byte(len(rank))
		for ; i < len(ends) && (ends[i].at <= reach || ends[i].at == from); i++ {
			*ends[i].to = from
		}
	}
	spread(shows, probe)
	key := make([]byte, 0, 64)
	for i := range shows {
		shows[i] = merged(shows[i])
		key = append(key, 255)
		for _, p := range shows[i] {
			key = append(key, rank[p.Lo], rank[p.Hi]) // 0 for the end of a narrow one
			key = binary.LittleEndian.AppendUint16(key, uint16(p.Share*1000))
		}
		if i > 0 && !slices.EqualFunc(shows[0], shows[i], func(a, b policy.Piece) bool { return a.Lo == b.Lo && a.Hi == b.Hi }) {
			splits = true
		}
	}
	return string(key), splits
}

// spread gives an interval that snapping has made a point the tolerance as its
// width, so that it still shares readings with wider ones.
func spread(shows [][]policy.Piece, probe house.Probe) {
	for i := range shows {
		for k := range shows[i] {
			p := &shows[i][k]
			if p.Lo == p.Hi && !probe.IsLook() && !math.IsInf(p.Lo, 1) {
				p.Hi = p.Lo + tolerance(probe, p.Lo)
			}
		}
	}
}

// merged joins pieces that snapping has laid on one another.
func merged(pieces []policy.Piece) []policy.Piece {
	out := pieces[:0]
	for _, p := range pieces {
		if k := len(out) - 1; k >= 0 && out[k].Lo == p.Lo && out[k].Hi == p.Hi {
			out[k].Share += p.Share
			continue
		}
		out = append(out, p)
	}
	return out
}
