package circuit

import (
	"fmt"
	"math/bits"

	"stepdown/engine/house"
)

// House is a drawn house with faults in it, and its history: the fuse, and the
// armatures as the last setup played left them. It answers probes in any
// setup; its buffers are reused, so it serves one goroutine.
type House struct {
	root, bench *Bench
	faults      house.FaultSet
	stuck       house.Letters // thermostat contacts that never open …
	failed      house.Letters // … and that never close
	overrides   []override
	dead        uint32        // armatures that never pull in
	live        house.Letters // screws a landed base's thermostat energises

	history state
	*stand           // of the setup last asked for
	stands  []*stand // … and of others, while the faults stay
	era     uint32   // counts what was put in
	turns   uint32
}

// state is what the network cannot tell by itself.
type state struct {
	in      uint32 // armatures pulled in
	blown   bool   // the fuse
	powered bool   // the thermostat
}

// visit is a state on the way to a steady one, with the armatures that had
// more than their drop-out voltage in it.
type visit struct {
	state state
	live  uint32
}

// visitedMost bounds the way to a steady state or round a chatter; each step
// moves an armature, the fuse or the thermostat, and the longest seen is 9.
const visitedMost = 64

// Become takes the old faults out, puts others in and forgets the history.
func (h *House) Become(faults ...house.Fault) error {
	for _, f := range faults {
		if !h.root.plan.eq.Fits(f) {
			return fmt.Errorf("fault %s does not fit %s", f, h.root.plan.eq.ID)
		}
	}
	b, err := h.root.variant(faults)
	if err != nil {
		return err
	}
	h.bench, h.faults = b, house.FaultSet{}
	h.stuck, h.failed, h.dead = 0, 0, 0
	h.overrides = h.overrides[:0]
	for _, f := range faults {
		h.faults = h.faults.Add(f)
		h.overrides = b.plan.overrides(f, h.overrides)
		h.contactFault(f)
		if i := b.plan.armature(partOf[f]); i >= 0 && neverPullsIn(f) {
			h.dead |= 1 << i
		}
	}
	h.forget()
	h.Reset()
	return nil
}

func neverPullsIn(f house.Fault) bool {
	switch f {
	case house.ContactorCoilOpen, house.ContactorCoilShorted, house.ValveCoilOpen, house.ValveCoilShorted,
		house.FanRelayOpen, house.SequencerOpen, house.Stage2Open, house.ContactorStuckOpen:
		return true
	}
	return false
}

// Draw is the house as the faults needed it.
func (h *House) Draw() Draw { return h.bench.draw }

// Faults are the faults in the house.
func (h *House) Faults() house.FaultSet { return h.faults }

func (h *House) has(f house.Fault) bool { return h.faults.Has(f) }

// Reset forgets the history: armatures out, a fuse that is good unless it is
// the fault.
func (h *House) Reset() {
	h.history = state{blown: h.has(house.FuseBlown), powered: true}
}

// Play puts the house in a setup and keeps what that does to the fuse and the
// armatures. Probes made afterwards start from there.
func (h *House) Play(s house.Setup) error {
	if err := h.settle(s); err != nil {
		return err
	}
	blown := h.history.blown
	h.history = h.state
	if s.Fuse != house.FuseAsFound {
		h.history.blown = blown
	}
	return nil
}

// Past is what has happened to a house: its fuse and where its armatures stood.
type Past struct{ history state }

// Past is what was played so far.
func (h *House) Past() Past { return Past{h.history} }

// Return has the house go on from a past of its own with the same faults.
func (h *House) Return(p Past) { h.history = p.history }

// Blown reports whether what was played has blown the fuse, or it is the fault.
func (h *House) Blown() bool { return h.history.blown }

// settle finds the steady state of a setup: armatures first, which move in
// milliseconds, then the fuse, then the thermostat, which rides through both.
// A state met twice is a chatter.
func (h *House) settle(s house.Setup) error {
	start := h.history
	start.powered = true
	if s.Fuse != house.FuseAsFound {
		start.blown = false
	}
	if h.take(s, start, false) {
		return nil
	}
	for n := 0; n < visitedMost; n++ {
		for i := 0; i < n; i++ {
			if h.visited[i].state == h.state {
				h.round(i, n)
				return h.rest(s)
			}
		}
		if err := h.solve(s, h.state); err != nil {
			return err
		}
		next, live := h.moved(s)
		h.visited[n] = visit{h.state, live}
		if next == h.state {
			h.rested()
			return nil
		}
		if h.join(next) {
			return nil
		}
		h.state = next
	}
	return fmt.Errorf("%s in %s: no steady state and no chatter within %d steps", h.bench.plan.eq.ID, s, visitedMost)
}

// rest solves the state the setup came to, to the last digit.
func (h *House) rest(s house.Setup) error {
	if err := h.solve(s, h.state); err != nil {
		return err
	}
	h.rested()
	return nil
}

// rested keeps the state just solved as the one the setup came to.
func (h *House) rested() {
	h.ac.refine(h.y)
	h.settled = true
}

// goDark puts the house in a setup with every feed off: no armature holds, and
// only batteries keep a thermostat. Nothing is left to solve.
func (h *House) goDark(s house.Setup) {
	start := state{blown: h.history.blown && s.Fuse == house.FuseAsFound,
		powered: !h.seated(s) || h.bench.draw.Choice(Supply) == "battery"}
	h.take(s, start, true)
	h.settled = true
}

// solve solves the AC network in one state.
func (h *House) solve(s house.Setup, st state) error {
	h.fill(s, st, acSide)
	return h.ac.to(h.bench.ac, h.y)
}

// moved gives the state that follows the one just solved, and the armatures
// that have more than their drop-out voltage.
func (h *House) moved(s house.Setup) (next state, live uint32) {
	p := h.bench.plan
	next = h.state
	for i := range p.armatures {
		a := &p.armatures[i]
		volts := modulus(h.ac.voltage(&p.elements[a.element]))
		bit := uint32(1) << i
		if volts >= a.drop {
			live |= bit
		}
		switch {
		case h.dead&bit != 0 || volts < a.drop:
			next.in &^= bit
		case volts >= a.pickUp:
			next.in |= bit
		}
	}
	if next != h.state {
		return next, live
	}
	if !h.state.blown && s.Fuse != house.FuseOut && h.fuseAmperes() > h.fuseLimit() {
		next.blown = true
		return next, live
	}
	next.powered = h.supplied(s)
	return next, live
}

func (h *House) fuseAmperes() float64 {
	i := h.bench.plan.part["fuse"]
	return modulus(h.ac.voltage(&h.bench.plan.elements[i]) * h.y[i])
}

func (h *House) fuseLimit() float64 {
	return h.bench.draw.Value("fuse.amperes") * h.bench.draw.Value("fuse.blows-at-times")
}

// round notes a chatter: the states from first to last go round, and those
// armatures chatter whose position or whose voltage changes on the way.
func (h *House) round(first, last int) {
	h.cycle = copy(h.visited[:], h.visited[first:last])
	for _, v := range h.visited[1:h.cycle] {
		h.chatter |= (v.state.in ^ h.visited[0].state.in) | (v.live ^ h.visited[0].live)
	}
	h.state = h.visited[0].state
}

// Chatter names the parts that find no rest in a setup: armatures, and
// "thermostat" where it loses its supply whenever its own call loads it.
func (h *House) Chatter(s house.Setup) ([]string, error) {
	if err := h.settle(s); err != nil {
		return nil, err
	}
	var out []string
	for mask := h.chatter; mask != 0; mask &= mask - 1 {
		out = append(out, h.bench.plan.armatures[bits.TrailingZeros32(mask)].part)
	}
	if h.cycle > 0 && !h.keepsSupply() {
		out = append(out, "thermostat")
	}
	return out, nil
}

// in tells whether a part has pulled in and stays so.
func (h *House) in(part string) bool {
	i := h.bench.plan.armature(part)
	return i >= 0 && h.state.in&(1<<i) != 0 && h.chatter&(1<<i) == 0
}

// chatters reports whether a part is heard to find no rest. A coil that is open
// or shorted moves nothing, whatever comes and goes at its ends.
func (h *House) chatters(part string) bool {
	i := h.bench.plan.armature(part)
	return i >= 0 && h.chatter&(1<<i) != 0 && !(part == "contactor" && h.lifeless())
}

// lifeless reports whether the contactor's coil has no pull.
func (h *House) lifeless() bool {
	return h.has(house.ContactorCoilOpen) || h.has(house.ContactorCoilShorted)
}
