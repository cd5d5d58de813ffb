package planner

import (
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

var coolGas = house.Facts{Equipment: house.CoolGas, EquipmentAsked: true, Base: house.BaseCovered, Meter: house.MeterBoth}

func parts(t *testing.T, pairs ...string) house.Setup {
	t.Helper()
	var p house.Partial
	for i := 0; i < len(pairs); i += 2 {
		k, err := house.ParseKey(pairs[i])
		if err == nil {
			err = p.Set(k, strings.Fields(pairs[i+1]))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return house.DefaultSetup().With(p)
}

var coolCall = house.DefaultSetup().With(house.CoolCall)

// follow runs a plan to its end and gives the ids on the way.
func follow(t *testing.T, s State, g Goal, who house.Audience, f house.Facts) (State, []string) {
	t.Helper()
	var ids []string
	for range 60 {
		a := Next(s, g, who, f)
		switch a.Kind {
		case Ready:
			return s, ids
		case Refuse:
			return s, append(ids, "refuse: "+a.Reason)
		}
		ids = append(ids, a.ID)
		s = a.After
	}
	t.Fatalf("no end: %v", ids)
	return s, nil
}

func expect(t *testing.T, got []string, want string) {
	t.Helper()
	if g := strings.Join(got, " "); g != strings.Join(strings.Fields(want), " ") {
		t.Errorf("got  %s\nwant %s", g, strings.Join(strings.Fields(want), " "))
	}
}

func TestLookNeedsOnlyItsCall(t *testing.T) {
	s, ids := follow(t, Start(), Goal{Setup: coolCall, Probe: house.LookAt(house.Display)}, house.Dispatcher, coolGas)
	expect(t, ids, "set-thermostat")
	a := Next(Start(), Goal{Setup: coolCall, Probe: house.LookAt(house.Display)}, house.Tech, coolGas)
	if a.Text != "Set the thermostat to COOL, five degrees below the room." {
		t.Error(a.Text)
	}
	if s.Setup != coolCall {
		t.Error(s.Setup)
	}
}

// TestDefrostIsWaitedOut: the air of a heat call is felt only once a heat pump
// cannot be melting ice any more; nobody waits on a furnace, or to read a screw.
func TestDefrostIsWaitedOut(t *testing.T) {
	heat := parts(t, "mode", "heat", "calling", "yes")
	air := house.LookAt(house.Air)
	for _, c := range []struct {
		e     house.Equipment
		setup house.Setup
		probe house.Probe
		waits bool
	}{
		{house.PumpHeatingValve, heat, air, true},
		{house.NoEquipment, heat, air, true},
		{house.CoolGas, heat, air, false},
		{house.PumpHeatingValve, coolCall, air, false},
		{house.PumpHeatingValve, heat, house.LookAt(house.IndoorFan), false},
	} {
		a := Next(Start(), Goal{Setup: c.setup, Probe: c.probe}, house.Dispatcher, house.Facts{Equipment: c.e, EquipmentAsked: true})
		if got := strings.Contains(a.Text, "15 minutes"); a.ID != "set-thermostat" || got != c.waits {
			t.Errorf("%s, %s for %s: %s %q", c.e, c.setup, c.probe, a.ID, a.Text)
		}
	}
}

// Nobody is sent to a fan switch that a furnace alone has not.
func TestOffWithoutAFanSwitch(t *testing.T) {
	for e, want := range map[house.Equipment]string{
		house.HeatOnly:    "Set the thermostat to OFF.",
		house.CoolGas:     "Set the thermostat to OFF, and its fan to AUTO.",
		house.NoEquipment: "Set the thermostat to OFF, and its fan to AUTO.",
	} {
		a := Next(Start(), Goal{Setup: house.DefaultSetup(), Probe: house.LookAt(house.Air)}, house.Homeowner, house.Facts{Equipment: e, EquipmentAsked: true})
		if a.Text != want {
			t.Errorf("%s: %s", e, a.Text)
		}
	}
}

// The order of a first visit to the indoor board for a live control reading,
// then a line reading, then ohms, then away.
func TestIndoorVisit(t *testing.T) {
	board := Goal{Setup: coolCall, Probe: house.Volts(house.Y, house.C, house.AtIndoor)}
	s, ids := follow(t, Start(), board, house.Tech, coolGas)
	expect(t, ids, `lockout set-thermostat lock-out-indoor try-controls-indoor open-cover-indoor
		live-dead-live-indoor discharge-indoor energised-work power-on-indoor set-thermostat`)
	if s.PowerIndoor != house.On || !s.CoverIndoor || s.Dead.Has(house.AtIndoor) {
		t.Errorf("%+v", s)
	}
	line := Goal{Setup: coolCall, Probe: house.Volts(house.Door1, house.Door2, house.AtIndoor)}
	s, ids = follow(t, s, line, house.Tech, coolGas)
	expect(t, ids, "line-voltage")
	s = s.Read(line.Probe, quantity.Of(0.1))
	s, ids = follow(t, s, line, house.Tech, coolGas)
	expect(t, ids, "line-voltage")
	ohms := Goal{Setup: coolCall, Probe: house.Measure(quantity.Resistance, house.Fuse1, house.Fuse2, house.AtIndoor)}
	s, ids = follow(t, s, ohms, house.Tech, coolGas)
	expect(t, ids, `lockout set-thermostat lock-out-indoor lock-out-outdoor try-controls-indoor try-controls-outdoor
		live-dead-live-indoor discharge-indoor`)
	s, ids = follow(t, s, board, house.Tech, coolGas)
	expect(t, ids, `power-on-outdoor power-on-indoor set-thermostat`)
	s, ids = follow(t, s, Goal{Setup: coolCall, Probe: house.LookAt(house.OutdoorUnit)}, house.Tech, coolGas)
	expect(t, ids, "lockout set-thermostat lock-out-indoor close-cover-indoor power-on-indoor set-thermostat")
	if s.Setup != coolCall || s.Energised != 0 || s.Lockout != 0 {
		t.Errorf("%+v", s)
	}
}

// The outdoor strip is read with the disconnect locked out and the indoor
// power on; a line reading there then needs it live.
func TestOutdoorStrip(t *testing.T) {
	strip := Goal{Setup: coolCall, Probe: house.Volts(house.Y, house.C, house.AtOutdoor)}
	s, ids := follow(t, Start(), strip, house.Tech, coolGas)
	expect(t, ids, `lockout set-thermostat lock-out-outdoor try-controls-outdoor open-cover-outdoor live-dead-live-outdoor
		discharge-outdoor set-thermostat control-power`)
	if s.PowerOutdoor != house.LockedOut || s.PowerIndoor != house.On {
		t.Error(s.Setup)
	}
	s, ids = follow(t, s, Goal{Setup: coolCall, Probe: house.LookAt(house.ContactorLook)}, house.Tech, coolGas)
	expect(t, ids, "")
	line := Goal{Setup: coolCall, Probe: house.Volts(house.L1, house.L2, house.AtOutdoor)}
	s, ids = follow(t, s, line, house.Tech, coolGas)
	expect(t, ids, "set-thermostat energised-work power-on-outdoor set-thermostat line-voltage")
	s = s.Read(line.Probe, quantity.Of(240))
	s, ids = follow(t, s, strip, house.Tech, coolGas)
	expect(t, ids, "")
	s, ids = follow(t, s, Goal{Setup: coolCall, Probe: house.Measure(quantity.Resistance, house.Coil1, house.Coil2, house.AtOutdoor)}, house.Tech, coolGas)
	expect(t, ids, `lockout set-thermostat lock-out-indoor lock-out-outdoor try-controls-indoor try-controls-outdoor
		live-dead-live-outdoor discharge-outdoor strip-dead-outdoor`)
	back := s
	s, ids = follow(t, back, strip, house.Tech, coolGas)
	expect(t, ids, "control-power power-on-indoor set-thermostat")
	_, ids = follow(t, s, Goal{Setup: coolCall, Probe: house.Measure(quantity.Resistance, house.Coil1, house.Coil2, house.AtOutdoor)}, house.Tech, coolGas)
	expect(t, ids, "lockout set-thermostat lock-out-indoor try-controls-indoor strip-dead-outdoor")
	s, ids = follow(t, Resume(back), strip, house.Tech, coolGas)
	expect(t, ids, `lockout set-thermostat lock-out-outdoor try-controls-outdoor live-dead-live-outdoor discharge-outdoor
		control-power power-on-indoor set-thermostat`)
	if s.Setup.PowerIndoor != house.On {
		t.Error(s)
	}
}

func TestThermostatJumper(t *testing.T) {
	g := Goal{Setup: parts(t, "jumper", "R Y", "thermostat", "removed"), Probe: house.LookAt(house.OutdoorUnit)}
	s, ids := follow(t, Start(), g, house.Tech, coolGas)
	expect(t, ids, "stat-kind jumper power-off-indoor pull-face jumper-in-thermostat rest power-on-indoor")
	g.Setup.Jumper = house.LettersOf(house.G)
	s, ids = follow(t, s, g, house.Tech, coolGas)
	expect(t, ids, "power-off-indoor jumper-out-thermostat jumper jumper-in-thermostat power-on-indoor")
	_, ids = follow(t, s, Goal{Setup: coolCall, Probe: house.LookAt(house.OutdoorUnit)}, house.Tech, coolGas)
	expect(t, ids, "power-off-indoor jumper-out-thermostat mount-face power-on-indoor set-thermostat count-call")
}

func TestIndoorJumperWaitsForTheFloat(t *testing.T) {
	g := Goal{Setup: parts(t, "jumper", "R Y", "jumper-at", "indoor"), Probe: house.LookAt(house.OutdoorUnit)}
	s, ids := follow(t, Start(), g, house.Tech, coolGas)
	expect(t, ids, "refuse: the float switch was not shown closed: an indoor jumper could bypass it")
	s = s.Read(house.Volts(house.R, house.C, house.AtThermostat), quantity.Of(26.8))
	s, ids = follow(t, s, g, house.Tech, coolGas)
	expect(t, ids, `jumper lockout set-thermostat lock-out-indoor try-controls-indoor open-cover-indoor live-dead-live-indoor
		discharge-indoor jumper-in-indoor close-cover-indoor rest power-on-indoor`)
	if Resume(s).FloatClosed {
		t.Error("the float switch may have opened meanwhile")
	}
}

func TestHomeownerReadsTheBase(t *testing.T) {
	g := Goal{Setup: parts(t, "thermostat", "removed"), Probe: house.Volts(house.R, house.C, house.AtThermostat)}
	s, ids := follow(t, Start(), g, house.Homeowner, coolGas)
	expect(t, ids, "stat-kind face-pull power-off-indoor pull-face power-on-indoor")
	_, ids = follow(t, s, Goal{Setup: coolCall, Probe: house.LookAt(house.Air)}, house.Homeowner, coolGas)
	expect(t, ids, "power-off-indoor mount-face power-on-indoor set-thermostat")
	_, ids = follow(t, Start(), g, house.Dispatcher, coolGas)
	expect(t, ids, "refuse: this probe is not for this audience")
	_, ids = follow(t, Start(), Goal{Setup: coolCall, Probe: house.Volts(house.R, house.C, house.AtIndoor)}, house.Homeowner, coolGas)
	expect(t, ids, "refuse: this probe is not for this audience")
}

func TestBaseOhms(t *testing.T) {
	g := Goal{Setup: parts(t, "thermostat", "removed"), Probe: house.Measure(quantity.Resistance, house.Y, house.C, house.AtThermostat)}
	_, ids := follow(t, Start(), g, house.Tech, coolGas)
	expect(t, ids, `stat-kind pull-face lockout lock-out-indoor lock-out-outdoor try-controls-indoor try-controls-outdoor base-dead-thermostat`)
}

func TestFuseAndLifts(t *testing.T) {
	look := house.LookAt(house.IndoorFan)
	s, ids := follow(t, Start(), Goal{Setup: parts(t, "fuse", "new"), Probe: look}, house.Tech, coolGas)
	expect(t, ids, `fuse lockout set-thermostat lock-out-indoor try-controls-indoor open-cover-indoor live-dead-live-indoor
		discharge-indoor change-fuse-indoor close-cover-indoor power-on-indoor`)
	s, ids = follow(t, s, Goal{Setup: parts(t, "fuse", "breaker", "lifted", "Y@indoor>thermostat Y@outdoor"), Probe: look}, house.Tech, coolGas)
	expect(t, ids, `lockout lock-out-indoor lock-out-outdoor try-controls-indoor try-controls-outdoor open-cover-indoor
		live-dead-live-indoor discharge-indoor change-fuse-indoor lift-indoor open-cover-outdoor live-dead-live-outdoor
		discharge-outdoor strip-dead-outdoor lift-outdoor close-cover-indoor close-cover-outdoor power-on-outdoor power-on-indoor`)
	_, ids = follow(t, s, Goal{Setup: parts(t, "fuse", "new"), Probe: look}, house.Tech, coolGas)
	expect(t, ids, "refuse: a second new fuse is not fitted before the short is found")
}

// end runs Leave to its end.
func end(t *testing.T, s State, e Ending, who house.Audience) (State, []string) {
	t.Helper()
	var ids []string
	for range 60 {
		a := Leave(s, e, who, coolGas)
		if a.Kind == Ready || a.Kind == Refuse {
			return s, ids
		}
		ids, s = append(ids, a.ID), a.After
	}
	t.Fatalf("no end: %v", ids)
	return s, nil
}

func TestLeave(t *testing.T) {
	live, _ := follow(t, Start(), Goal{Setup: coolCall, Probe: house.Volts(house.Y, house.C, house.AtIndoor)}, house.Tech, coolGas)
	s, ids := end(t, live, Ending{Call: coolCall}, house.Tech)
	expect(t, ids, "lockout set-thermostat lock-out-indoor close-cover-indoor power-on-indoor set-thermostat")
	if s.Setup != coolCall {
		t.Error(s.Setup)
	}
	s, ids = end(t, live, Ending{Locked: true}, house.Tech)
	expect(t, ids, `lockout set-thermostat lock-out-indoor lock-out-outdoor close-cover-indoor try-controls-indoor try-controls-outdoor`)
	if s.PowerIndoor != house.LockedOut || s.PowerOutdoor != house.LockedOut || s.CoverIndoor {
		t.Error(s.Setup)
	}
	_, ids = end(t, live, Ending{Finding: house.LineVoltageCrossed}, house.Tech)
	expect(t, ids, "stop-power-indoor stop-power-outdoor")
	_, ids = end(t, Start(), Ending{Locked: true}, house.Homeowner)
	expect(t, ids, "power-off-indoor set-thermostat")
	_, ids = end(t, Start(), Ending{Locked: true}, house.Dispatcher)
	expect(t, ids, "set-thermostat")
}

func TestNotDeadStops(t *testing.T) {
	g := Goal{Setup: coolCall, Probe: house.Volts(house.Y, house.C, house.AtIndoor)}
	s := Start()
	for range 20 {
		a := Next(s, g, house.Tech, coolGas)
		if a.ID == "live-dead-live-indoor" {
			break
		}
		s = a.After
	}
	a := MakeSafe(s, house.Tech, coolGas)
	if a.ID != "close-cover-indoor" {
		t.Fatal(a)
	}
	s = a.After
	if a = MakeSafe(s, house.Tech, coolGas); a.Kind != Ready {
		t.Fatal(a)
	}
	_, ids := follow(t, s, g, house.Tech, coolGas)
	expect(t, ids, "refuse: what should be dead was not proven dead; nobody goes back to it")
	s, ids = end(t, s, Ending{Call: coolCall}, house.Tech)
	expect(t, ids, "lockout lock-out-outdoor try-controls-outdoor")
	if s.PowerIndoor != house.LockedOut {
		t.Error(s.Setup)
	}
}

func TestRulesAreNamedOnce(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.String()] || r.String() == "rules" {
			t.Errorf("rule %d: %q", r, r)
		}
		seen[r.String()] = true
	}
	if len(seen) != len(ruleNames) {
		t.Errorf("%d rules, %d names", len(seen), len(ruleNames))
	}
}

// A tripped breaker is cautioned about, reset once and then left alone.
func TestBreakerIsResetOnce(t *testing.T) {
	tripped := func(s State) State {
		for _, a := range house.BreakerIndoor.Answers() {
			if house.BreakerIndoor.AnswerID(a) == "tripped" {
				s = s.Saw(house.BreakerIndoor, a)
			}
		}
		return s
	}
	g := Goal{Setup: coolCall, Probe: house.LookAt(house.Air)}
	s, ids := follow(t, tripped(Start()), g, house.Homeowner, coolGas)
	expect(t, ids, "breaker reset-breaker-indoor set-thermostat")
	_, ids = follow(t, tripped(s), g, house.Homeowner, coolGas)
	expect(t, ids, "refuse: the breaker tripped again after one reset; it stays off")
}

// In a packaged unit the one cabinet is meant by both places; its control
// readings are live, since nothing else feeds them.
func TestPackagedUnit(t *testing.T) {
	f := house.Facts{Equipment: house.PackagedGas, EquipmentAsked: true, Base: house.BaseCovered}
	s, ids := follow(t, Start(), Goal{Setup: coolCall, Probe: house.Volts(house.Y, house.C, house.AtOutdoor)}, house.Tech, f)
	expect(t, ids, `lockout set-thermostat lock-out-outdoor try-controls-outdoor open-cover-outdoor live-dead-live-outdoor
		discharge-outdoor energised-work power-on-outdoor set-thermostat`)
	if s.PowerIndoor != s.PowerOutdoor || s.CoverIndoor != s.CoverOutdoor {
		t.Error(s.Setup)
	}
}

// Exposed screws are read, and jumpered, with the face on.
func TestExposedBase(t *testing.T) {
	f := coolGas
	f.Base = house.BaseExposed
	_, ids := follow(t, Start(), Goal{Setup: coolCall, Probe: house.Volts(house.R, house.C, house.AtThermostat)}, house.Homeowner, f)
	expect(t, ids, "stat-kind set-thermostat")
	_, ids = follow(t, Start(), Goal{Setup: parts(t, "jumper", "R G"), Probe: house.LookAt(house.IndoorFan)}, house.Tech, f)
	expect(t, ids, "stat-kind jumper power-off-indoor jumper-in-thermostat power-on-indoor set-thermostat")
}

func TestWarn(t *testing.T) {
	if lines := Warn(Start()); len(lines) != 0 {
		t.Error(lines)
	}
	live, _ := follow(t, Start(), Goal{Setup: coolCall, Probe: house.Volts(house.Y, house.C, house.AtIndoor)}, house.Tech, coolGas)
	if got := strings.Join(Warn(live), " "); !strings.Contains(got, "cover is off") || !strings.Contains(got, "live") {
		t.Error(got)
	}
}

// TestMarks: between two readings that Read takes the house for another by lies a
// mark of the probe, whatever is read and wherever.
func TestMarks(t *testing.T) {
	grid := []float64{0, 1, 2.9, 3, 3.1, 12, 19.9, 20, 20.1, 26, 40, 130}
	marked := 0
	for _, red := range house.Terminals() {
		for _, black := range house.Terminals() {
			for _, at := range []house.Place{house.AtThermostat, house.AtIndoor, house.AtOutdoor} {
				for _, q := range []quantity.Quantity{quantity.ACVolts, quantity.LowZVolts, quantity.DCVolts, quantity.Resistance} {
					p := house.Measure(q, red, black, at)
					for i, x := range grid[1:] {
						if Start().Read(p, quantity.Of(grid[i])) == Start().Read(p, quantity.Of(x)) {
							continue
						}
						marked++
						if !slices.ContainsFunc(Marks(p), func(m float64) bool { return grid[i] < m && m <= x }) {
							t.Errorf("%s: %g and %g make it another house, and no mark lies between", p, grid[i], x)
						}
					}
				}
			}
		}
	}
	if marked == 0 {
		t.Error("no reading makes it another house")
	}
}
