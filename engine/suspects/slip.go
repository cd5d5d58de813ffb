package suspects

import (
	"fmt"
	"slices"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Slip is a usual mistake in making a probe.
type Slip uint8

// The slips, commonest first; a misreading is what is left.
const (
	NoSlip Slip = iota
	CallNotMade
	DelayStillRunning
	WrongMode
	DeadLead
	MeterOnDC
	Misread
)

var slips = [...]struct {
	id, text string
	// share is how often it is this slip, among slips (an assumption, from
	// memory of what goes wrong on calls; it only orders).
	share float64
}{
	{"", "", 0},
	{"call-not-made", "the call may not have been made: check that the thermostat calls, five degrees past the room", .3},
	{"delay-running", "the compressor delay may still be running: wait five minutes with the call made", .2},
	{"wrong-mode", "the thermostat may be in the other mode: check cool and heat", .15},
	{"dead-lead", "a meter lead may not conduct: touch the leads together on ohms, or read a known source", .15},
	{"meter-on-dc", "the meter may be on DC: set it to AC volts", .1},
	{"misread", "the reading may be misread or taken at another screw", .1},
}

func (s Slip) String() string { return slips[s].id }

// Text says what may have gone wrong with a probe and how to check it.
func (s Slip) Text(p house.Probe) string {
	if s == Misread && p.IsLook() {
		return "it may have been looked at too soon, or at another one"
	}
	return slips[s].text
}

// Contradiction is readings that no fault explains together.
type Contradiction struct {
	// Retake is the reading that is best made again, Index its place.
	Retake Seen
	Index  int
	Slip   Slip
}

func (c *Contradiction) String() string {
	return fmt.Sprintf("no one fault explains %s with the rest; %s", c.Retake.Probe, c.Slip.Text(c.Retake.Probe))
}

// slipped is the goal somebody really probed who made a slip; ok is false where
// the slip changes nothing. fixed is what the meter shows whatever the house
// does, where the slip is with the meter.
func (s Slip) slipped(seen Seen) (g forecast.Goal, fixed []forecast.Piece, ok bool) {
	g = seen.goal()
	meter := !seen.Probe.IsLook() && seen.Probe.Quantity != quantity.Current
	switch s {
	case CallNotMade:
		ok = g.Setup.Calling || g.Setup.FanOn
		g.Setup.Calling, g.Setup.FanOn = false, false
	case WrongMode:
		ok = g.Setup.Mode == house.ModeCool || g.Setup.Mode == house.ModeHeat // a changeover follows it, called or not
		g.Setup.Mode = house.ModeCool + house.ModeHeat - g.Setup.Mode
	case DeadLead:
		ok = meter
		fixed = []forecast.Piece{{Lo: 0, Hi: 0.3, Share: 1}}
		if seen.Probe.Quantity == quantity.Resistance {
			over := forecast.At(quantity.Resistance, quantity.Reading{OL: true})
			fixed = []forecast.Piece{{Lo: over, Hi: over, Share: 1}}
		}
	case MeterOnDC:
		ok = meter && seen.Probe.Quantity != quantity.Resistance && seen.Probe.Quantity != quantity.DCVolts
		fixed = []forecast.Piece{{Lo: 0, Hi: 0.3, Share: 1}}
	}
	return g, fixed, ok
}

// contradiction finds which reading is best made again, and why: the reading
// without which something explains the rest, and the slip under which that same
// thing would have shown what was read.
func (c *Call) contradiction(last Seen) (*Contradiction, error) {
	best := &Contradiction{Retake: last, Index: c.indexOf(last), Slip: Misread}
	var worth float64
	for i, s := range c.seen {
		if s.Confirmed {
			continue
		}
		c.replay(i)
		if c.Left() == 0 {
			continue
		}
		for slip := CallNotMade; slip <= Misread; slip++ {
			w, err := c.slipWorth(s, slip)
			if err != nil {
				return nil, err
			}
			if i == len(c.seen)-1 {
				w *= 2 // the last reading is at hand
			}
			if w > worth {
				best, worth = &Contradiction{Retake: s, Index: i, Slip: slip}, w
			}
		}
	}
	c.replay(-1)
	return best, nil
}

func (c *Call) indexOf(s Seen) int {
	for i, have := range c.seen {
		if have.same(s) {
			return i
		}
	}
	return -1
}

// slipWorth is how well a slip explains one reading, given the belief without it.
func (c *Call) slipWorth(s Seen, slip Slip) (float64, error) {
	x, span := s.at(), forecast.Span(s.Probe)
	if slip == Misread {
		return slips[slip].share / span * c.consistentWeight(), nil
	}
	var sum float64
	for h := range c.hyps {
		if !c.consistent(h) {
			continue
		}
		pieces, err := c.slipPieces(h, s, slip)
		if err != nil {
			return 0, err
		}
		density, _ := fit(pieces, x)
		sum += c.belief.weight[h] * density
	}
	return slips[slip].share * sum, nil
}

func (c *Call) consistentWeight() float64 {
	var sum float64
	for h := range c.hyps {
		if c.consistent(h) {
			sum += c.belief.weight[h]
		}
	}
	return sum
}

// slipPieces is what hypothesis h shows on a probe made with a slip; nothing
// where the slip does not touch it.
func (c *Call) slipPieces(h int, s Seen, slip Slip) ([]forecast.Piece, error) {
	sheet, row := c.sheets[c.hyps[h].sheet], c.hyps[h].row
	if slip == DelayStillRunning {
		if s.Rested || !s.Setup.Calling || !slices.Contains(sheet.Rows(), house.DelayRunning) {
			return nil, nil
		}
		faults := forecast.Faults{c.hyps[h].fault, house.DelayRunning}
		if faults[0] == house.None || faults[0] == house.DelayRunning {
			faults = forecast.Faults{house.DelayRunning}
		}
		columns, err := c.engine.joints.show(sheet, []forecast.Goal{s.goal()}, []forecast.Faults{faults}, pairDraws)
		if err != nil {
			return nil, err
		}
		return columns[0].Row(0), nil
	}
	g, fixed, ok := slip.slipped(s)
	if !ok || fixed != nil {
		return fixed, nil
	}
	only := make([]bool, len(sheet.Rows()))
	only[row] = true
	columns, err := sheet.Columns(only, g)
	if err != nil {
		return nil, err
	}
	return columns[0].Row(row), nil
}
