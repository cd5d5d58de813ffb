package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Prices are the minutes things take. A visit to a place is paid once, and so
// is a setup's own work.
type Prices struct {
	Look, Reading             float64
	Call, Face                float64
	CoverIndoor, CoverOutdoor float64
	Jumper, Lift              float64
	Lockout, Fuse, Wait       float64
}

// The visits that are paid once, by bit; setups take the bits after them.
const (
	visitFace = iota
	visitIndoor
	visitOutdoor
	visitLockout
	visitWait
	visitCount
)

// visitsMost is how many visits a table of tests can tell apart.
const visitsMost = 64

// till prices probes; setups get their bits as they come up.
type till struct {
	Prices
	visits []float64
	setups map[house.Setup]int
}

func newTill(p Prices) *till {
	return &till{Prices: p, setups: map[house.Setup]int{},
		visits: []float64{p.Face, p.CoverIndoor, p.CoverOutdoor, p.Lockout, p.Wait}}
}

// of is a probe's own minutes and the visits it needs.
func (t *till) of(g goal) (minutes float64, needs uint64) {
	minutes = t.Reading
	if g.probe.IsLook() {
		minutes = t.Look
	}
	own := work(g.setup)
	bit, ok := t.setups[own]
	switch {
	case ok:
		needs |= 1 << bit
	case len(t.visits) < visitsMost:
		bit = len(t.visits)
		t.setups[own] = bit
		t.visits = append(t.visits, t.work(own))
		needs |= 1 << bit
	default:
		minutes += t.work(own)
	}
	s := g.setup
	for bit, need := range [visitCount]bool{
		visitFace:    s.Thermostat == house.Removed,
		visitIndoor:  s.CoverIndoor || s.Jumper != 0 && s.JumperAt == house.AtIndoor,
		visitOutdoor: s.CoverOutdoor,
		visitLockout: g.probe.Quantity == quantity.Resistance && !g.probe.IsLook(),
		visitWait:    s.Jumper.Has(house.Y) || s.Jumper.Has(house.Y2),
	} {
		if need {
			needs |= 1 << bit
		}
	}
	return minutes, needs
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

func (t *till) work(s house.Setup) float64 {
	if s == house.DefaultSetup() {
		return 0
	}
	minutes := t.Call + t.Lift*float64(s.Lifted.Len())
	if s.Jumper != 0 {
		minutes += t.Jumper
	}
	if s.Fuse != house.FuseAsFound {
		minutes += t.Fuse
	}
	return minutes
}

// bill is what the probes of one call come to, in the order they were made.
func (t *till) bill(goals []goal) float64 {
	var sum float64
	var paid uint64
	for _, g := range goals {
		minutes, needs := t.of(g)
		sum += minutes
		for bit, m := range t.visits {
			if needs&^paid&(1<<bit) != 0 {
				sum += m
			}
		}
		paid |= needs
	}
	return sum
}
