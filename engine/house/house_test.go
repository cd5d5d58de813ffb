package house

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"stepdown/engine/quantity"
)

func TestListsAreClosedAndRoundTrip(t *testing.T) {
	check := func(kind string, ids []string, parse func(string) (fmt.Stringer, error)) {
		t.Helper()
		seen := map[string]bool{}
		for _, id := range ids {
			if id == "" || seen[id] {
				t.Errorf("%s: %q is empty or listed twice", kind, id)
			}
			seen[id] = true
			v, err := parse(id)
			if err != nil || v.String() != id {
				t.Errorf("%s: %q reads back as %v, %v", kind, id, v, err)
			}
		}
		if _, err := parse("no-such-word"); err == nil {
			t.Errorf("%s: an unlisted word was taken", kind)
		}
	}
	check("terminal", terminals.words(), func(s string) (fmt.Stringer, error) { return ParseTerminal(s) })
	check("place", places.words(), func(s string) (fmt.Stringer, error) { return ParsePlace(s) })
	check("look", looks.words(), func(s string) (fmt.Stringer, error) { return ParseLook(s) })
	check("fault", faults.words(), func(s string) (fmt.Stringer, error) { return ParseFault(s) })
	check("equipment", equipments.words(), func(s string) (fmt.Stringer, error) { return ParseEquipment(s) })
	check("complaint", complaints.words(), func(s string) (fmt.Stringer, error) { return ParseComplaint(s) })
	check("key", keys.words(), func(s string) (fmt.Stringer, error) { return ParseKey(s) })
	check("fact", facts.words(), func(s string) (fmt.Stringer, error) { return ParseFact(s) })
	check("audience", audiences.words(), func(s string) (fmt.Stringer, error) { return ParseAudience(s) })
	for _, c := range AllConductors() {
		if got, err := ParseConductor(c.String()); err != nil || got != c {
			t.Errorf("conductor %s reads back as %v, %v", c, got, err)
		}
	}
	if n := len(terminals.ids); n != int(terminalCount) {
		t.Errorf("%d terminal ids for %d terminals", n, terminalCount)
	}
	if n := len(faults.ids); n != int(faultCount) {
		t.Errorf("%d fault ids for %d faults", n, faultCount)
	}
	if len(conductors) > 128 {
		t.Errorf("%d conductors do not fit the set", len(conductors))
	}
}

func TestUnknownWordNamesTheNearest(t *testing.T) {
	_, err := ParseFault("open-yy")
	if err == nil || !strings.Contains(err.Error(), `"open-y"`) {
		t.Errorf("got %v", err)
	}
}

func TestTerminalAliasesAndClasses(t *testing.T) {
	for alias, want := range map[string]Terminal{"Y1": Y, "W1": W, "AUX": W2, "aux": W2, "W2/AUX": W2, "RC": Rc, "RH": Rh} {
		if got, err := ParseTerminal(alias); err != nil || got != want {
			t.Errorf("%s reads as %v, %v; want %v", alias, got, err, want)
		}
	}
	line := map[Terminal]bool{}
	for _, word := range strings.Fields("pri-1 pri-2 heat-pri-1 heat-pri-2 door-1 door-2 feed-1 feed-2 feed2-1 feed2-2 L1 L2 T1 T2") {
		x, err := ParseTerminal(word)
		if err != nil {
			t.Fatal(err)
		}
		line[x] = true
	}
	for _, x := range Terminals() {
		if (x.Class() == Line) != line[x] {
			t.Errorf("%s has class %s", x, x.Class())
		}
	}
}

func TestFamilies(t *testing.T) {
	for f, want := range map[Fault]Family{
		None: FamilyNone, DelayRunning: Waiting, NoLineIndoor: Supply, TransformerTapWrong: Transformer, FloatOpen: Protection,
		OpenC: ConductorFamily, CrossedRW2: ConductorFamily, ContactorCoilOpen: Coil, ContactorWelded: Contactor, DefrostStuck: Board,
		StatNotSeated: Setting, CommonOnB: Setting, StatDead: Thermostat, StatChangeoverStuck: Thermostat, ValveStuck: BeyondControl} {
		if got := f.Family(); got != want {
			t.Errorf("%s is in family %s, want %s", f, got, want)
		}
	}
	n := 0
	for _, f := range Faults() {
		if f.Condemns() {
			n++
			if !strings.HasPrefix(f.String(), "stat-") {
				t.Errorf("%s condemns a thermostat", f)
			}
		}
	}
	if n != 12 {
		t.Errorf("%d faults condemn the thermostat, want 12", n)
	}
}

func TestFindings(t *testing.T) {
	if got := FindingOf(OpenYOutdoor, CoolGas); got != OutdoorPairOpen {
		t.Errorf("two conductors out: %s", got)
	}
	if got := FindingOf(OpenYOutdoor, PumpCoolingValve); got != "open-y-outdoor" {
		t.Errorf("more conductors out: %s", got)
	}
	for _, f := range Findings() {
		if back, err := ParseFinding(string(f)); err != nil || back != f {
			t.Errorf("%s reads back as %v, %v", f, back, err)
		}
	}
}

func TestWordsOfOneCabinet(t *testing.T) {
	const text = "Outdoor unit off: switch the indoor unit's breaker off, then read at the indoor board."
	const want = "Packaged unit off: switch the packaged unit's breaker off, then read at the board."
	if got := PackagedPump.Words(text); got != want {
		t.Errorf("in one cabinet: %s", got)
	}
	for _, e := range []Equipment{NoEquipment, CoolElectric, SplitPower} {
		if got := e.Words(text); got != text {
			t.Errorf("%s: %s", e, got)
		}
	}
	const furnace = "Outdoor unit off: switch the furnace's breaker off, then read at the indoor board."
	for _, e := range []Equipment{CoolGas, DualFuel} {
		if got := e.Words(text); got != furnace {
			t.Errorf("%s: %s", e, got)
		}
	}
}

func TestWordsOfTwoTransformers(t *testing.T) {
	for text, want := range map[string]string{
		"R is broken between the board and the wall.":    "Rc is broken between the board and the wall.",
		"R and C touch in the cable":                     "Rc and C touch in the cable",
		"R feeds W through a bridge":                     "Rh feeds W through a bridge",
		"Lift W at both ends and ohm it to R, face off.": "Lift W at both ends and ohm it to Rh, face off.",
		"Through the heat R reads to W. G proves R.":     "Through the heat Rh reads to W. G proves Rc.",
		"R to G dead, R to W alive.":                     "Rc to G dead, Rh to W alive.",
		"The Rc to Rh link is missing; Rated OR Read.":   "The Rc to Rh link is missing; Rated OR Read.",
	} {
		if got := SplitPower.Words(text); got != want {
			t.Errorf("%s: %s", text, got)
		}
		for _, e := range []Equipment{NoEquipment, CoolGas, PackagedPump} {
			if got := e.Words(text); got != text {
				t.Errorf("%s: %s", e, got)
			}
		}
	}
}

func TestJumperWords(t *testing.T) {
	for _, c := range []struct {
		e    Equipment
		to   Letters
		want string
	}{
		{CoolGas, LettersOf(Y, G), "R to Y and G"},
		{CoolGas, LettersOf(W), "R to W"},
		{SplitPower, LettersOf(Y, G), "Rc to Y and G"},
		{SplitPower, LettersOf(W), "Rh to W"},
		{SplitPower, LettersOf(W, G), "Rh to W and a second one from Rc to G"},
	} {
		if got := c.e.JumperWords(c.to); got != c.want {
			t.Errorf("%s, %s: %s, want %s", c.e, c.to, got, c.want)
		}
	}
}

func TestSetupJSONHoldsEveryKey(t *testing.T) {
	s := DefaultSetup().With(CoolCall).With(must("jumper", "R Y", "lifted", "Y@indoor>outdoor coil-1@outdoor"))
	data, err := MarshalState(s, []Place{AtIndoor})
	if err != nil {
		t.Fatal(err)
	}
	want := `{"power-indoor":"on","power-outdoor":"on","thermostat":"mounted","mode":"cool","calling":"yes","fan":"auto",` +
		`"jumper":["R","Y"],"jumper-at":"thermostat","lifted":["Y@indoor\u003eoutdoor","coil-1@outdoor"],"fuse":"as-found",` +
		`"cover-indoor":"closed","cover-outdoor":"closed","proven-dead":["indoor"]}`
	if string(data) != want {
		t.Errorf("got  %s\nwant %s", data, want)
	}
	var p Partial
	if err := json.Unmarshal(data, &p); err != nil {
		t.Fatal(err)
	}
	if got := p.Over(Setup{Mode: ModeHeat}); got != s {
		t.Errorf("read back as %s", got)
	}
}

func TestJumperIsNeverOnCOrB(t *testing.T) {
	for _, words := range []string{"R C", "R B", "R L", "R E", "Y G", "R"} {
		var p Partial
		if err := p.Set(KeyJumper, strings.Fields(words)); err == nil {
			t.Errorf("a jumper [%s] was taken", words)
		}
	}
	var p Partial
	if err := p.Set(KeyJumper, []string{"R", "Y", "G"}); err != nil {
		t.Error(err)
	}
}

// A thermostat is set to what it has letters for; off the wall it calls nothing.
func TestSets(t *testing.T) {
	fan := DefaultSetup().With(FanCall)
	for _, c := range []struct {
		e    Equipment
		s    Setup
		want bool
	}{
		{HeatOnly, fan, false}, {CoolGas, fan, true}, {HeatOnly, DefaultSetup().With(CoolCall), false}, {HeatOnly, DefaultSetup().With(HeatCall), true},
		{CoolGas, DefaultSetup().With(EmergencyCall), false}, {DualFuel, DefaultSetup().With(EmergencyCall), true},
		{HeatOnly, DefaultSetup().With(CoolCall).With(must("thermostat", "removed")), true}, {NoEquipment, fan, true},
	} {
		if got := c.e.Sets(c.s); got != c.want {
			t.Errorf("%s sets %s: %v", c.e, c.s, got)
		}
	}
}

// What each audience may reach is the vocabulary's own table.
func TestReach(t *testing.T) {
	base := DefaultSetup().With(CoolCall)
	jumped := base.With(must("jumper", "R Y"))
	removed := base.With(must("thermostat", "removed"))
	covered := Facts{Equipment: CoolGas, Base: BaseCovered, Meter: MeterBoth}
	exposed := Facts{Equipment: CoolGas, Base: BaseExposed, Meter: MeterHighImpedance}
	rc := Volts(R, C, AtThermostat)
	for _, c := range []struct {
		name string
		who  Audience
		f    Facts
		p    Probe
		s    Setup
		want Cut
	}{
		{"tech at the strip", Tech, exposed, Volts(Y, C, AtOutdoor), base, NoCut},
		{"homeowner at the strip", Homeowner, exposed, Volts(Y, C, AtOutdoor), base, CutAudience},
		{"homeowner at the base", Homeowner, exposed, rc, base, NoCut},
		{"homeowner jumper", Homeowner, exposed, LookAt(OutdoorUnit), jumped, CutSetup},
		{"homeowner ohms", Homeowner, exposed, Measure(quantity.Resistance, R, C, AtThermostat), base, CutAudience},
		{"dispatcher meter", Dispatcher, exposed, rc, base, CutAudience},
		{"dispatcher look", Dispatcher, exposed, LookAt(Display), base, NoCut},
		{"dispatcher contactor", Dispatcher, exposed, LookAt(ContactorLook), base, CutAudience},
		{"dispatcher face off", Dispatcher, exposed, LookAt(OutdoorUnit), removed, CutSetup},
		{"face covers screws", Tech, covered, rc, base, CutBase},
		{"face off", Tech, covered, rc, removed, NoCut},
		{"no low-impedance mode", Tech, exposed, Measure(quantity.LowZVolts, R, C, AtThermostat), base, CutLowImpedance},
		{"no meter", Tech, Facts{Meter: MeterNone}, rc, base, CutNoMeter},
		{"no such terminal", Tech, exposed, Volts(O, C, AtThermostat), base, CutTerminal},
		{"no C at this base", Tech, Facts{Letters: LettersOf(R, Y, G, W), Base: BaseExposed}, rc, base, CutTerminal},
		{"no burner in an air handler", Tech, Facts{Equipment: CoolElectric}, LookAt(Burner), base, CutLook},
	} {
		if got := Reach(c.who, c.f, c.p, c.s); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

func Example() {
	p := Volts(R, C, AtThermostat)
	s := DefaultSetup().With(CoolCall)
	fmt.Println(p)
	fmt.Println(s)
	// Output:
	// volts R-C at thermostat
	// mode=cool calling=yes
}
