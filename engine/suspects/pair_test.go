package suspects

import (
	"math/rand/v2"
	"slices"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Two faults at once: one of them is named first, and once that is repaired the
// call about what is left finds the other.
func TestTwoFaults(t *testing.T) {
	if testing.Short() {
		t.Skip("many whole calls: left to the run that is not short")
	}
	cat := catalog(t)
	e := New(forecast.New(cat, forecast.Options{Seed: 1, SlowFuse: forecast.SlowFuseUsual}), weights(t))
	draws, ids := trialDraws(cat)
	from := firstDraw()
	calls, first, second, seconds := 0, 0, 0, 0
	for _, id := range ids {
		eq := cat.Equipment(id)
		faults := eq.Faults()
		for draw := from; draw < from+draws; draw++ {
			rng := rand.New(rand.NewPCG(uint64(draw), uint64(id)<<4))
			b, err := circuit.NewBench(eq.Sample(rng, wider))
			if err != nil {
				t.Fatal(err)
			}
			for range 25 {
				pair := []house.Fault{faults[2+rng.IntN(len(faults)-2)], faults[2+rng.IntN(len(faults)-2)]}
				if pair[0] == pair[1] {
					continue
				}
				tr := &trial{t: t, engine: e, eq: eq, bench: b, faults: pair, unable: -1, wrong: -1, rng: rng}
				if !tr.run() {
					continue
				}
				calls++
				named := tr.named()
				if named == house.NoFault {
					t.Log(tr)
					continue
				}
				first++
				left := pair[0]
				if named == left {
					left = pair[1]
				}
				again := &trial{t: t, engine: e, eq: eq, bench: b, faults: []house.Fault{left}, unable: -1, wrong: -1, rng: rng}
				if !again.run() {
					continue
				}
				if seconds++; again.right() {
					second++
				}
			}
		}
	}
	t.Logf("%v, %d draws from seed %d on, 25 pairs drawn in each", ids, draws, from)
	t.Logf("%d calls with two faults: %.1f %% name one of them first; of %d that go on about the other %.1f %% find it",
		calls, 100*float64(first)/float64(calls), seconds, 100*float64(second)/float64(seconds))
	// one call may go wrong beyond the share where there are few
	if missed := calls - first; float64(missed) > .05*float64(calls)+1 {
		t.Errorf("%d of %d name neither", missed, calls)
	}
	if missed := seconds - second; float64(missed) > .05*float64(seconds)+1 {
		t.Errorf("%d of %d do not find the second", missed, seconds)
	}
}

// named is the true fault whose finding comes first among what is left.
func (tr *trial) named() house.Fault {
	for _, id := range tr.verdict.Findings {
		for _, f := range tr.faults {
			if house.FindingOf(f, tr.eq.ID) == id {
				return f
			}
		}
	}
	return house.NoFault
}

// The second of two faults need not show the complaint by itself: a house without
// line voltage is called about, whatever its common conductor does.
func TestTheSecondFaultNeedNotShowTheComplaint(t *testing.T) {
	cat, pair := catalog(t), forecast.Faults{house.DoorSwitchOpen, house.OpenC}
	d, err := cat.Equipment(house.HeatOnly).Nominal().With(circuit.Supply, "battery")
	if err != nil {
		t.Fatal(err)
	}
	b, err := circuit.NewBench(d)
	if err != nil {
		t.Fatal(err)
	}
	dw := newDwelling(t, b, complaints[1].symptoms[0].Setup, pair[0], pair[1])
	e := New(forecast.New(cat, forecast.Options{SlowFuse: forecast.SlowFuseUsual}), weights(t))
	c, err := e.Open(Case{Facts: d.Facts(), Symptoms: complaints[1].symptoms})
	if err != nil {
		t.Fatal(err)
	}
	dark, board := dark(), house.DefaultSetup()
	dark.Thermostat, board.CoverIndoor = house.Removed, true
	for _, g := range []forecast.Goal{
		{Setup: house.DefaultSetup(), Probe: house.LookAt(house.BreakerIndoor)},
		{Setup: board, Probe: house.LookAt(house.FuseLook)},
		{Setup: board, Probe: house.Volts(house.Sec1, house.Sec2, house.AtIndoor)},
		{Setup: dark, Probe: house.Measure(quantity.Resistance, house.R, house.C, house.AtThermostat)},
		{Setup: dark, Probe: house.Measure(quantity.Resistance, house.W, house.C, house.AtThermostat)},
	} {
		s, ok := dw.probe(g, false)
		if !ok {
			t.Fatalf("%s is refused", g.Probe)
		}
		observe(t, c, s)
	}
	if _, err := c.Pairs(); err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(c.pairs, func(p pairing) bool { return p.faults == pair && p.misfit == 0 }) {
		t.Errorf("left by themselves %v; pairs %v", faultsLeft(c), c.pairs)
	}
}

// dark is the house locked out for ohms.
func dark() house.Setup {
	s := house.DefaultSetup()
	s.PowerIndoor, s.PowerOutdoor = house.LockedOut, house.LockedOut
	return s
}

// What is kept of two faults at once is what the model shows, whatever of it was
// asked for before.
func TestJointsAreWhatTheModelShows(t *testing.T) {
	c, _ := open(t)
	cool := house.DefaultSetup().With(house.CoolCall)
	goals := []forecast.Goal{
		{Setup: cool, Probe: house.Volts(house.R, house.Y, house.AtThermostat)},
		{Setup: cool, Probe: house.LookAt(house.OutdoorUnit)},
		{Setup: dark(), Probe: house.Measure(quantity.Resistance, house.Y, house.C, house.AtThermostat)},
	}
	rows := []forecast.Faults{{house.OpenY, house.ShortGC}, {house.ContactorCoilOpen, house.CrossedRG}, {house.StatDead, house.OpenC}}
	j := newJoints()
	for _, ask := range []struct{ goals, rows int }{{1, 2}, {2, 1}, {3, 3}, {3, 3}} {
		got, err := j.show(c.sheets[0], goals[:ask.goals], rows[:ask.rows], pairDraws)
		if err != nil {
			t.Fatal(err)
		}
		want, err := c.sheets[0].Together(goals[:ask.goals], rows[:ask.rows], pairDraws)
		if err != nil {
			t.Fatal(err)
		}
		for g := range want {
			for r := range ask.rows {
				if !slices.Equal(got[g].Row(r), want[g].Row(r)) {
					t.Errorf("%v on %s: kept %v, shown %v", rows[r], goals[g].Probe, got[g].Row(r), want[g].Row(r))
				}
			}
		}
	}
	if j.size != len(goals)*len(rows) {
		t.Errorf("%d things were worked out, want %d", j.size, len(goals)*len(rows))
	}
}

// A pair that needs a fault to be without effect where it has one is a clash; a
// reading on which both act is open where neither shows it.
func TestClash(t *testing.T) {
	yes, no := true, false
	for _, x := range []struct {
		a, b          [2]bool // explains, acts
		clashes, open int
	}{
		{[2]bool{yes, yes}, [2]bool{no, no}, 0, 0},
		{[2]bool{no, yes}, [2]bool{yes, no}, 1, 0},
		{[2]bool{no, no}, [2]bool{no, no}, 1, 0},
		{[2]bool{no, yes}, [2]bool{no, yes}, 0, 1},
		{[2]bool{yes, yes}, [2]bool{no, yes}, 0, 0},
	} {
		m := func(s [2]bool) *member { return &member{explains: s[:1], acts: s[1:]} }
		if clashes, open := clash(m(x.a), m(x.b)); clashes != x.clashes || open != x.open {
			t.Errorf("%v with %v: %d clashes, %d open, want %d and %d", x.a, x.b, clashes, open, x.clashes, x.open)
		}
	}
}
