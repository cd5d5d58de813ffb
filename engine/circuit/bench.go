package circuit

import (
	"fmt"
	"sync"

	"stepdown/engine/house"
)

// Bench is one drawn house factorised once, at AC and, once somebody measures
// ohms, at DC, on which every fault and setup is a low-rank change. It is safe for
// several goroutines; the Houses made from it are each for one.
type Bench struct {
	draw Draw
	plan *plan
	ac   *ports
	dc   func() (*ports, error) // once

	change   func(*plan) // a test's mutation of the network, nil
	lock     sync.Mutex
	variants map[[choiceCount]uint8]*Bench // the same house as some fault needs it
}

// NewBench builds and factorises the network of a house.
func NewBench(d Draw) (*Bench, error) { return newBench(d, nil) }

func newBench(d Draw, change func(*plan)) (*Bench, error) {
	b := &Bench{draw: d, plan: newPlan(d), change: change, variants: map[[choiceCount]uint8]*Bench{}}
	if change != nil {
		change(b.plan)
	}
	var err error
	if b.ac, err = reduce(&b.plan.network, acSide); err != nil {
		return nil, fmt.Errorf("%s: %w", d.Equipment.ID, err)
	}
	b.dc = sync.OnceValues(func() (*ports, error) {
		p, err := reduce(&b.plan.network, dcSide)
		if err != nil {
			err = fmt.Errorf("%s on ohms: %w", d.Equipment.ID, err)
		}
		return p, err
	})
	return b, nil
}

// Draw is the house the bench was made from.
func (b *Bench) Draw() Draw { return b.draw }

// variant is this bench, or one for the same house changed as the faults need.
func (b *Bench) variant(faults []house.Fault) (*Bench, error) {
	d := b.draw
	for _, f := range faults {
		d = d.forced(f)
	}
	if d.choices == b.draw.choices {
		return b, nil
	}
	b.lock.Lock()
	defer b.lock.Unlock()
	if v := b.variants[d.choices]; v != nil {
		return v, nil
	}
	v, err := newBench(d, b.change)
	if err == nil {
		b.variants[d.choices] = v
	}
	return v, err
}

// House puts faults into the house: none, one or several.
func (b *Bench) House(faults ...house.Fault) (*House, error) {
	h := &House{root: b}
	return h, h.Become(faults...)
}

// NewHouse builds one house by itself; where many faults are tried on one
// draw, a Bench saves building it again.
func NewHouse(d Draw, faults ...house.Fault) (*House, error) {
	b, err := NewBench(d)
	if err != nil {
		return nil, err
	}
	return b.House(faults...)
}

// Healthy reports whether the house works: on each call it can make, every
// armature called for pulls in, the thermostat keeps its supply, the fuse holds
// and R–C stays under the 30 V of a Class 2 transformer; and when the call ends
// nothing holds on, as a supply that leaks through its load may keep it.
func (d Draw) Healthy() bool {
	h, err := NewHouse(d)
	if err != nil {
		return false
	}
	for _, s := range healthyCalls(d.Equipment) {
		h.Reset()
		if err := h.Play(s); err != nil || !h.answersCall(s) {
			return false
		}
		if err := h.Play(house.DefaultSetup()); err != nil || h.state.in != 0 {
			return false
		}
	}
	return true
}

// healthyCalls are the setups of every call an equipment can make.
func healthyCalls(e *Equipment) []house.Setup {
	var out []house.Setup
	for _, mode := range []house.Mode{house.ModeOff, house.ModeCool, house.ModeHeat, house.ModeEmergency} {
		if e.modeError(mode) != nil {
			continue
		}
		s := house.DefaultSetup()
		s.Mode, s.Calling = mode, mode != house.ModeOff
		out = append(out, s)
		if e.Calls.Fan != 0 {
			s.FanOn = true
			out = append(out, s)
		}
	}
	return out
}

// answersCall checks a settled healthy house against its call.
func (h *House) answersCall(s house.Setup) bool {
	if h.chatter != 0 || h.state.blown || !h.state.powered {
		return false
	}
	p := h.bench.plan
	const classTwoVolts = 30
	if rc := p.terminals[p.eq.Board()]; modulus(h.ac.voltage(pair(rc[p.eq.Hot(house.Y)], rc[house.C]))) > classTwoVolts {
		return false
	}
	out := h.outputs(s)
	for _, drive := range drives {
		if i := p.armature(drive.part); i >= 0 && out.Has(drive.letter) && h.state.in&(1<<i) == 0 {
			return false
		}
	}
	return true
}

// drives pairs a letter with the armatures its call must pull in.
var drives = []struct {
	letter house.Terminal
	part   string
}{
	{house.Y, "contactor"}, {house.Y2, "stage2"}, {house.O, "reversing-valve"}, {house.B, "reversing-valve"},
	{house.G, "fan-relay"}, {house.G, "fan-input"},
	{house.W, "burner-control"}, {house.W2, "burner-control"}, {house.W, "gas-valve"}, {house.W2, "gas-valve"},
	{house.W, "sequencer"}, {house.W2, "sequencer"},
}

// armature finds a part's index among the armatures, −1 where it has none.
func (p *plan) armature(part string) int {
	for i := range p.armatures {
		if p.armatures[i].part == part {
			return i
		}
	}
	return -1
}

// pair is the port between two nodes.
func pair(a, b int) *element {
	return &element{nodes: [4]int{a, b}, weight: [4]float64{1, -1}, ends: 2}
}
