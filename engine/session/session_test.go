package session

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"stepdown/engine/caution"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// The small tree of these tests: a look, a batch at the base, a reading at the
// strip that only a technician makes, and ohms behind it.
const smallTree = `tree: no-cooling
title: The house does not cool
complaints: [not cooling]
symptom: {setup: {mode: cool, calling: 'yes'}, look: air, shows: [room, none, warm]}
fits: [cool-gas, cool-electric]
first: display
steps:
  display:
    look: display
    why: A dark display is another matter.
    branches: {blank: finding stat-battery-dead, lit: step base, low-battery: finding stat-battery-dead, waiting: finding delay-running}
    unable: step base
  base:
    volts: {rc: R-C, yc: Y-C}
    at: thermostat
    why: One look at the base shows power and call.
    branches:
      - {when: rc < control_min, then: finding fuse-blown}
      - {when: rc >= control_min and yc >= control_min, then: step strip}
      - {when: rc >= control_min and yc < control_min, then: finding stat-setting}
    unable: step strip
  strip:
    volts: {sc: Y-C}
    at: outdoor
    why: The call may be lost on the way out.
    branches:
      - {when: sc >= control_min, then: step coil}
      - {when: sc < control_min, then: finding outdoor-pair-open}
    unable: finding undecided
  coil:
    ohms: {k: coil-1-coil-2}
    at: outdoor
    why: An open coil reads OL.
    ol: finding contactor-coil-open
    branches:
      - {when: k < 1, because: shorted turns, then: finding contactor-coil-shorted}
      - {when: k >= 1, because: shorted turns, then: finding contactor-stuck-open}
    unable: finding undecided
`

const smallLimits = `limits:
  control_min: {value: 20.4, unit: V, source: 85 % of 24 V, known: read}
  control_max: {value: 30, unit: V, source: Class 2 control transformer, known: copy}
  meter_guard: {value: 0.6, unit: V, source: a meter's error, known: computed}
`

func smallFindings() string {
	var b strings.Builder
	b.WriteString("findings:\n")
	for _, id := range []string{"stat-battery-dead", "delay-running", "fuse-blown", "stat-setting", "outdoor-pair-open", "undecided",
		"contactor-coil-open", "contactor-coil-shorted", "contactor-stuck-open", "emergency", "not-this-circuit",
		"control-voltage-high", "line-voltage-crossed", "declined-equipment", "line-voltage-thermostat"} {
		do := "call"
		if id == "delay-running" {
			do = "Leave the thermostat on OFF until they come."
		}
		fmt.Fprintf(&b, `  %s:
    title: T %s
    parts: [part of %s]
    skills: [skill]
    who: a technician
    commonly: wear
    verdict: {tech: repair, homeowner: call-a-pro, dispatcher: call-a-pro}
    tech: {is: it is, proof: it reads, repair: [mend], confirm: look}
    homeowner: {is: it is, proof: it reads, do: [%s], tell: [this], confirm: look}
    dispatcher: {is: it is, proof: it reads, do: [send], tell: [this], confirm: look}
    leave: restored
    cautions: []
`, id, id, id, do)
	}
	return b.String()
}

type wordMatcher struct{}

func (wordMatcher) Match(text string) Match {
	switch {
	case strings.Contains(text, "gas"):
		return Match{Emergency: "gas"}
	case strings.Contains(text, "noise"):
		return Match{Outside: "a noise"}
	case strings.Contains(text, "cool"):
		return Match{Trees: []house.Complaint{house.NoCooling}, Sure: true}
	}
	return Match{}
}

func smallBook(t testing.TB) *Book { return bookOf(t, smallTree) }

func bookOf(t testing.TB, noCooling string) *Book {
	t.Helper()
	lib, problems := tree.Load(fstest.MapFS{
		"no-cooling.yaml": {Data: []byte(noCooling)},
		"limits.yaml":     {Data: []byte(smallLimits)},
		"findings.yaml":   {Data: []byte(smallFindings())},
	})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	fsys := fstest.MapFS{}
	for _, id := range []string{"lockout", "energised-work", "line-voltage", "control-power", "face-pull", "jumper", "fuse", "breaker"} {
		fsys[id+".yaml"] = &fstest.MapFile{Data: []byte(fmt.Sprintf("caution: %s\ntitle: %s\nhazard: a hazard\nword: %s\ntext: [mind it]\nsources: [common practice]\n", id, id, "word"+strings.Split(id, "-")[0][:4]))}
	}
	set, problems := caution.Load(fsys)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return &Book{Trees: lib, Cautions: set, Match: wordMatcher{}}
}

// call drives a book and fails on problems.
type call struct {
	t    testing.TB
	b    *Book
	s    State
	last []Effect
	all  []Event
}

func begin(t testing.TB, open Opening) *call {
	c := &call{t: t, b: smallBook(t)}
	c.send(Event{Kind: Start, Open: &open, At: time.Unix(0, 0)})
	return c
}

func (c *call) send(e Event) *call {
	c.t.Helper()
	c.s, c.last = c.b.Step(c.s, e)
	for _, x := range c.last {
		if x.Problem != nil {
			c.t.Fatalf("%v: %s", e, x.Problem.Text)
		}
	}
	c.all = append(c.all, e)
	return c
}

// ready does and acknowledges whatever the planner wants, until a question.
func (c *call) ready() *call {
	c.t.Helper()
	for i := 0; i < 60; i++ {
		p := c.s.Pending()
		switch {
		case p.Do != nil:
			c.send(Event{Kind: Done})
		case p.Caution != nil:
			c.send(Event{Kind: Acknowledge, Reply: p.Caution.Word})
		case p.Ask != nil && p.Ask.Look == house.StatKind && p.Ask.Step == "stat-kind":
			c.send(Event{Kind: Answer, Reply: "low-voltage"})
		case p.Ask != nil && (p.Ask.Step == "base" && p.Ask.Kind == AskChoose):
			c.send(Event{Kind: Answer, Reply: "exposed"})
		case p.Ask != nil && p.Ask.Step == "letters":
			c.send(Event{Kind: Answer, Reply: "R C Y G W"})
		default:
			return c
		}
	}
	c.t.Fatal("the planner does not come to an end")
	return c
}

func (c *call) answer(step, id string) *call {
	c.t.Helper()
	c.asks(step)
	return c.send(Event{Kind: Answer, Reply: id}).ready()
}

func (c *call) values(step string, kv ...any) *call {
	c.t.Helper()
	c.asks(step)
	read := map[string]quantity.Reading{}
	for i := 0; i < len(kv); i += 2 {
		switch v := kv[i+1].(type) {
		case float64:
			read[kv[i].(string)] = quantity.Of(v)
		case string:
			read[kv[i].(string)] = quantity.Reading{OL: v == "OL", Missing: v == "cannot"}
		}
	}
	return c.send(Event{Kind: Values, Read: read}).ready()
}

func (c *call) asks(step string) {
	c.t.Helper()
	if p := c.s.Pending().Ask; p == nil || p.Step != step {
		c.t.Fatalf("wanted the question %q, got %+v", step, c.s.Pending())
	}
}

func (c *call) finds(id house.Finding) *FindingEffect {
	c.t.Helper()
	if c.s.Finding() == nil || c.s.Finding().ID != id {
		c.t.Fatalf("found %+v, want %s", c.s.Finding(), id)
	}
	return c.s.Finding()
}

func tech() Opening {
	return Opening{Audience: house.Tech, Equipment: "cool-gas", Complaint: "not cooling"}
}

func TestTechnicianReachesTheCoil(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5)
	c.asks("strip")
	h := c.s.House()
	if h.Setup.PowerOutdoor != house.LockedOut || h.Setup.PowerIndoor != house.On || !h.Setup.CoverOutdoor {
		t.Errorf("the strip is read with %s", h.Setup)
	}
	c.values("strip", "sc", 26.1)
	c.asks("coil")
	if h := c.s.House(); h.Setup.PowerIndoor != house.LockedOut || len(h.Dead) == 0 {
		t.Errorf("ohms are read with %s, dead %v", h.Setup, h.Dead)
	}
	f := c.values("coil", "k", "OL").finds("contactor-coil-open")
	if f.Verdict != house.VerdictRepair || f.Family != house.Coil || f.Condemns {
		t.Errorf("finding %+v", f)
	}
	if !c.s.Ended() {
		t.Fatal("the call did not end")
	}
	if h := c.s.House().Setup; h.CoverOutdoor || h.PowerIndoor != house.On || h.PowerOutdoor != house.On || !h.Calling {
		t.Errorf("the house is left %s", h)
	}
	if c.last[len(c.last)-1].End == nil || c.last[len(c.last)-1].End.Exit != 0 {
		t.Errorf("last effect %+v", c.last[len(c.last)-1])
	}
}

func TestAudiencesAreCut(t *testing.T) {
	c := begin(t, Opening{Audience: house.Dispatcher, Equipment: "cool-gas"})
	c.answer("emergency", "no").answer("people", "frail").answer("temperature", "extreme")
	c.send(Event{Kind: Text, Reply: "the ac is not cooling"}).ready()
	c.answer("display", "lit")
	f := c.finds(house.Undecided)
	if f.Urgency != "today: someone frail is there" || f.Verdict != house.VerdictCallAPro {
		t.Errorf("ticket %+v", f)
	}
	want := "[open-y-outdoor open-c-outdoor contactor-coil-open contactor-coil-shorted contactor-stuck-open fuse-blown stat-setting]"
	got := house.FaultsOf(f.Faults...)
	if got != house.FaultsOf(house.OpenYOutdoor, house.OpenCOutdoor, house.ContactorCoilOpen, house.ContactorCoilShorted, house.ContactorStuckOpen, house.FuseBlown, house.StatSetting) {
		t.Errorf("still reachable %v, want %s", f.Faults, want)
	}
}

func TestEmergencyEndsAtOnce(t *testing.T) {
	c := begin(t, Opening{Audience: house.Homeowner})
	c.answer("emergency", "gas").finds(house.EmergencyFinding)
	if !c.s.Ended() {
		t.Error("not ended")
	}
	c = begin(t, tech()).ready()
	c.send(Event{Kind: Emergency, Reply: "smoke"}).finds(house.EmergencyFinding)
}

func TestTooHighVolts(t *testing.T) {
	for volts, want := range map[float64]house.Finding{31: house.ControlVoltageHigh, 60: house.LineVoltageCrossed, 120: house.LineVoltageCrossed} {
		c := begin(t, tech()).ready()
		c.answer("display", "lit").values("base", "rc", volts, "yc", 0.0).finds(want)
	}
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 30.4, "yc", 30.3)
	if c.s.Finding() != nil {
		t.Errorf("30.4 V is inside the guard band, found %s", c.s.Finding().ID)
	}
}

func TestBackUndoesAnswersNotTheHouse(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5).values("strip", "sc", 26.0)
	c.asks("coil")
	c.send(Event{Kind: Back})
	if !c.s.House().Setup.CoverOutdoor {
		t.Error("back closed a cover by itself")
	}
	c.ready()
	c.asks("strip")
	if len(c.s.Seen()) != 3 {
		t.Errorf("kept %v", c.s.Seen())
	}
}

// After back the house is worked from as it is: power that came on for a
// reading is locked out and the strip proven dead again before ohms.
func TestBackAfterPowerOnLocksOutAgain(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5).values("strip", "sc", 26.0)
	c.asks("coil")
	c.send(Event{Kind: Back}).ready()
	c.asks("strip")
	if c.s.House().Setup.PowerIndoor != house.On {
		t.Fatal("the strip is read without power")
	}
	c.send(Event{Kind: Values, Read: map[string]quantity.Reading{"sc": quantity.Of(26.0)}})
	var ids []string
	for c.s.Pending().Ask == nil {
		p := c.s.Pending()
		if p.Caution != nil {
			ids = append(ids, p.Caution.ID)
			c.send(Event{Kind: Acknowledge, Reply: p.Caution.Word})
			continue
		}
		ids = append(ids, p.Do.ID)
		c.send(Event{Kind: Done})
	}
	c.asks("coil")
	got := strings.Join(ids, " ")
	for _, want := range []string{"lockout", "lock-out-indoor", "try-controls-indoor", "strip-dead"} {
		if !strings.Contains(got, want) {
			t.Errorf("before ohms: %s, want %s among them", got, want)
		}
	}
}

func TestResumeProvesNothing(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5).values("strip", "sc", 26.0)
	c.asks("coil")
	c.send(Event{Kind: Resume})
	if dead := c.s.House().Dead; len(dead) != 0 {
		t.Errorf("after a pause %v counts as proven dead", dead)
	}
	if c.s.Pending().Ask != nil && c.s.Pending().Ask.Step == "coil" {
		t.Error("ohms are asked for without lockout")
	}
}

func TestUnableAtADoMakesSafeThenCuts(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit")
	c.asks("base")
	read := map[string]quantity.Reading{"rc": quantity.Of(26.8), "yc": quantity.Of(26.5)}
	c.send(Event{Kind: Values, Read: read})
	for c.s.Pending().Do == nil || !strings.HasPrefix(c.s.Pending().Do.ID, "live-dead-live") {
		p := c.s.Pending()
		switch {
		case p.Caution != nil:
			c.send(Event{Kind: Acknowledge, Reply: p.Caution.Word})
		case p.Do != nil:
			c.send(Event{Kind: Done})
		default:
			t.Fatalf("came to %+v", p)
		}
	}
	c.send(Event{Kind: Unable})
	if p := c.s.Pending(); p.Do == nil || !strings.HasPrefix(p.Do.ID, "close-cover") {
		t.Fatalf("not made safe: %+v", p)
	}
	c.ready().finds(house.Undecided)
	if h := c.s.House().Setup; h.CoverOutdoor || h.PowerOutdoor != house.LockedOut {
		t.Errorf("left %s", h)
	}
}

// Who cannot even make it safe is not asked over and over: the call ends, the
// house to be left off and locked.
func TestUnableToMakeSafeEnds(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit")
	c.send(Event{Kind: Values, Read: map[string]quantity.Reading{"rc": quantity.Of(26.8), "yc": quantity.Of(26.5)}})
	for c.s.Pending().Do == nil || !strings.HasPrefix(c.s.Pending().Do.ID, "live-dead-live") {
		if p := c.s.Pending(); p.Caution != nil {
			c.send(Event{Kind: Acknowledge, Reply: p.Caution.Word})
			continue
		}
		c.send(Event{Kind: Done})
	}
	for range 6 {
		if c.s.Ended() {
			break
		}
		c.send(Event{Kind: Unable})
	}
	c.finds(house.Undecided)
	if !c.s.Ended() {
		t.Errorf("still asked: %+v", c.s.Pending())
	}
}

func TestWrongRepliesLeaveTheQuestion(t *testing.T) {
	c := begin(t, tech())
	for _, e := range []Event{{Kind: Values}, {Kind: Text, Reply: "x"}, {Kind: Start}, {Kind: "nonsense"}, {Kind: Volunteer}} {
		before := c.s.Pending()
		next, out := c.b.Step(c.s, e)
		if len(out) != 1 || out[0].Problem == nil {
			t.Errorf("%v gave %+v", e.Kind, out)
		}
		if fmt.Sprintf("%+v", next.Pending()) != fmt.Sprintf("%+v", before) {
			t.Errorf("%v moved the question", e.Kind)
		}
	}
}

func TestCautionTakesItsWordOnly(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit")
	read := map[string]quantity.Reading{"rc": quantity.Of(26.8), "yc": quantity.Of(26.5)}
	c.send(Event{Kind: Values, Read: read})
	for c.s.Pending().Caution == nil {
		c.send(Event{Kind: Done})
	}
	for _, word := range []string{"yes", "done", "", "word"} {
		if _, out := c.b.Step(c.s, Event{Kind: Acknowledge, Reply: word}); out[0].Problem == nil {
			t.Errorf("%q passed the caution", word)
		}
	}
	if _, out := c.b.Step(c.s, Event{Kind: Done}); out[0].Problem == nil {
		t.Error("`done` passed the caution")
	}
}

func TestVolunteeredReadingsAreUsed(t *testing.T) {
	c := begin(t, tech()).ready()
	c.asks("display")
	for _, x := range []Seen{
		{Probe: house.Volts(house.R, house.C, house.AtThermostat), Reading: quantity.Of(26.8)},
		{Probe: house.Volts(house.Y, house.C, house.AtThermostat), Reading: quantity.Of(0)},
	} {
		c.send(Event{Kind: Volunteer, Seen: &x})
	}
	c.answer("display", "lit").finds("stat-setting")
}

func TestOneReadingOfABatchCannotBeTaken(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", "cannot")
	c.asks("strip")
	if len(c.s.Seen()) != 2 {
		t.Errorf("the other reading was lost: %v", c.s.Seen())
	}
}

// Readings may come one by one: each is kept at once and only the rest is asked
// for; one that cannot be taken cuts the step once the others are in.
func TestBatchInPieces(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 26.8)
	if q := c.s.Pending().Ask; len(q.Pairs) != 1 || q.Pairs[0].Name != "yc" || len(q.Given) != 1 {
		t.Fatalf("asked for %+v, given %+v", q.Pairs, q.Given)
	}
	c.send(Event{Kind: Back})
	if q := c.s.Pending().Ask; len(q.Pairs) != 2 {
		t.Errorf("after back asked for %+v", q.Pairs)
	}
	c.values("base", "yc", "cannot")
	c.values("base", "rc", 26.8)
	c.asks("strip")
	c = begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 2.0).values("base", "rc", 26.8, "yc", 0.0).finds("stat-setting")
}

// Replaying the events gives the same state, and Step never changes the state
// it was given.
func TestReplayIsTheCall(t *testing.T) {
	c := begin(t, tech()).ready()
	c.answer("display", "lit").values("base", "rc", 26.8, "yc", 26.5).send(Event{Kind: Back}).ready().
		values("base", "rc", 26.8, "yc", 26.5).values("strip", "sc", 0.0).finds(house.OutdoorPairOpen)
	b := smallBook(t)
	var s State
	for i, e := range c.all {
		before := fmt.Sprintf("%+v %+v", s.Record(), s.Pending())
		next, _ := b.Step(s, e)
		if again := fmt.Sprintf("%+v %+v", s.Record(), s.Pending()); again != before {
			t.Fatalf("event %d changed the state it was given", i)
		}
		s = next
	}
	if got, want := fmt.Sprint(s.Record()), fmt.Sprint(c.s.Record()); got != want {
		t.Errorf("replayed\n%s\nwant\n%s", got, want)
	}
}

func BenchmarkTurn(b *testing.B) {
	c := begin(b, tech()).ready()
	c.asks("display")
	e := Event{Kind: Answer, Reply: "lit"}
	b.ReportAllocs()
	for b.Loop() {
		c.b.Step(c.s, e)
	}
}
