package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/planner"
)

// A tree of looks alone, one after the other whatever they show; the fan is
// looked at in two calls.
const lookTree = `tree: no-cooling
title: The house does not cool
complaints: [not cooling]
symptom: {setup: {mode: cool, calling: 'yes'}, look: air, shows: [room, none, warm]}
fits: [cool-gas, cool-electric]
first: air
steps:
  air: {look: air, why: Air., branches: {warm: step display, cool: finding delay-running, room: step display, none: step display}, unable: step display}
  display: {look: display, why: Power., branches: {blank: step fan, lit: step fan, low-battery: finding stat-battery-dead, waiting: step fan}, unable: step fan}
  fan: {look: indoor-fan, why: Fan., branches: {running: step breaker, stopped: step breaker}, unable: step breaker}
  breaker: {look: breaker-outdoor, why: Line., branches: {'on': step fan-on, 'off': step fan-on, tripped: step fan-on}, unable: step fan-on}
  fan-on: {look: indoor-fan, setup: {fan: 'on'}, why: Fan., branches: {running: step pan, stopped: step pan}, unable: step pan}
  pan: {look: drain-pan, why: Water., branches: {dry: finding undecided, full: finding fuse-blown}, unable: finding undecided}
`

// telling is a guide that knows which looks tell anything.
type telling struct {
	leads
	looks []house.Look
	odds  float64 // of what is left, together; 1 where 0
}

func (g telling) Explain(f house.Facts, c house.Complaint, seen []Seen) Explanation {
	x := g.leads.Explain(f, c, seen)
	for i := range x.Left {
		if g.odds > 0 {
			x.Left[i].Probability = g.odds / float64(len(x.Left))
		}
	}
	return x
}

func (g telling) Outcomes(_ Query, p Proposal) []Outcome {
	one, other := Outcome{Faults: []house.Fault{house.OpenY, house.OpenC}}, Outcome{Faults: []house.Fault{house.OpenC, house.OpenY}, Answer: 1}
	if slices.Contains(g.looks, p.Probe.Look) {
		other.Faults = []house.Fault{house.OpenY}
	}
	return []Outcome{one, other}
}

func looking(t *testing.T, who house.Audience, g telling) *call {
	c := &call{t: t, b: bookOf(t, lookTree)}
	c.b.Explain, c.b.Guide = g, g
	c.send(Event{Kind: Start, Open: &Opening{Audience: who, Equipment: "cool-gas", Meter: "none", Complaint: "not cooling"}})
	if who == house.Homeowner {
		c.answer("emergency", "no")
	}
	return c.ready()
}

func (c *call) unable() *call { c.t.Helper(); return c.send(Event{Kind: Unable}).ready() }

func (c *call) told() string {
	var out []string
	for _, x := range c.last {
		if x.Tell != nil {
			out = append(out, x.Tell.Text)
		}
	}
	return strings.Join(out, "\n")
}

// Somebody who twice was unable is spared looks that can tell nothing: what the
// model still finds worth asking is asked, or the call ends. A single `unable`
// spares nothing, since the proof of a tree walks each of them.
func TestSpared(t *testing.T) {
	g := telling{leads: leads{thinks: thinks{house.OpenY, house.OpenC}}}
	c := looking(t, house.Homeowner, g)
	c.answer("air", "room").ready().asks("display")
	c.unable().asks("fan")
	c.unable().finds(house.Undecided)

	g.probes = []Proposal{panLook}
	c = looking(t, house.Homeowner, g)
	c.answer("air", "room").ready()
	c.unable().unable().asks("next")
	if text := c.told(); text != "From here on only what can still tell something is asked." {
		t.Errorf("says %q", text)
	}
	if q := c.s.Pending().Ask; q.Look != house.DrainPan {
		t.Errorf("asks for the %s", q.Look)
	}
	c.send(Event{Kind: Back}).asks("fan")
	c.answer("fan", "running").ready().asks("breaker")

	g.looks = []house.Look{house.BreakerOutdoor}
	c = looking(t, house.Homeowner, g)
	c.answer("air", "room").ready()
	c.unable().unable().asks("breaker")

	c = looking(t, house.Tech, g)
	c.answer("air", "room").ready()
	c.unable().unable().asks("breaker")
	c.unable().asks("fan-on")
}

// What somebody cannot see in one call they are not asked to see in another,
// from the second `unable` on.
func TestUnseenStaysUnseen(t *testing.T) {
	c := looking(t, house.Homeowner, telling{leads: leads{thinks: thinks{house.OpenY, house.OpenC}, probes: []Proposal{fanLook}},
		looks: house.Looks()})
	c.answer("air", "room").ready().asks("display")
	c.unable().asks("fan")
	c.unable().asks("breaker")
	c.answer("breaker", "on").ready().asks("pan")
	c.unable().finds(house.Undecided)
}

// Nothing is announced where nothing more comes: what would be asked next needs
// a call that somebody already said they cannot make.
func TestNothingIsAnnouncedAtTheEnd(t *testing.T) {
	heat := strip
	heat.Mode = house.ModeHeat
	led := []Proposal{{Probe: house.LookAt(house.Burner), Setup: heat}}
	c := looking(t, house.Homeowner, telling{leads: leads{thinks: thinks{house.OpenY, house.OpenC}, probes: led}, looks: house.Looks()})
	c.answer("air", "room").answer("display", "lit").answer("fan", "running").asks("breaker")
	c.send(Event{Kind: Answer, Reply: "on"})
	if c.s.Pending().Do == nil {
		t.Fatalf("the fan is to be set: %+v", c.s.Pending())
	}
	c.unable().asks("pan")
	c.send(Event{Kind: Answer, Reply: "dry"}).finds(house.Undecided)
	if text := c.told(); strings.Contains(text, "From here on") {
		t.Errorf("says %q", text)
	}
}

// A guide does not ask for a second look at what stands whatever is called.
func TestStandingLookIsNotAskedAgain(t *testing.T) {
	heat := strip
	heat.Mode = house.ModeHeat
	again := []Proposal{{Probe: house.LookAt(house.BreakerOutdoor), Setup: heat}, {Probe: house.LookAt(house.Air), Setup: heat}}
	c := looking(t, house.Tech, telling{leads: leads{thinks: thinks{house.OpenY, house.OpenC}, probes: again}})
	c.answer("air", "room").ready().answer("display", "lit").ready().answer("fan", "running").ready()
	c.answer("breaker", "on").ready().answer("fan-on", "running").ready().asks("pan")
	allowed := func(p Proposal) bool { return c.s.allows(p) }
	if allowed(again[0]) || !allowed(again[1]) {
		t.Errorf("in the other mode a breaker is looked at again: %v; air is: %v", allowed(again[0]), allowed(again[1]))
	}
}

// What the model alone leaves is named as found only where it is as likely as
// not: under that a slip, or something that comes and goes, is likelier.
func TestGuideNamesWhatIsLikely(t *testing.T) {
	for odds, want := range map[float64]house.Finding{0.13: house.Undecided, 0.5: "fuse-blown", 0.9: "fuse-blown"} {
		c := looking(t, house.Homeowner, telling{leads: leads{thinks: thinks{house.FuseBlown}}, odds: odds})
		c.answer("air", "room").ready()
		if f := c.unable().unable().finds(want); fmt.Sprint(f.Faults) != "[fuse-blown]" {
			t.Errorf("at %.2f names %v", odds, f.Faults)
		}
	}
}

// What sits in one cabinet has one breaker, by whichever name it is asked for.
func TestOneCabinetHasOneBreaker(t *testing.T) {
	for e, same := range map[house.Equipment]bool{house.PackagedGas: true, house.CoolGas: false} {
		s := State{facts: house.Facts{Equipment: e}, blind: []house.Look{house.BreakerIndoor}, seen: []Seen{{Probe: house.LookAt(house.BreakerIndoor)}}}
		p := house.LookAt(house.BreakerOutdoor)
		if s.unseeable(p) != same || s.standsSeen(p) != same {
			t.Errorf("%s: one breaker: %v, %v", e, s.unseeable(p), s.standsSeen(p))
		}
	}
}

// Who says that the display is dark is told what to do where setting it is asked;
// once it is lit that is left out.
func TestADarkThermostatIsNotSet(t *testing.T) {
	set := planner.Action{ID: planner.SetThermostat}
	blank, _ := house.Display.ParseAnswer("blank")
	lit, _ := house.Display.ParseAnswer("lit")
	for _, c := range []struct {
		complaint house.Complaint
		seen      []house.Answer
		dark      bool
	}{{house.NoCooling, nil, false}, {house.DarkDisplay, nil, true}, {house.DarkDisplay, []house.Answer{lit}, false}, {house.NoCooling, []house.Answer{lit, blank}, true}} {
		s := State{home: planner.Start(), gates: gates{complaint: c.complaint}}
		for _, a := range c.seen {
			s.seen = append(s.seen, Seen{Probe: house.LookAt(house.Display), Answer: a})
		}
		if got := s.darkText(set) != ""; got != c.dark {
			t.Errorf("%s, %d looks: said %v", c.complaint, len(c.seen), got)
		}
		if text := s.darkText(planner.Action{ID: planner.CountCall}); text != "" {
			t.Errorf("said of a wait: %q", text)
		}
	}
}

// A step in a call that a thermostat has no switch for takes its unable edge;
// nobody is sent to set it.
func TestNoCallIsMadeThatAThermostatCannotMake(t *testing.T) {
	const tree = `tree: no-cooling
title: The house does not heat
complaints: [not cooling]
symptom: {setup: {mode: heat, calling: 'yes'}, look: air, shows: [room, none, cool]}
fits: [heat-only, cool-gas]
first: air
steps:
  air: {look: air, why: Air., branches: {warm: step cool, cool: step cool, room: step cool, none: step cool}, unable: step cool}
  cool: {look: indoor-fan, setup: {mode: cool}, why: Fan., branches: {running: step fan, stopped: step fan}, unable: step fan}
  fan: {look: indoor-fan, setup: {fan: 'on'}, why: Fan., branches: {running: step display, stopped: step display}, unable: step display}
  display: {look: display, why: Power., branches: {blank: finding undecided, lit: finding undecided, low-battery: finding undecided, waiting: finding undecided}, unable: finding undecided}
`
	for equipment, next := range map[string]string{"heat-only": "display", "cool-gas": "cool"} {
		c := &call{t: t, b: bookOf(t, tree)}
		c.send(Event{Kind: Start, Open: &Opening{Audience: house.Tech, Equipment: equipment, Complaint: "not cooling"}}).ready()
		c.answer("air", "room").asks(next)
		if mode := c.s.House().Setup.Mode; mode == house.ModeCool && equipment == "heat-only" {
			t.Errorf("a %s thermostat is set to %s", equipment, mode)
		}
	}
}
