package policy

import (
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Minutes is what things take. A visit to a place is paid once, and so is a
// setup's own work.
type Minutes struct {
	Look, Reading               float64
	Call, Face                  float64
	CoverIndoor, CoverOutdoor   float64
	Jumper, Lift, Lockout, Fuse float64
	Wait                        float64
}

// The visits that are paid once, by bit; setups take the bits after them, the
// first for the house as it stands.
const (
	visitFace = iota
	visitIndoor
	visitOutdoor
	visitLockout
	visitWait
	visitCount
)

// visitsMost is how many bits a Test has for visits.
const visitsMost = 64

// Till prices probes: each its own minutes, and by bit the visits it needs, as
// a Test has them. Setups get their bits as they come up. It serves one
// goroutine.
type Till struct {
	Minutes
	Visits []float64 // minutes of each visit
	Paid   uint64    // visits made already

	setups map[house.Setup]int
}

// NewTill prices from the house as it stands: what is open, locked out, called or
// jumpered is paid, and five minutes are where they were counted.
func NewTill(m Minutes, at house.Setup, rested bool) *Till {
	t := &Till{Minutes: m, setups: map[house.Setup]int{work(at): visitCount},
		Visits: []float64{m.Face, m.CoverIndoor, m.CoverOutdoor, m.Lockout, m.Wait, 0}}
	for bit, have := range [visitCount]bool{at.Thermostat == house.Removed, at.CoverIndoor, at.CoverOutdoor,
		at.PowerIndoor == house.LockedOut && at.PowerOutdoor == house.LockedOut, rested} {
		if have {
			t.Paid |= 1 << bit
		}
	}
	return t
}

// Of is a probe's own minutes and the visits it needs, paid or not; rested
// where the call is to run through a counted five minutes first.
func (t *Till) Of(s house.Setup, p house.Probe, rested bool) (minutes float64, needs uint64) {
	minutes = t.Reading
	if p.IsLook() {
		minutes = t.Look
	}
	own := work(s)
	if bit := t.setup(own); bit >= 0 {
		needs |= 1 << bit
	} else {
		minutes += t.work(own)
	}
	for bit, need := range [visitCount]bool{
		visitFace:    s.Thermostat == house.Removed,
		visitIndoor:  s.CoverIndoor || s.Jumper != 0 && s.JumperAt == house.AtIndoor,
		visitOutdoor: s.CoverOutdoor,
		visitLockout: p.Quantity == quantity.Resistance && !p.IsLook(),
		visitWait:    rested || s.Jumper.Has(house.Y) || s.Jumper.Has(house.Y2),
	} {
		if need {
			needs |= 1 << bit
		}
	}
	return minutes, needs
}

// Now is what a probe takes with the visits it still needs.
func (t *Till) Now(s house.Setup, p house.Probe, rested bool) float64 {
	minutes, needs := t.Of(s, p, rested)
	for bit, visit := range t.Visits {
		if needs&^t.Paid&(1<<bit) != 0 {
			minutes += visit
		}
	}
	return minutes
}

// Pay is Now, the visits paid from then on.
func (t *Till) Pay(s house.Setup, p house.Probe, rested bool) float64 {
	minutes := t.Now(s, p, rested)
	_, needs := t.Of(s, p, rested)
	t.Paid |= needs
	return minutes
}

// setup is the bit of a setup's own work, −1 where none is left.
func (t *Till) setup(own house.Setup) int {
	if bit, ok := t.setups[own]; ok {
		return bit
	}
	if len(t.Visits) >= visitsMost {
		return -1
	}
	t.Visits = append(t.Visits, t.work(own))
	t.setups[own] = len(t.Visits) - 1
	return len(t.Visits) - 1
}

// work is the part of a setup that takes work of its own: the call, jumpers,
// lifted conductors, the fuse.
func work(s house.Setup) house.Setup {
	s.PowerIndoor, s.PowerOutdoor = house.On, house.On
	s.CoverIndoor, s.CoverOutdoor = false, false
	if s.Thermostat == house.Removed {
		s.Mode, s.Calling, s.FanOn = house.ModeOff, false, false
	}
	s.Thermostat = house.Mounted
	if s.Jumper == 0 {
		s.JumperAt = house.AtThermostat
	}
	return s
}

// SameWork reports whether two setups differ only in power, covers and face.
func SameWork(a, b house.Setup) bool { return work(a) == work(b) }

func (t *Till) work(s house.Setup) float64 {
	minutes := t.Call + t.Lift*float64(s.Lifted.Len())
	if s.Jumper != 0 {
		minutes += t.Jumper
	}
	if s.Fuse != house.FuseAsFound {
		minutes += t.Fuse
	}
	return minutes
}
