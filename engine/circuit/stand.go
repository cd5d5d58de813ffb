package circuit

import (
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// stand is what the circuit comes to in one setup, with the buffers it was
// worked out in.
type stand struct {
	of     felt
	starts []state // it came, or would come, to this from each of them
	era    uint32  // of the house's faults; another makes it stale
	turn   uint32  // when it was last asked for

	setup   house.Setup
	settled bool
	state   state
	chatter uint32
	cycle   int // how many states a chatter goes round
	visited [visitedMost]visit
	y, yDC  []complex128 // siemens of each element, at AC and on ohms
	ac, dc  update
	dcReady bool
	read    map[reading]quantity.Reading // made here already
}

// reading is what a meter of so many ohms, none for an ohmmeter, shows between
// two nodes.
type reading struct {
	red, black int
	ohms       float64
}

// once is a reading that is made here once, however often it is asked for.
func (st *stand) once(r reading, read func() (quantity.Reading, error)) (quantity.Reading, error) {
	if x, ok := st.read[r]; ok {
		return x, nil
	}
	x, err := read()
	if err == nil {
		st.read[r] = x
	}
	return x, err
}

// felt is what the circuit feels of a setup: not the covers, nor why a feed is
// off, nor which mode it is whose outputs are on.
type felt struct {
	dark            bool // every feed is off, and nothing is left to solve
	indoor, outdoor bool // power
	seated          bool
	outputs         house.Letters
	jumper          house.Letters
	jumperAt        house.Place
	lifted          house.Conductors
	fuse            house.Fuse
}

// standsKept is how many are kept: a call goes to and fro between a few setups.
const standsKept = 12

func (h *House) felt(s house.Setup, dark bool) felt {
	f := felt{dark: dark, indoor: h.power(s, house.AtIndoor) == house.On, outdoor: h.power(s, house.AtOutdoor) == house.On,
		seated: h.seated(s), outputs: h.outputs(s), jumper: s.Jumper, lifted: s.On(h.bench.plan.eq.ID).Lifted, fuse: s.Fuse}
	if s.Jumper != 0 {
		f.jumperAt = s.JumperAt
	}
	return f
}

// take goes to the stand of a setup as it is come to from a state, and reports
// whether it is worked out already; else it is a free one.
func (h *House) take(s house.Setup, start state, dark bool) bool {
	h.turns++
	if h.stand != nil && h.stand.settled && h.stand.era == h.era && h.setup == s && h.of.dark == dark && slices.Contains(h.starts, start) {
		h.turn = h.turns
		return true
	}
	of := h.felt(s, dark)
	for _, st := range h.stands {
		if st.settled && st.era == h.era && st.of == of && (slices.Contains(st.starts, start) || st.steady(start)) {
			h.stand, st.setup, st.turn = st, s, h.turns
			return true
		}
	}
	h.stand = h.free()
	h.stand.of, h.stand.era, h.stand.turn, h.starts = of, h.era, h.turns, append(h.starts[:0], start)
	h.setup, h.settled, h.state, h.chatter, h.cycle, h.dcReady = s, false, start, 0, 0, false
	if h.read == nil {
		h.read = map[reading]quantity.Reading{}
	}
	clear(h.read)
	n := len(h.bench.plan.elements)
	h.y, h.yDC = grow(h.y, n), grow(h.yDC, n)
	return false
}

// steady reports whether a state stays as it is in the setup.
func (st *stand) steady(x state) bool { return st.cycle == 0 && st.state == x }

// join leaves a way that is not at its end for a stand that is known to be the
// end of it, and reports whether there is one.
func (h *House) join(next state) bool {
	for _, st := range h.stands {
		if st.settled && st.era == h.era && st.of == h.of && st.steady(next) {
			const most = 8
			if len(st.starts) < most {
				st.starts = append(st.starts, h.starts[0])
			}
			st.setup, st.turn = h.setup, h.turns
			h.turn = 0 // free
			h.stand = st
			return true
		}
	}
	return false
}

func (h *House) free() *stand {
	var out *stand
	for _, st := range h.stands {
		if st.era != h.era {
			return st
		}
		if out == nil || st.turn < out.turn {
			out = st
		}
	}
	if out == nil || out.turn > 0 && len(h.stands) < standsKept {
		out = &stand{}
		h.stands = append(h.stands, out)
	}
	return out
}

// forget leaves every stand behind: what is in the house has changed.
func (h *House) forget() { h.era++ }
