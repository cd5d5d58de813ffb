package rewire_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/letter"
	"stepdown/engine/quantity"
	"stepdown/engine/rewire"
)

func answer(t *testing.T, name string, r rewire.Report, want string) {
	t.Helper()
	if r.State != rewire.Answer || landing(r) != want {
		q := ""
		if r.Question != nil {
			q = r.Question.ID
		}
		t.Errorf("%s: %s %s %v\n got %s\nwant %s", name, r.State, q, r.Why, landing(r), want)
	}
}

func asks(t *testing.T, name string, r rewire.Report, id string) {
	t.Helper()
	if r.State != rewire.Asks || r.Question.ID != id {
		q := ""
		if r.Question != nil {
			q = r.Question.ID
		}
		t.Errorf("%s: %s %q %v, want the question %s", name, r.State, q, r.Why, id)
	}
	if len(r.Landing) > 0 || len(r.Proofs) > 0 {
		t.Errorf("%s: a landing is given beside a question", name)
	}
}

func undecided(t *testing.T, name string, r rewire.Report, words ...string) {
	t.Helper()
	text := strings.Join(r.Why, "\n")
	if r.State != rewire.Undecided || len(r.Landing) > 0 {
		t.Errorf("%s: %s, want undecided: %v", name, r.State, r.Why)
	}
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("%s: %q does not say %q", name, text, w)
		}
	}
}

const pumpBase = "R C Y G O/B W2 E"

// TestBlueOnB: a blue conductor on B, beside no C. The reading tells the
// common from the valve, and each lands where it belongs.
func TestBlueOnB(t *testing.T) {
	c := swap(t, house.NoEquipment, "red R, blue B, yellow Y, green G, white W", "R C Y G W", rewire.PowerCommon)
	r := solve(t, c)
	asks(t, "unread", r, "ohms:blue:red")
	if steps, ok := r.Question.Steps(house.Tech, c.Facts()); !ok || !slices.ContainsFunc(planIDs(steps), func(s string) bool { return s == "lockout" }) {
		t.Errorf("the reading is not led to through lockout: %v", planIDs(steps))
	}
	c.Readings = []rewire.Reading{reading(c, 1, 0, 3.1)}
	r = solve(t, c)
	asks(t, "the common: gas or electric decides a setting", r, "equipment")
	c.Equipment = house.CoolGas
	r = solve(t, c)
	answer(t, "the common", r, "red→R blue→C yellow→Y green→G white→W")
	if p := r.Landing[1]; p.Confidence != rewire.ByReading || !strings.Contains(p.Reason, "though the old base says B") {
		t.Errorf("%+v", p)
	}
	c.Equipment, c.Readings = house.NoEquipment, []rewire.Reading{reading(c, 1, 0, 30)}
	c.New, _ = rewire.ParseBase(pumpBase)
	c.New.Power = rewire.PowerBattery
	r = solve(t, c)
	answer(t, "the valve", r, "red→R blue→O/B yellow→Y green→G white→W2")
	if r.Plan.Changeover != house.ModeHeat {
		t.Errorf("an old B is set to %s", r.Plan.Changeover)
	}
	c.Readings[0].Value = quantity.Of(400)
	asks(t, "a reading that fits neither", solve(t, c), "ohms:blue:red:again")
}

// TestConflictIsRead: the letters at the two ends differ. The reading decides,
// and says so; a reading that cannot be made leaves it open.
func TestConflictIsRead(t *testing.T) {
	c := swap(t, house.CoolElectric, "red R, blue C, yellow Y G, green G Y, white W", "R C Y G W", rewire.PowerCommon)
	r := solve(t, c)
	asks(t, "Y and G", r, "ohms:yellow:blue")
	c.Readings = []rewire.Reading{reading(c, 2, 1, 65)}
	r = solve(t, c)
	answer(t, "65 ohms is the fan relay", r, "red→R blue→C yellow→G green→Y white→W")
	if r.Landing[2].Confidence != rewire.ByReading {
		t.Errorf("%+v", r.Landing[2])
	}
	c.Readings[0].Value = quantity.Of(9)
	answer(t, "9 ohms is the contactor", solve(t, c), "red→R blue→C yellow→Y green→G white→W")
	c.Readings, c.Unable = nil, []string{"ohms:yellow:blue", "ohms:yellow:red", "jumper:yellow", "ohms:green:blue", "ohms:green:red", "jumper:green", "ring-out:yellow", "ring-out:green"}
	undecided(t, "nobody can read it", solve(t, c), "yellow (old Y) may be Y or G")
	c.Unable, c.Audience = nil, house.Homeowner
	undecided(t, "a homeowner", solve(t, c), "licensed technician")
}

// TestReadingsCannotTellSoAJumperDoes: a contactor and a valve overlap on ohms,
// so R is joined to the conductor and somebody looks.
func TestReadingsCannotTellSoAJumperDoes(t *testing.T) {
	c := swap(t, house.PumpCoolingValve, "red R R, blue C C, yellow Y O, green G G, orange O Y, white W2 W2", pumpBase, rewire.PowerCommon)
	r := solve(t, c)
	asks(t, "Y and O", r, "jumper:yellow")
	seen := r.Question.Seen
	var err error
	if seen.Answer, err = seen.Look.ParseAnswer("running"); err != nil {
		t.Fatal(err)
	}
	c.Looks = append(c.Looks, seen)
	answer(t, "it runs", solve(t, c), "red→R blue→C yellow→Y green→G orange→O/B white→W2")
	if seen.Answer, err = seen.Look.ParseAnswer("stopped"); err != nil {
		t.Fatal(err)
	}
	c.Looks = []rewire.Seen{seen}
	if r := solve(t, c); r.State == rewire.Answer {
		t.Errorf("what does not run decides: it may have failed")
	}
}

// TestMissingEvidence: a wire nobody knows anything of is looked up at the
// equipment; where that cannot be, it is capped if the rest covers every call,
// and nothing is landed if not.
func TestMissingEvidence(t *testing.T) {
	c := swap(t, house.CoolGas, "red R, blue C, yellow Y, green, white W", "R C Y G W", rewire.PowerCommon)
	asks(t, "no letter", solve(t, c), "board:green")
	c.Conductors[3] = wire(t, "green", "", "G")
	answer(t, "found at the equipment", solve(t, c), "red→R blue→C yellow→Y green→G white→W")
	c.Conductors[3] = wire(t, "green")
	c.Unable = []string{"board:green"}
	undecided(t, "its colour is no fact", solve(t, c), "No conductor is known to be G")

	c = swap(t, house.CoolGas, "red R, blue C, yellow Y, green G, white W, brown", "R C Y G W", rewire.PowerCommon)
	asks(t, "one too many", solve(t, c), "board:brown")
	c.Unable = []string{"board:brown"}
	r := solve(t, c)
	answer(t, "one too many, capped", r, "red→R blue→C yellow→Y green→G white→W brown→cap")
	if r.Landing[5].Confidence != rewire.ByNotNeeded {
		t.Errorf("%+v", r.Landing[5])
	}
	c.Conductors[5] = wire(t, "brown", "none")
	c.Unable = nil
	answer(t, "one that was unused", solve(t, c), "red→R blue→C yellow→Y green→G white→W brown→cap")

	c = swap(t, house.CoolGas, "red R, blue C, yellow Y, white W", "R C Y G W", rewire.PowerCommon)
	undecided(t, "one too few", solve(t, c), "No conductor is known to be G")
	c = swap(t, house.CoolGas, "red R, blue C, yellow Y, green G, white W, orange O", "R C Y G W", rewire.PowerCommon)
	undecided(t, "a letter this equipment lacks", solve(t, c), "orange (old O) has no place")
}

// TestTooMuchIsUnknown: twelve wires that may be millions of things are looked
// up one by one, and nothing is landed; where nobody can look, that is said.
func TestTooMuchIsUnknown(t *testing.T) {
	c := swap(t, house.NoEquipment, strings.Join(letter.Jackets, " B, ")+" B", pumpBase, rewire.PowerCommon)
	asks(t, "all on B", solve(t, c), "board:red")
	c.Audience = house.Homeowner
	undecided(t, "all on B, a homeowner", solve(t, c), "Too many of these wires", "licensed technician")
	c = swap(t, house.NoEquipment, strings.Join(letter.Jackets, ", "), pumpBase, rewire.PowerCommon)
	for k := range c.Conductors[1:] {
		c.Readings = append(c.Readings, reading(c, k+1, 0, 12))
	}
	asks(t, "no letter", solve(t, c), "board:red")
	c.Audience = house.Homeowner
	undecided(t, "no letter, a homeowner", solve(t, c), "Nobody knows what white is")
	for range 20 {
		c.Conductors = append(c.Conductors, rewire.Conductor{Name: fmt.Sprint(len(c.Conductors))})
	}
	if _, err := solver().Solve(c); !errors.Is(err, rewire.ErrTooMany) {
		t.Errorf("%d wires: %v", len(c.Conductors), err)
	}
}

// TestTwoOfOneColour: a colour names nothing twice, and a file that says so is
// turned down with the mend.
func TestTwoOfOneColour(t *testing.T) {
	const file = `
equipment: cool-gas
new-base: {letters: R C Y G W, power: common}
conductors:
  - {colour: red, old: R}
  - {colour: white, old: W}
  - {colour: white, old: C}
  - {colour: yellow, old: Y}
  - {colour: green, old: G}
`
	_, problems := rewire.Parse("swap.yaml", []byte(file))
	if len(problems) != 1 || problems[0].Pos.Line != 7 || !strings.Contains(problems[0].Hint, "name: white-2") {
		t.Fatalf("%v", problems)
	}
	c, problems := rewire.Parse("swap.yaml", []byte(strings.Replace(file, "{colour: white, old: C}", "{name: white-2, colour: white, old: C}", 1)))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	answer(t, "two whites", solve(t, c), "red→R white→W white-2→C yellow→Y green→G")
}

// TestNoCommon: what can be done, each tried in the model.
func TestNoCommon(t *testing.T) {
	c := swap(t, house.CoolGas, "red R, yellow Y, green G, white W, blue none", "R C Y G W", rewire.PowerCommon)
	r := solve(t, c)
	if r.State != rewire.Blocked || len(r.Landing) > 0 {
		t.Fatalf("%s %v", r.State, r.Why)
	}
	var ids []string
	for _, o := range r.Common {
		if !o.Proven {
			t.Errorf("%s is not proven", o.ID)
		}
		ids = append(ids, o.ID)
	}
	if !slices.Equal(ids, []string{"spare-conductor", "added-common", "battery"}) {
		t.Errorf("%v", ids)
	}
	c.New.Power = rewire.PowerEither
	r = solve(t, c)
	answer(t, "batteries do", r, "red→R yellow→Y green→G white→W blue→cap")
	if r.Plan.Power != rewire.PowerBattery || len(r.Common) != 3 {
		t.Errorf("%s %v", r.Plan.Power, r.Common)
	}
	c.New.Power = rewire.PowerThroughLoad
	answer(t, "through a load", solve(t, c), "red→R yellow→Y green→G white→W blue→cap")
}

// TestJumpersAndSettings on the bases that need them.
func TestJumpersAndSettings(t *testing.T) {
	c := swap(t, house.CoolElectric, "red Rh, blue C, yellow Y, green G, white W", "Rc Rh C Y G W", rewire.PowerCommon)
	r := solve(t, c)
	answer(t, "one transformer", r, "red→Rc blue→C yellow→Y green→G white→W")
	if len(r.Plan.Joined) != 1 || r.Plan.Joined[0] != [2]house.Terminal{house.Rc, house.Rh} || !r.Plan.FanOnHeat {
		t.Errorf("%+v", r.Plan)
	}
	c = swap(t, house.NoEquipment, "red Rh, brown Rc, blue C, yellow Y, green G, white W", "Rc Rh C Y G W", rewire.PowerCommon)
	r = solve(t, c)
	answer(t, "two transformers", r, "red→Rh brown→Rc blue→C yellow→Y green→G white→W")
	if len(r.Plan.Joined) != 0 {
		t.Errorf("two transformers are joined: %+v", r.Plan)
	}
	c.New, _ = rewire.ParseBase("R C Y G W")
	c.New.Power = rewire.PowerCommon
	if r = solve(t, c); r.State != rewire.Blocked || !strings.Contains(r.Why[0], "Two transformers need two R screws") {
		t.Errorf("%s %v", r.State, r.Why)
	}
	c.Equipment = house.CoolElectric
	undecided(t, "two transformers and one named", solve(t, c), "that is two transformers")
	c = swap(t, house.DualFuel, "red R, blue C, yellow Y, green G, orange O, white W2", pumpBase, rewire.PowerCommon)
	r = solve(t, c)
	answer(t, "dual fuel", r, "red→R blue→C yellow→Y green→G orange→O/B white→W2")
	if !slices.Contains(r.Plan.Joined, [2]house.Terminal{house.W2, house.E}) || !r.Plan.GasBackup || r.Plan.Changeover != house.ModeCool {
		t.Errorf("%+v", r.Plan)
	}
}

// TestOBDoesNotTellItsSense: the old base says O/B and nobody named the
// equipment.
func TestOBDoesNotTellItsSense(t *testing.T) {
	c := swap(t, house.NoEquipment, "red R, blue C, yellow Y, green G, orange O/B, white AUX", pumpBase, rewire.PowerCommon)
	asks(t, "a technician", solve(t, c), "changeover-rated")
	c.Audience = house.Homeowner
	asks(t, "a homeowner", solve(t, c), "changeover-setting")
	a, err := house.ChangeoverSetting.ParseAnswer("heating")
	if err != nil {
		t.Fatal(err)
	}
	c.Looks = []rewire.Seen{{Jumper: -1, Look: house.ChangeoverSetting, Answer: a}}
	r := solve(t, c)
	answer(t, "heating", r, "red→R blue→C yellow→Y green→G orange→O/B white→W2")
	if r.Plan.Changeover != house.ModeHeat {
		t.Errorf("%+v", r.Plan)
	}
}

// TestEveryColourLies: each letter has a colour that is usual for another. The
// answer is the letters', and says that the colours were not believed.
func TestEveryColourLies(t *testing.T) {
	c := swap(t, house.CoolGas, "green R R, yellow C C, red Y Y, white G G, blue W W", "R C Y G W", rewire.PowerCommon)
	r := solve(t, c)
	answer(t, "every colour lies", r, "green→R yellow→C red→Y white→G blue→W")
	for _, p := range r.Landing {
		if p.Confidence != rewire.ByBoth || !strings.Contains(p.Reason, "a colour decides nothing") {
			t.Errorf("%+v", p)
		}
	}
	// The same with no letter at all: colours alone land nothing.
	c = swap(t, house.CoolGas, "red, blue, yellow, green, white", "R C Y G W", rewire.PowerCommon)
	asks(t, "colours alone", solve(t, c), "board:red")
	for _, w := range c.Conductors {
		c.Unable = append(c.Unable, "board:"+w.Name)
	}
	undecided(t, "colours alone, nobody looks", solve(t, c), "No conductor is known to be R")
}

// TestDeclined equipment is left alone.
func TestDeclined(t *testing.T) {
	for _, id := range []house.Equipment{house.LineVoltageThermostat, house.Communicating, house.Millivolt} {
		c := swap(t, id, "red R, white W", "R W", rewire.PowerBattery)
		if r := solve(t, c); r.State != rewire.Blocked || len(r.Why) != 1 {
			t.Errorf("%s: %s %v", id, r.State, r.Why)
		}
	}
}
