package forecast

import (
	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// part is the draws a row stands for.
type part struct {
	draws []bool // nil: all
	share float64
	few   float64 // how many times fewer than all they are
	holds bool    // those whose fuse holds a short
}

func (p part) has(draw int) bool { return p.draws == nil || p.draws[draw] }

// fewer is how many times fewer than all the houses of a row are.
func fewer(parts []part, row int) float64 {
	if parts == nil {
		return 1
	}
	return parts[row].few
}

// heldSlack is how many times wider the guard of a short that its fuse holds is:
// how far it drags everything down hangs on tenths of an ohm.
const heldSlack = 3

func slack(parts []part, row int) float64 {
	if parts != nil && parts[row].holds {
		return heldSlack
	}
	return 1
}

// whole is the part of a fault that has one row.
var whole = []part{{share: 1, few: 1}}

// sides are the faults that show one or the other of two things by a choice of
// the house, and the option of the first.
var sides = map[house.Fault]struct {
	choice circuit.Choice
	first  string
}{
	house.FloatOpen:  {circuit.FloatIn, "R"},
	house.ValveStuck: {circuit.ValveSticks, "energised"},
}

// partsOf parts the draws where a fault shows two things that never go
// together: a short that blows the fuse and one that the fuse holds, a float
// switch in R and one in Y, a valve stuck in one position and in the other. A
// forecast without slow fuses keeps one row a fault.
func (s *Sheet) partsOf(f house.Fault, o Options) ([]part, error) {
	if o.SlowFuse <= 0 {
		return whole, nil
	}
	if shorts(f) {
		return s.byFuse(f, o)
	}
	side, ok := sides[f]
	if !ok || !s.eq.Draws(side.choice) {
		return whole, nil
	}
	first := make([]bool, len(s.benches))
	for i, b := range s.benches {
		first[i] = b.Draw().Choice(side.choice) == side.first
	}
	return halves(first, func(int) bool { return true }), nil
}

// byFuse parts the draws by whether a short blows the fuse on any call. The
// draws given a fuse that holds are left out of the shares.
func (s *Sheet) byFuse(f house.Fault, o Options) ([]part, error) {
	blows := make([]bool, len(s.benches))
	err := share(len(s.benches), s.workers, func(i int) (err error) {
		blows[i], err = s.blows(s.benches[i], f)
		return err
	})
	if err != nil {
		return nil, err
	}
	parts := halves(blows, func(i int) bool { return !o.slow(i) })
	if len(parts) == 2 {
		parts[1].holds = true
	}
	return parts, nil
}

// halves parts draws in two. Their shares are those of the draws that count, half
// a draw added to each side since there may be few; one part where all draws are
// alike.
func halves(first []bool, counts func(draw int) bool) []part {
	parts := []part{{draws: first}, {draws: make([]bool, len(first))}}
	var seen, counted [2]float64
	for i, is := range first {
		side := 0
		if parts[1].draws[i] = !is; !is {
			side = 1
		}
		seen[side]++
		if counts(i) {
			counted[side]++
		}
	}
	if seen[0] == 0 || seen[1] == 0 {
		return whole
	}
	for side := range parts {
		parts[side].share = (counted[side] + 0.5) / (counted[0] + counted[1] + 1)
		parts[side].few = float64(len(first)) / seen[side]
	}
	return parts
}

// shorts reports whether a fault may blow the fuse.
func shorts(f house.Fault) bool {
	return f >= house.ShortRC && f <= house.ShortYCOutdoor || f == house.ContactorCoilShorted || f == house.ValveCoilShorted || f == house.CommonOnB
}

// blows reports whether a house with a fault blows its fuse on any call it can
// make, the complaint's among them.
func (s *Sheet) blows(b *circuit.Bench, f house.Fault) (bool, error) {
	h, err := b.House(f)
	if err != nil {
		return false, err
	}
	l := lister{e: s.eq}
	for _, setup := range append(l.calls(), s.kind.Symptom) {
		if err := h.Play(setup); err != nil {
			return false, err
		}
		if h.Blown() {
			return true, nil
		}
	}
	return false, nil
}
