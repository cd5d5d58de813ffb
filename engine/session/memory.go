package session

import (
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// observe keeps what a probe showed and sees to voltages that must not be
// there.
func (b *Book) observe(s State, seen Seen) State {
	seen.Rested = s.home.Ran && seen.Given.Empty()
	s.seen = push(s.seen, seen)
	if seen.Probe.IsLook() {
		s.home = s.home.Saw(seen.Probe.Look, seen.Answer)
	} else {
		s.home = s.home.Read(seen.Probe, seen.Reading)
	}
	if high := tooHigh(seen, s.facts, b.highVolts(seen.Probe.Quantity)); high != "" && s.high != house.LineVoltageCrossed {
		s.high = high
	}
	return s
}

// crossedVolts is the line between a control voltage gone high and a circuit
// crossed with the line: conductors under 50 V need not be de-energised
// (29 CFR 1910.333(a)(1)), so nothing above it is touched.
const crossedVolts = 50.0

// highVolts is what no control circuit should show on a quantity, in V rms: the
// most a Class 2 control transformer gives, and a meter's guard band above it,
// which is wider in the low-impedance mode.
func (b *Book) highVolts(q quantity.Quantity) float64 {
	guard := b.Trees.Limits["meter_guard"].Value
	if wide, ok := b.Trees.Limits["meter_guard_lowz"]; ok && q == quantity.LowZVolts {
		guard = wide.Value
	}
	return b.Trees.Limits["control_max"].Value + guard
}

// tooHigh names the finding for an AC reading between two control ends of one
// transformer that no healthy circuit gives.
func tooHigh(seen Seen, f house.Facts, high float64) house.Finding {
	p := seen.Probe
	if p.IsLook() || p.LineClass() || p.Quantity != quantity.ACVolts && p.Quantity != quantity.LowZVolts {
		return ""
	}
	if !f.OneSupply(p) {
		return ""
	}
	switch v := seen.Reading.Value; {
	case v > crossedVolts:
		return house.LineVoltageCrossed
	case v > high && f.AtSupply(p):
		return house.ControlVoltageHigh
	}
	return ""
}

// reuse answers the step from what was already seen in the same setup.
func (b *Book) reuse(s State, setup house.Setup) (State, bool) {
	found := s.recallAll(setup)
	if found == nil {
		return s, false
	}
	return b.settle(s, found), true
}

// recallAll recalls every probe of the step, nil where one was not made.
func (s State) recallAll(setup house.Setup) []Seen {
	probes := s.probes()
	found := make([]Seen, len(probes))
	for i, p := range probes {
		seen, ok := s.recall(p, setup)
		if !ok {
			return nil
		}
		found[i] = seen
	}
	return found
}

// recall finds the last time a probe was made in a setup.
func (s State) recall(p house.Probe, setup house.Setup) (Seen, bool) {
	want := p.Comparable(setup)
	from := 0
	if s.led != nil {
		from = s.led.from
	}
	for i := len(s.seen) - 1; i >= from; i-- {
		if s.seen[i].Probe == p && p.Comparable(s.seen[i].Setup) == want {
			return s.seen[i], true
		}
	}
	return Seen{}, false
}

// shown is what one step of the tree showed: a look's answer, or a reading a
// pair.
type shown struct {
	step     *tree.Step
	answer   house.Answer
	readings []quantity.Reading
}

// settle takes the step's branch for what its probes showed.
func (b *Book) settle(s State, found []Seen) State {
	if s.led != nil {
		return b.ledOn(s)
	}
	now := shown{step: s.step}
	for _, seen := range found {
		if s.step.Kind == tree.LookStep {
			now.answer = seen.Answer
			continue
		}
		now.readings = append(now.readings, seen.Reading)
	}
	s.shown = push(s.shown, now)
	t, branch, err := s.decide()
	if err != nil || branch == tree.BranchUnable {
		s, _, _ = b.cut(s)
		return s
	}
	return b.decided(s, t)
}

// decide asks the tree where the step leads on everything shown in it.
func (s State) decide() (tree.Target, int, error) {
	env := s.step.Tree.NewEnv()
	for _, x := range s.shown {
		if x.step.Kind == tree.LookStep {
			if err := env.See(x.step, x.answer); err != nil {
				return tree.Target{}, 0, err
			}
		}
		for i, r := range x.readings {
			if err := env.ReadPair(x.step, i, r); err != nil {
				return tree.Target{}, 0, err
			}
		}
	}
	return s.step.Decide(env)
}

// standing is every probe made, without those made again later in the same
// setup.
func (s State) standing() []Seen {
	var out []Seen
	for i, seen := range s.seen {
		again := slices.ContainsFunc(s.seen[i+1:], func(later Seen) bool {
			return later.Probe == seen.Probe && later.Probe.Comparable(later.Setup) == seen.Probe.Comparable(seen.Setup)
		})
		if !again {
			out = append(out, seen)
		}
	}
	return out
}
