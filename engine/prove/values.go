package prove

import (
	"slices"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// values is what one house shows, each probe worked out when it is first asked
// for: as it is, and as it is when the call is not made, the delay runs or the
// mode is wrong. It serves one goroutine.
type values struct {
	bench  *circuit.Bench
	fault  house.Fault
	setups []house.Setup // of the symptom
	worlds [worldCount]showing
}

// The worlds a caller may be in without knowing.
const (
	worldPlain = iota
	worldNoCall
	worldDelay
	worldMode
	worldRested // a delay that was the fault has run out
	worldCount
)

// showing is one of them: the house with its history, and what it has shown.
type showing struct {
	house *circuit.House // shared by worlds of the same faults
	past  circuit.Past
	ready bool // its history is played
	put   bool // the fault is in …
	none  bool // … or goes into no such house
	dead  bool // there is no such house, or it cannot have that history
	kept  []kept
	stamp int32
}

type kept struct {
	stamp int32
	shows
}

// worldOf is the world a slip puts the caller in. A compressor delay runs out
// once its minutes are counted.
func (v *values) worldOf(k SlipKind, rested bool) int {
	switch {
	case rested && k == SlipDelay:
		k = NoSlip
	case rested && v.fault == house.DelayRunning && (k == NoSlip || k == SlipUnable || k == SlipWrong || k == SlipDC || k == SlipDeadLead):
		v.ready(worldRested, NoSlip)
		return worldRested
	}
	switch k {
	case SlipNoCall:
		return worldNoCall
	case SlipDelay:
		return worldDelay
	case SlipMode:
		return worldMode
	}
	return worldPlain
}

// become puts a fault into the house; false where it does not fit.
func (v *values) become(f house.Fault) bool {
	v.fault = f
	for i := range v.worlds {
		w := &v.worlds[i]
		switch {
		case w.house != nil:
		case i == worldNoCall, i == worldMode:
			w.house = v.worlds[worldPlain].house
		default:
			h, err := v.bench.House()
			if err != nil {
				return false
			}
			w.house = h
		}
		w.ready, w.put, w.none, w.dead = false, false, false, false
		w.stamp++
	}
	return v.worlds[worldPlain].house.Become(f) == nil
}

// symptom forgets the history and plays the setups of a complaint's symptom.
// What was shown is kept where the history is the same as before.
func (v *values) symptom(setups []house.Setup) {
	if v.worlds[worldPlain].ready && slices.Equal(v.setups, setups) {
		return
	}
	for i := range v.worlds {
		w := &v.worlds[i]
		w.ready, w.dead = false, w.none
		w.stamp++
	}
	v.setups = setups
	v.play(worldPlain, NoSlip)
}

// ready prepares the world of a slip; false where it is none for this house.
func (v *values) ready(world int, k SlipKind) bool {
	w := &v.worlds[world]
	if w.ready {
		return !w.dead
	}
	w.ready = true
	if !w.put {
		w.put, w.none = true, !v.into(world)
		w.dead = w.none
	}
	if !w.dead {
		v.play(world, k)
	}
	return !w.dead
}

// into puts the fault into the house of a world; false where it does not fit.
func (v *values) into(world int) bool {
	h := v.worlds[world].house
	switch world {
	case worldRested:
		return h.Become(house.None) == nil
	case worldDelay:
		return v.fault != house.DelayRunning && h.Become(v.fault, house.DelayRunning) == nil
	}
	return true // with the plain one
}

func (v *values) play(world int, k SlipKind) {
	w := &v.worlds[world]
	w.ready = true
	w.house.Reset()
	for _, s := range v.setups {
		if w.house.Play(Slip{Kind: k}.bend(s)) != nil {
			w.dead = true
		}
	}
	w.past = w.house.Past()
}

// at is what a probe shows to a caller with a slip.
func (v *values) at(id goalID, g goal, k SlipKind, rested bool) shows {
	w := &v.worlds[v.worldOf(k, rested)]
	if g.odd(v.bench.Draw().Equipment.ID) {
		return misread(w.show(g, k), g, k)
	}
	for int(id) >= len(w.kept) {
		w.kept = append(w.kept, make([]kept, 64)...)
	}
	x := &w.kept[id]
	if x.stamp != w.stamp {
		x.stamp, x.shows = w.stamp, w.show(g, k)
	}
	return misread(x.shows, g, k)
}

// misread is what a meter with a slip makes of what a probe shows.
func misread(x shows, g goal, k SlipKind) shows {
	if (k == SlipDC || k == SlipDeadLead) && !x.unable && !g.probe.IsLook() {
		x.reading = Slip{Kind: k}.misread(g.probe.Quantity, x.reading)
	}
	return x
}

func (w *showing) show(g goal, k SlipKind) shows {
	w.house.Return(w.past)
	setup := g.setup
	// The outdoor feed, where the probe cannot tell: on, as it mostly is, so
	// that fewer states of the house are worked out.
	if !w.house.Draw().Equipment.ID.Packaged() {
		setup.PowerOutdoor = g.probe.Comparable(setup).PowerOutdoor
	}
	setup = Slip{Kind: k}.bend(setup)
	if g.probe.IsLook() {
		a, err := w.house.Look(setup, g.probe.Look)
		return shows{answer: a, unable: err != nil}
	}
	r, err := w.house.Read(setup, g.probe)
	if err != nil {
		return shows{reading: quantity.Reading{Missing: true}, unable: true}
	}
	return shows{reading: r}
}

// slip prepares what a slip shows; false where it is none for this house.
func (v *values) slip(k SlipKind) bool {
	world := v.worldOf(k, false)
	return v.ready(world, k)
}
