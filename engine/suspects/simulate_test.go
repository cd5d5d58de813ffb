package suspects

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// trial is one simulated call led by the suspects alone.
type trial struct {
	t        testing.TB
	engine   *Engine
	eq       *circuit.Equipment
	bench    *circuit.Bench
	faults   []house.Fault
	who      house.Audience
	unable   int         // this probe of the call cannot be made, -1 none
	wrong    int         // this one is read wrong at first, -1 none
	stubborn bool        // … and again when retaken
	slip     Slip        // kept up throughout
	about    []complaint // what the call may be about; empty: anything it shows
	rng      *rand.Rand
	each     func() // after every reading

	// what came of it
	call    *Call
	house   *dwelling
	allowed Allow
	verdict Verdict
	minutes float64
	log     []string
}

func (tr *trial) String() string {
	return fmt.Sprintf("%s %v complaint-led call ends at %v after %d probes, %.1f min\n    %v", tr.eq.ID, tr.faults, tr.verdict.Findings, len(tr.call.seen), tr.minutes, tr.log)
}

// run makes the call; false where the house shows nothing to call about.
func (tr *trial) run() bool {
	tr.t.Helper()
	h, err := tr.bench.House(tr.faults...)
	if err != nil {
		tr.t.Fatal(err)
	}
	facts := h.Draw().Facts()
	facts.Base, facts.Meter = house.BaseCovered, house.MeterBoth
	about := tr.about
	if len(about) == 0 {
		about = complaints
	}
	c, ok := complains(h, about)
	if !ok && tr.slip != NoSlip {
		// somebody who makes a slip calls about a house that works
		c, ok = complaints[0], true
		if tr.eq.Calls.Cool == 0 {
			c = complaints[1]
		}
	}
	if !ok {
		return false
	}
	faults := tr.faults
	if tr.slip == DelayStillRunning && tr.faults[0] != house.DelayRunning && tr.eq.Fits(house.DelayRunning) {
		faults = append([]house.Fault{house.DelayRunning}, faults...)
	}
	tr.house = newDwelling(tr.t, tr.bench, c.symptoms[0].Setup, faults...)
	tr.call, err = tr.engine.Open(Case{Facts: facts, Symptoms: c.symptoms})
	if err != nil {
		tr.t.Fatal(err)
	}
	cannot := map[forecast.Goal]bool{}
	tr.allowed = func(g forecast.Goal) bool {
		return !cannot[g.Key()] && house.Reach(tr.who, facts, g.Probe, g.Setup) == house.NoCut
	}
	at, rested, retaken := house.DefaultSetup(), false, map[int]bool{}
	for asked := 0; asked < 80; asked++ {
		p, ok, err := tr.call.Next(tr.allowed, at, rested)
		if err != nil {
			tr.t.Fatal(err)
		}
		if !ok {
			break
		}
		if tr.unable == len(tr.call.seen) {
			cannot[p.Goal.Key()] = true
			tr.unable = -1
			continue
		}
		s, ok := tr.take(p.Goal, p.Rested, !p.Retake && tr.wrong == len(tr.call.seen))
		if !ok {
			cannot[p.Goal.Key()] = true
			continue
		}
		tr.minutes += p.Minutes
		at, rested = p.Goal.Setup, p.Rested
		told := tr.observe(s)
		for told.Contradiction != nil && tr.slip == NoSlip && !retaken[told.Contradiction.Index] {
			i := told.Contradiction.Index
			retaken[i] = true
			old := tr.call.seen[i]
			again, ok := tr.take(old.goal(), old.Rested, tr.stubborn && tr.wrong == i)
			if !ok {
				break
			}
			tr.minutes += tr.engine.weights.Minutes.Reading
			told = tr.observe(again)
		}
		if tr.each != nil {
			tr.each()
		}
	}
	if tr.call.least() > 0 {
		if _, err := tr.call.Pairs(); err != nil {
			tr.t.Fatal(err)
		}
	}
	tr.verdict, err = tr.call.Verdict()
	if err != nil {
		tr.t.Fatal(err)
	}
	return true
}

func (tr *trial) observe(s Seen) Told {
	told, err := tr.call.Observe(s)
	if err != nil {
		tr.t.Fatal(err)
	}
	value := s.Probe.Look.AnswerID(s.Answer)
	if !s.Probe.IsLook() {
		value = quantity.Format(s.Reading, s.Probe.Quantity)
	}
	tr.log = append(tr.log, fmt.Sprintf("\n      %s in %s: %s, left %d %v", s.Probe, s.Setup, value, told.Left, told.Contradiction))
	return told
}

// take makes a probe, by the slip or wrong where asked for.
func (tr *trial) take(g forecast.Goal, rested, wrong bool) (Seen, bool) {
	done, zero := g, false
	switch tr.slip {
	case CallNotMade:
		done.Setup.Calling, done.Setup.FanOn = false, false
	case WrongMode:
		if other := house.ModeCool + house.ModeHeat - g.Setup.Mode; g.Setup.Mode == house.ModeCool || g.Setup.Mode == house.ModeHeat {
			if tr.eq.Calls.Cool != 0 && tr.eq.Calls.Heat != 0 {
				done.Setup.Mode = other
			}
		}
	case MeterOnDC, DeadLead:
		zero = true
	}
	s, ok := tr.house.probe(done, rested)
	s.Probe, s.Setup = g.Probe, g.Setup
	if !ok {
		return s, false
	}
	if zero && !g.Probe.IsLook() && g.Probe.Quantity != quantity.Current {
		switch {
		case g.Probe.Quantity != quantity.Resistance:
			s.Reading = quantity.Of(0)
		case tr.slip == DeadLead:
			s.Reading = quantity.Reading{OL: true}
		}
	}
	if wrong {
		tr.spoil(&s)
	}
	return s, true
}

// spoil makes a reading wrong: another answer, or a number from anywhere on
// the range that a person could write down.
func (tr *trial) spoil(s *Seen) {
	if s.Probe.IsLook() {
		answers := s.Probe.Look.Answers()
		old := s.Answer
		for s.Answer == old {
			s.Answer = answers[tr.rng.IntN(len(answers))]
		}
		return
	}
	s.Reading = forecast.Reading(s.Probe.Quantity, tr.rng.Float64()*forecast.Span(s.Probe))
}

// right reports whether what is left holds a true fault's finding.
func (tr *trial) right() bool {
	for _, f := range tr.verdict.Findings {
		for _, fault := range tr.faults {
			if f == house.FindingOf(fault, tr.eq.ID) {
				return true
			}
		}
	}
	return false
}

// condemned reports whether a good thermostat is.
func (tr *trial) condemned() bool {
	for _, f := range tr.faults {
		if f.Condemns() {
			return false
		}
	}
	return tr.verdict.Condemns
}

// indistinct is S: how many of the findings left every allowed probe of this
// house still fits.
func (tr *trial) indistinct() int {
	left := map[house.Finding][]int{}
	for _, f := range tr.verdict.Findings {
		for h := range tr.call.hyps {
			if tr.call.hyps[h].finding == f && tr.call.hyps[h].candidate {
				left[f] = append(left[f], h)
			}
		}
	}
	for _, g := range forecast.Goals(tr.eq) {
		if len(left) < 2 {
			break
		}
		if !tr.allowed(g) {
			continue
		}
		for _, rested := range []bool{false, true} {
			if rested && !g.Setup.Calling {
				continue
			}
			tr.strike(left, g, rested)
		}
	}
	return max(1, len(left))
}

// strike takes out the findings one probe rules out.
func (tr *trial) strike(left map[house.Finding][]int, g forecast.Goal, rested bool) {
	s, ok := tr.house.probe(g, rested)
	if !ok {
		return
	}
	sheet := tr.call.sheets[0]
	need := make([]bool, len(sheet.Rows()))
	for _, list := range left {
		for _, h := range list {
			need[tr.call.hyps[h].row], need[tr.call.hyps[h].none] = true, true
			if blown := tr.call.hyps[h].blown; blown >= 0 {
				need[blown] = true
			}
		}
	}
	columns, err := sheet.Columns(need, g)
	if err != nil {
		tr.t.Fatal(err)
	}
	after := map[house.Finding][]int{}
	for f, list := range left {
		for _, h := range list {
			if _, inside := fit(tr.call.pieces(h, columns, rested), s.at()); inside {
				after[f] = append(after[f], h)
			}
		}
	}
	if len(after) == 0 {
		return // the house is out of everything's range: it tells nothing apart
	}
	clear(left)
	for f, list := range after {
		left[f] = list
	}
}
