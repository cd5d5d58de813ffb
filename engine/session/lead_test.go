package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// leads is a guide that goes down a fixed list of probes and leaves fixed
// faults; a contactor coil at 0 V is in doubt until it is read again.
type leads struct {
	thinks
	probes []Proposal
	doubts bool
}

var strip = house.DefaultSetup().With(house.CoolCall)

func (l leads) Explain(f house.Facts, c house.Complaint, seen []Seen) Explanation {
	x := l.thinks.Explain(f, c, seen)
	if last := len(seen) - 1; l.doubts && last >= 0 && !seen[last].Probe.IsLook() && seen[last].Reading == quantity.Of(0) {
		s := seen[last]
		return Explanation{RuledOut: 5, Doubt: &Doubt{Proposal: Proposal{Probe: s.Probe, Setup: s.Setup}, Slip: "a lead may be off"}}
	}
	return x
}

func (l leads) Next(q Query, allowed func(Proposal) bool) (Proposal, float64, bool) {
	for _, p := range l.probes {
		made := slices.ContainsFunc(q.Seen, func(s Seen) bool { return s.Probe == p.Probe })
		if !made && allowed(p) {
			return p, 1, true
		}
	}
	return Proposal{}, 0, false
}

func (l leads) Settle(q Query, allowed func(Proposal) bool) (Proposal, bool) {
	p, _, ok := l.Next(q, allowed)
	return p, ok
}

func (l leads) Verdict(Query) ([]house.Fault, bool) { return l.thinks, true }

func (l leads) Outcomes(_ Query, p Proposal) []Outcome {
	if p.Probe.IsLook() {
		return nil
	}
	return []Outcome{{Faults: []house.Fault{house.OpenY}, Lo: quantity.Of(0), Hi: quantity.Of(0.3)},
		{Faults: []house.Fault{house.OpenC, house.OpenG, house.OpenW, house.OpenR}, Lo: quantity.Of(24), Hi: quantity.Of(27)}}
}

func (l leads) Card(_ house.Facts, _ house.Complaint, at house.Setup, allowed func(Proposal) bool) []Proposal {
	var out []Proposal
	for _, look := range house.Looks() {
		if p := (Proposal{Probe: house.Probe{Look: look}, Setup: at}); allowed(p) {
			out = append(out, p)
		}
	}
	return out
}

func (l leads) Account(q Query) Explanation { return l.Explain(q.Facts, q.Complaint, q.Seen) }

func guided(t *testing.T, g leads) *call {
	c := begin(t, tech()).ready()
	c.b.Explain, c.b.Guide = g, g
	return c
}

var (
	coilVolts = Proposal{Probe: house.Volts(house.Coil1, house.Coil2, house.AtOutdoor), Setup: open(strip)}
	fanLook   = Proposal{Probe: house.LookAt(house.IndoorFan), Setup: strip}
	panLook   = Proposal{Probe: house.LookAt(house.DrainPan), Setup: strip}
)

func open(s house.Setup) house.Setup {
	s.CoverOutdoor, s.PowerOutdoor = true, house.LockedOut
	return s
}

// Where the tree has no way on, the guide's probes are asked under the same
// planner; one that cannot be made is left out, and the call ends at what is
// left.
func TestGuideLeadsOn(t *testing.T) {
	c := guided(t, leads{thinks: thinks{house.ContactorStuckOpen}, probes: []Proposal{fanLook, panLook, coilVolts}})
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5)
	c.asks("strip")
	c.send(Event{Kind: Unable}).ready().asks("next")
	if q := c.s.Pending().Ask; q.Look != house.IndoorFan || q.House.Setup != c.s.House().Setup {
		t.Errorf("asks %+v", q)
	}
	c.answer("next", "running").asks("next")
	c.send(Event{Kind: Unable}).ready().asks("next")
	q := c.s.Pending().Ask
	if q.At != house.AtOutdoor || q.Pairs[0].Name != "coil" || !c.s.House().Setup.CoverOutdoor {
		t.Errorf("after a pan nobody sees asks %+v in %s", q, c.s.House().Setup)
	}
	if why := strings.Join(c.b.Why(c.s), "\n"); !strings.Contains(why, "coil-1-coil-2 0 V to 0.3 V leaves 1: open y") || !strings.Contains(why, "and 1 more") {
		t.Errorf("why: %s", why)
	}
	c.values("next", "coil", 26.1)
	if f := c.finds(house.Finding("contactor-stuck-open")); len(f.Evidence) != 5 {
		t.Errorf("evidence %v", f.Evidence)
	}
}

// What only the model leaves never condemns a thermostat, and names the probe
// that would settle an open end.
func TestGuideCondemnsNothing(t *testing.T) {
	c := guided(t, leads{thinks: thinks{house.StatYOpen}})
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5)
	f := c.send(Event{Kind: Unable}).ready().finds(house.Undecided)
	if f.Condemns || f.Commonly != "" || fmt.Sprint(f.Faults) != "[stat-y-open]" {
		t.Errorf("ends at %v, condemns %v, commonly from %q", f.Faults, f.Condemns, f.Commonly)
	}
	c = guided(t, leads{thinks: thinks{house.OpenY, house.OpenC}, probes: []Proposal{coilVolts}})
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5)
	c.send(Event{Kind: Unable}).ready().asks("next")
	f = c.send(Event{Kind: Unable}).ready().finds(house.Undecided)
	if want := "Volts AC at the outdoor unit, cooling called: red on coil-1, black on coil-2."; f.Settles != want || !f.Partly {
		t.Errorf("would settle it: %q, partly %v, want %q, which may leave four", f.Settles, f.Partly, want)
	}
}

// A reading that nothing explains is offered to be made again; the tree goes
// on from what it shows then. It stands where somebody says so.
func TestRetake(t *testing.T) {
	for _, again := range []bool{true, false} {
		c := guided(t, leads{thinks: thinks{house.ContactorStuckOpen}, doubts: true})
		c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5)
		c.values("strip", "sc", 0.0).asks("retake")
		if text := c.s.Pending().Ask.Text; !strings.Contains(text, "Y to C at the outdoor unit") || !strings.Contains(text, "a lead may be off") {
			t.Errorf("offers %q", text)
		}
		if !again {
			c.answer("retake", "no").finds(house.OutdoorPairOpen)
			continue
		}
		c.answer("retake", "yes").ready().asks("again")
		c.values("again", "yc", 26.4).ready().asks("coil")
		if got := c.s.standing(); len(got) != 4 {
			t.Errorf("stands on %v", got)
		}
	}
}

// What is known before the complaint is taken as seen on its call, and the
// steps that ask for it are passed over; what the house cannot have is left out.
func TestKnownBeforeTheComplaint(t *testing.T) {
	c := begin(t, Opening{Audience: house.Tech, Equipment: "cool-gas"})
	for _, s := range []Seen{
		{Probe: house.LookAt(house.Display), Answer: 1},
		{Probe: house.Volts(house.B, house.C, house.AtThermostat), Reading: quantity.Of(3)},
	} {
		c.send(Event{Kind: Volunteer, Seen: &s}).asks("words")
	}
	c.send(Event{Kind: Text, Reply: "it does not cool"})
	if text := c.told(); !strings.Contains(text, "with cooling called") || !strings.Contains(text, "Left out: B to C at the thermostat's wall base: 3 V. This system has no B at the thermostat's wall base.") {
		t.Errorf("told %q", text)
	}
	if seen := c.s.Seen(); len(seen) != 1 || !seen[0].Setup.Calling {
		t.Errorf("took %v", seen)
	}
	c.ready().asks("base")
}

// What was taken as seen in the complaint's call gives way to what somebody
// says it was seen in; and the example of how to say so is one.
func TestASetupSaidLaterTakesItsPlace(t *testing.T) {
	yc := house.Volts(house.Y, house.C, house.AtIndoor)
	c := begin(t, Opening{Audience: house.Tech, Equipment: "cool-gas", Complaint: "it does not cool", Known: []Seen{
		{Probe: yc, Reading: quantity.Of(0)}, {Probe: house.LookAt(house.FuseLook), Answer: 1}}})
	if text := c.told(); !strings.Contains(text, "Noted: Y to C at the furnace board: 0 V.\nNoted: fuse: good.") || !strings.Contains(text, "as in: Y to C at the board is 0 V calling=no") {
		t.Errorf("told %q", text)
	}
	var given house.Partial
	if err := given.Set(house.KeyCalling, []string{"no"}); err != nil {
		t.Fatal(err)
	}
	turned := house.Volts(house.C, house.Y, house.AtIndoor)
	c.send(Event{Kind: Volunteer, Seen: &Seen{Probe: turned, Reading: quantity.Of(0), Given: given}})
	if text := c.told(); !strings.Contains(text, "takes the place of what was taken as seen with cooling called") {
		t.Errorf("told %q", text)
	}
	seen := c.s.Seen()
	if len(seen) != 2 || seen[1].Probe != yc || seen[1].Setup.Calling || seen[0].Assumed {
		t.Errorf("kept %v", seen)
	}
	c.send(Event{Kind: Volunteer, Seen: &Seen{Probe: yc, Reading: quantity.Of(26)}})
	if n := len(c.s.Seen()); n != 3 {
		t.Errorf("a reading nobody gave a setup took the place of one: %d kept", n)
	}
	s := c.send(Event{Kind: Back}).s
	if n := len(s.Seen()); n != 2 {
		t.Errorf("back leaves %d", n)
	}
}

// A reading said with its leads the other way round answers the step all the
// same, and of a batch only the rest is asked; of DC volts the leads stay as
// they are said.
func TestLeadsEitherWayRound(t *testing.T) {
	c := begin(t, tech()).ready().answer("display", "lit").ready()
	c.asks("base")
	at := c.s.Pending().Ask.At
	c.send(Event{Kind: Volunteer, Seen: &Seen{Probe: house.Volts(house.C, house.R, at), Reading: quantity.Of(26.8)}}).asks("base")
	if q := c.s.Pending().Ask; len(q.Pairs) != 1 || q.Pairs[0].Name != "yc" {
		t.Errorf("asks still for %v", q.Pairs)
	}
	c.send(Event{Kind: Volunteer, Seen: &Seen{Probe: house.Volts(house.C, house.Y, at), Reading: quantity.Of(26.5)}}).ready().asks("strip")
	for said, want := range map[house.Probe]house.Probe{
		house.Volts(house.Coil2, house.Coil1, house.AtOutdoor):                       house.Volts(house.Coil1, house.Coil2, house.AtOutdoor),
		house.Volts(house.L2, house.L1, house.AtOutdoor):                             house.Volts(house.L1, house.L2, house.AtOutdoor),
		house.Volts(house.R, house.Y, house.AtIndoor):                                house.Volts(house.R, house.Y, house.AtIndoor),
		house.Volts(house.W2, house.G, house.AtIndoor):                               house.Volts(house.W2, house.G, house.AtIndoor),
		house.Measure(quantity.DCVolts, house.C, house.R, house.AtIndoor):            house.Measure(quantity.DCVolts, house.C, house.R, house.AtIndoor),
		house.Measure(quantity.Resistance, house.Coil2, house.Coil1, house.AtIndoor): house.Measure(quantity.Resistance, house.Coil1, house.Coil2, house.AtIndoor),
	} {
		if got := c.s.written(said); got != want {
			t.Errorf("%s is kept as %s, want %s", said, got, want)
		}
	}
}

// A call of which nothing is seen yet is led on all the same, past what somebody
// said they cannot do: nobody is sent half of the way to it, it does not count as
// asked, and nothing is announced where nothing follows.
func TestLedPastWhatCannotBeDone(t *testing.T) {
	var cannot []Proposal
	for _, look := range []house.Look{house.Air, house.Display, house.IndoorFan, house.OutdoorUnit, house.Burner, house.FaultLight, house.BoardLight} {
		for _, setup := range []house.Setup{strip, house.DefaultSetup().With(house.FanCall)} {
			cannot = append(cannot, Proposal{Probe: house.LookAt(look), Setup: setup})
		}
	}
	if len(cannot) <= ledMost {
		t.Fatalf("only %d are out of reach", len(cannot))
	}
	led := func(probes ...Proposal) *call {
		c := &call{t: t, b: bookOf(t, lookTree)}
		g := leads{thinks: thinks{house.OpenY, house.OpenC}, probes: probes}
		c.b.Explain, c.b.Guide = g, g
		return c.send(Event{Kind: Start, Open: &Opening{Audience: house.Tech, Equipment: "cool-gas", Meter: "none", Complaint: "not cooling"}})
	}
	c := led(append(cannot, Proposal{Probe: house.LookAt(house.PanelIndoor), Setup: strip})...)
	for range 20 { // the thermostat cannot be set, nor can anything be looked at that needs no call
		if q := c.s.Pending(); q.Ask != nil && q.Ask.Step == stepNext || c.s.Finding() != nil {
			break
		}
		c.send(Event{Kind: Unable})
	}
	if q := c.s.Pending(); q.Ask == nil || q.Ask.Look != house.PanelIndoor {
		t.Errorf("ends at %+v, asks %+v", c.s.Finding(), q)
	}
	c = led(cannot...)
	for range 20 {
		if c.s.Finding() != nil {
			break
		}
		c.send(Event{Kind: Unable})
		if strings.Contains(c.told(), "What follows is asked") && c.s.Finding() != nil {
			t.Errorf("says that questions follow at the end: %s", c.told())
		}
	}
}

// Where the lock cannot be set, nobody is led on towards a reading behind it.
func TestNobodyIsSentHalfOfTheWay(t *testing.T) {
	c := guided(t, leads{thinks: thinks{house.OpenY, house.OpenC}, probes: []Proposal{coilVolts}})
	c.answer("display", "lit").asks("base")
	c.send(Event{Kind: Values, Read: map[string]quantity.Reading{"rc": quantity.Of(26.8), "yc": quantity.Of(26.5)}})
	for range 10 { // up to the lock on the way to the strip
		if p := c.s.Pending(); p.Caution != nil && p.Caution.ID == "lockout" {
			break
		}
		c.send(Event{Kind: Done})
	}
	c.send(Event{Kind: Unable})
	for p := c.s.Pending(); p.Do != nil && c.s.safing; p = c.s.Pending() {
		c.send(Event{Kind: Done})
	}
	if p := c.s.Pending(); c.s.Finding() == nil {
		t.Errorf("goes on to %+v %+v", p.Do, p.Ask)
	}
	s := State{who: house.Tech, home: planner.Start(), facts: house.Facts{Equipment: house.CoolGas, EquipmentAsked: true}}
	goal := planner.Goal{Setup: coilVolts.Setup, Probe: coilVolts.Probe}
	if !s.reachable(goal) {
		t.Fatal("there is no way to the coil")
	}
	for home, n := s.home, 0; n < wayMost; n++ {
		next := planner.Next(home, goal, s.who, s.facts)
		if next.Kind == planner.Ready || next.Kind == planner.Look {
			break
		}
		if s.declined = []string{next.ID}; s.reachable(goal) {
			t.Errorf("there is a way without %s", next.ID)
		}
		home = next.After
	}
}

// Why at what is asked before any tree says what that is for.
func TestWhyBeforeTheTree(t *testing.T) {
	c := begin(t, Opening{Audience: house.Dispatcher, Equipment: "cool-gas"})
	seen := map[string]bool{}
	for _, id := range []string{"no", "no", "comfortable"} {
		seen[strings.Join(c.b.Why(c.s), " ")] = true
		c.send(Event{Kind: Answer, Reply: id})
	}
	seen[strings.Join(c.b.Why(c.s), " ")] = true
	if len(seen) != 3 || !seen["It sets how soon somebody must come."] || !seen["It picks the questions that follow."] {
		t.Errorf("why says %v", seen)
	}
	c = guided(t, leads{thinks: thinks{house.ContactorStuckOpen}, doubts: true})
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5).values("strip", "sc", 0.0)
	if why := strings.Join(c.b.Why(c.s), " "); c.s.asked != askedRetake || !strings.Contains(why, "must be wrong") {
		t.Errorf("at %+v why says %q", c.s.Pending(), why)
	}
}
