package suspects

import (
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// visitsMost is how many bits a policy table has for visits.
const visitsMost = 64

// prices gives what probes cost in minutes, from the house as it stands.
type prices struct {
	minutes Minutes
	visits  []float64
	setups  map[house.Setup]int
	paid    uint64
}

func newPrices(m Minutes, at house.Setup, rested bool) prices {
	p := prices{minutes: m, setups: map[house.Setup]int{},
		visits: []float64{m.Face, m.CoverIndoor, m.CoverOutdoor, m.Lockout, m.Wait}}
	for bit, have := range []bool{at.Thermostat == house.Removed, at.CoverIndoor, at.CoverOutdoor,
		at.PowerIndoor == house.LockedOut && at.PowerOutdoor == house.LockedOut, rested} {
		if have {
			p.paid |= 1 << bit
		}
	}
	if bit := p.setup(at); bit >= 0 {
		p.paid |= 1 << bit
	}
	return p
}

// worked is the part of a setup that takes work of its own: the call, jumpers,
// lifted conductors, the fuse.
func worked(s house.Setup) house.Setup {
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

// setup is the visit of a setup's own work, -1 where there are no bits left.
func (p *prices) setup(s house.Setup) int {
	s = worked(s)
	if bit, ok := p.setups[s]; ok {
		return bit
	}
	if len(p.visits) >= visitsMost {
		return -1
	}
	p.visits = append(p.visits, p.work(s))
	p.setups[s] = len(p.visits) - 1
	return len(p.visits) - 1
}

func (p *prices) work(s house.Setup) float64 {
	m := p.minutes
	minutes := m.Call + m.Lift*float64(s.Lifted.Len())
	if s.Jumper != 0 {
		minutes += m.Jumper
	}
	if s.Fuse != house.FuseAsFound {
		minutes += m.Fuse
	}
	return minutes
}

// of is a probe's own minutes and the visits it needs.
func (p *prices) of(g forecast.Goal, rested bool) (minutes float64, needs uint64) {
	minutes = p.minutes.Reading
	if g.Probe.IsLook() {
		minutes = p.minutes.Look
	}
	if bit := p.setup(g.Setup); bit >= 0 {
		needs |= 1 << bit
	} else {
		minutes += p.work(worked(g.Setup))
	}
	for bit, need := range []bool{g.Setup.Thermostat == house.Removed, g.Setup.CoverIndoor || g.Setup.Jumper != 0 && g.Setup.JumperAt == house.AtIndoor,
		g.Setup.CoverOutdoor, g.Probe.Quantity == quantity.Resistance, rested || g.Setup.Jumper.Has(house.Y)} {
		if need {
			needs |= 1 << bit
		}
	}
	return minutes, needs
}
