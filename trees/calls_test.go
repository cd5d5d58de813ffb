package trees_test

import (
	"flag"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// call is a walk to be made: who, in which house, from which tree.
type call struct {
	lib   *tree.Library
	tree  *tree.Tree
	house *circuit.House
	fault house.Fault
	who   house.Audience
	base  house.Base
	know  func(house.Facts) house.Facts // what is known of the house; nil for all of it
}

func (c call) walker() *walker {
	facts := c.house.Draw().Facts()
	facts.Base, facts.Meter = c.base, house.MeterBoth
	if facts.BaseR == house.BaseRRcRh {
		facts.Letters = facts.Letters.Minus(house.LettersOf(house.R)) | house.LettersOf(house.Rc, house.Rh)
	}
	if c.know != nil {
		facts = c.know(facts)
	}
	return &walker{lib: c.lib, house: c.house, fault: c.fault, who: c.who, facts: facts, home: planner.Start()}
}

// run makes the call from the house as its complaint left it.
func (c call) run(t *testing.T, w *walker) house.Finding {
	t.Helper()
	if err := c.house.Become(c.fault); err != nil {
		t.Fatal(err)
	}
	c.play(t)
	got, err := w.walk(c.tree.First)
	if err != nil {
		t.Fatalf("%s, %s in %s: %v", c.tree.ID, c.fault, c.house.Draw().Equipment.ID, err)
	}
	return got
}

func (c call) play(t *testing.T) {
	t.Helper()
	if len(c.tree.Symptoms) == 0 || c.tree.Symptoms[0].Look == house.NoLook {
		return
	}
	if err := c.house.Play(c.tree.Base().Over(house.DefaultSetup())); err != nil {
		t.Fatal(err)
	}
}

// hungry is a house whose thermostat takes much and gives up early: a bad
// joint in C shows only there.
func hungry(t *testing.T, d circuit.Draw) circuit.Draw {
	t.Helper()
	for name, x := range map[string]float64{"stat.volt-amperes": 3, "stat.least-volts": 18, "fault.loose-ohms": 150} {
		var err error
		if d, err = d.WithValue(name, x); err != nil {
			t.Fatal(err)
		}
	}
	return d
}

// eachFault runs do on every fault that shows a complaint, over a few houses.
func eachFault(t *testing.T, lib *tree.Library, draws int, who house.Audience, do func(c call)) {
	t.Helper()
	cat := catalog(t)
	for _, id := range []house.Equipment{house.CoolGas, house.CoolElectric} {
		e := cat.Equipment(id)
		rng := rand.New(rand.NewPCG(7, uint64(id)))
		for n := range draws {
			d := e.Nominal()
			switch n {
			case 0:
			case 1:
				d = hungry(t, d)
			default:
				d = e.Sample(rng, 1)
			}
			for _, f := range e.Faults() {
				h, err := circuit.NewHouse(d, f)
				if err != nil {
					t.Fatal(err)
				}
				base := house.BaseExposed
				if (n+int(f))%2 == 0 {
					base = house.BaseCovered
				}
				for _, id := range []house.Complaint{house.NoCooling, house.DarkDisplay} {
					if tr := lib.Trees[id]; shows(t, h, tr) {
						do(call{lib: lib, tree: tr, house: h, fault: f, who: who, base: base})
					}
				}
			}
		}
	}
}

// alike are faults that no probe of a house tells apart, by the finding that
// names the one whose check comes first: a setting and a seat before a part.
var alike = map[house.Fault]house.Finding{
	house.StatNotSeated: "stat-setting",
	house.StatDead:      "stat-not-seated",
}

// between are faults that come so close to each other in a few houses that a
// call stays open there, and says which probe would part them.
var between = map[house.Fault]bool{
	house.TransformerWeak: true, house.TransformerTapWrong: true, house.ContactorStuckOpen: true, house.StatDead: true,
}

var draws = flag.Int("draws", 10, "houses each fault is tried in")

// misses walks every fault and lists the calls that end elsewhere than at its
// finding, and the findings that were reached.
func misses(t *testing.T, draws int, know func(house.Facts) house.Facts) ([]string, map[house.Finding]bool) {
	t.Helper()
	var out []string
	reached := map[house.Finding]bool{}
	eachFault(t, library(t), draws, house.Tech, func(c call) {
		c.know = know
		w := c.walker()
		if w.facts.Equipment == house.NoEquipment && !house.Tech.MayNotKnow(c.house.Draw().Equipment.ID) {
			return
		}
		got := c.run(t, w)
		reached[got] = true
		want := house.FindingOf(c.fault, c.house.Draw().Equipment.ID)
		if got != want && got != alike[c.fault] && (got != house.Undecided || !between[c.fault]) {
			out = append(out, fmt.Sprintf("%s, %s in %s ends at %s:\n  %s", c.tree.ID, c.fault, c.house.Draw().Equipment.ID, got, strings.Join(w.path, " > ")))
		}
	})
	return out, reached
}

func TestEveryFaultEndsAtItsFinding(t *testing.T) {
	missed, reached := misses(t, *draws, nil)
	for _, line := range missed {
		t.Error(line)
	}
	for _, f := range []house.Finding{
		"delay-running", "no-line-indoor", "no-line-outdoor", "door-switch-open", house.TransformerFailed, "transformer-weak",
		"fuse-blown", "float-open", "pressure-switch-open", "open-r", "open-c", "open-y", "open-g", house.OutdoorPairOpen,
		"loose-r", "loose-c", "short-r-c", "short-y-c", "short-g-c", "short-y-c-outdoor", "contactor-coil-open",
		"contactor-coil-shorted", "contactor-stuck-open", "contactor-contacts-open", "outdoor-beyond-contactor",
		"fan-relay-open", "board-no-fan-output", "blower-no-response", "stat-setting", "stat-battery-dead",
		"stat-not-seated", "stat-dead", "stat-y-open", "stat-g-open", "stat-w-stuck", "crossed-r-w", "sequencer-welded",
	} {
		if !reached[f] {
			t.Errorf("no call ended at %s", f)
		}
	}
}

// TestLittleKnown: an ordinary meter, and a house nobody can say much about,
// lead to the same finding or to none, never to a wrong part.
func TestLittleKnown(t *testing.T) {
	for what, know := range map[string]func(house.Facts) house.Facts{
		"no low-impedance mode": func(f house.Facts) house.Facts { f.Meter = house.MeterHighImpedance; return f },
		"no meter":              func(f house.Facts) house.Facts { f.Meter = house.MeterNone; return f },
		"unknown supply": func(f house.Facts) house.Facts {
			f.StatSupply, f.BaseR = house.SupplyUnknown, house.BaseRUnknown
			return f
		},
		"unknown equipment": func(f house.Facts) house.Facts { f.Equipment, f.Letters = house.NoEquipment, 0; return f },
	} {
		missed, _ := misses(t, max(2, *draws/6), know)
		for _, line := range missed {
			if !strings.Contains(line, "ends at undecided") {
				t.Errorf("%s: %s", what, line)
			}
		}
	}
}

func TestHealthyHousesEndAtNoPart(t *testing.T) {
	lib, cat := library(t), catalog(t)
	for _, id := range []house.Equipment{house.CoolGas, house.CoolElectric} {
		rng := rand.New(rand.NewPCG(11, uint64(id)))
		for range 8 {
			h, err := circuit.NewHouse(cat.Equipment(id).Sample(rng, 1), house.None)
			if err != nil {
				t.Fatal(err)
			}
			for _, tr := range lib.InOrder() {
				if !slices.Contains(tr.Fits, id) {
					continue
				}
				for _, who := range house.Audiences() {
					c := call{lib: lib, tree: tr, house: h, fault: house.None, who: who, base: house.BaseCovered}
					healthy(t, c, "")
				}
			}
		}
	}
}

// healthy makes a call in a healthy house, then again with each of its steps
// out of reach.
func healthy(t *testing.T, c call, unable string) {
	t.Helper()
	w := c.walker()
	w.unable = unable
	got := c.run(t, w)
	fine := got == "none" || got == house.NotThisCircuit || got == "stat-setting" || got == house.Undecided && (unable != "" || c.who != house.Tech)
	if !fine {
		t.Errorf("%s as %s without %q ends a healthy house at %s:\n  %s", c.tree.ID, c.who, unable, got, strings.Join(w.path, " > "))
	}
	if unable == "" {
		for _, s := range w.steps {
			healthy(t, c, s.String())
		}
	}
}

// slips are mistakes that last the whole call.
var slips = map[string]func(*walker){
	"dial on DC": func(w *walker) { w.slip = circuit.DialOnDC },
	"dead lead":  func(w *walker) { w.slip = circuit.DeadLead },
	"call not made": func(w *walker) {
		w.setup = func(s house.Setup) house.Setup { s.Calling = false; return s }
	},
	"wrong mode": func(w *walker) {
		w.setup = func(s house.Setup) house.Setup {
			switch s.Mode {
			case house.ModeCool:
				s.Mode = house.ModeHeat
			case house.ModeHeat:
				s.Mode = house.ModeCool
			}
			return s
		}
	},
}

// condemned walks every fault with nothing wrong, each slip, each step that
// cannot be made and each wrong answer, and lists the calls that end at a
// thermostat which is good.
func condemned(t *testing.T, lib *tree.Library, draws int) []string {
	t.Helper()
	var out []string
	check := func(c call, what string, bend func(*walker)) []*tree.Step {
		w := c.walker()
		bend(w)
		got := c.run(t, w)
		for _, f := range got.Faults() {
			if f.Condemns() && !c.fault.Condemns() {
				out = append(out, fmt.Sprintf("%s, %s with %s ends at %s:\n  %s", c.tree.ID, c.fault, what, got, strings.Join(w.path, " > ")))
			}
		}
		return w.steps
	}
	eachFault(t, lib, draws, house.Tech, func(c call) {
		if len(out) > 0 {
			return // one is enough
		}
		steps := check(c, "nothing wrong", func(*walker) {})
		for what, bend := range slips {
			check(c, what, bend)
		}
		for _, s := range steps {
			check(c, "no "+s.ID, func(w *walker) { w.unable = s.String() })
			for reply := range wrongReplies(s) {
				check(c, fmt.Sprintf("wrong %s %d", s.ID, reply), func(w *walker) { w.wrong, w.reply = s.String(), reply })
			}
		}
	})
	return out
}

// TestNoGoodThermostatIsCondemned: over one wrong answer, one step nobody can
// make and one slip that lasts, no call ends at a thermostat that is good.
func TestNoGoodThermostatIsCondemned(t *testing.T) {
	for _, line := range condemned(t, library(t), 2) {
		t.Error(line)
	}
}

// TestARashTreeCondemns: the same walk finds each tree that blames the
// thermostat without its witnesses or without reading the call again.
func TestARashTreeCondemns(t *testing.T) {
	for _, rash := range [][2]string{
		{"gc >= switch_open, then: step jumper-cool}", "gc >= switch_open, then: finding stat-y-open}"},
		{"gc_base >= control_min, then: step jumper-cool}", "gc_base >= control_min, then: finding stat-y-open}"},
	} {
		text, err := fs.ReadFile(trees.FS, "no-cooling.yaml")
		if err != nil {
			t.Fatal(err)
		}
		mutant := strings.Replace(string(text), rash[0], rash[1], 1)
		if mutant == string(text) {
			t.Fatalf("the tree no longer says %q", rash[0])
		}
		lib, problems := tree.Load(trees.FS, fstest.MapFS{"no-cooling.yaml": {Data: []byte(mutant)}})
		if len(problems) > 0 {
			t.Fatal(problems.Render(5))
		}
		if len(condemned(t, lib, 1)) == 0 {
			t.Errorf("nobody is condemned by %q", rash[1])
		}
	}
}

// TestEveryAudienceReachesAnEnd: the same houses, with what a homeowner or a
// caller on the phone may do.
func TestEveryAudienceReachesAnEnd(t *testing.T) {
	for _, who := range []house.Audience{house.Homeowner, house.Dispatcher} {
		eachFault(t, library(t), 3, who, func(c call) {
			w := c.walker()
			got := c.run(t, w)
			want := house.FindingOf(c.fault, c.house.Draw().Equipment.ID)
			if got != want && got != house.Undecided && got != alike[c.fault] {
				t.Errorf("%s as %s, %s ends at %s:\n  %s", c.tree.ID, who, c.fault, got, strings.Join(w.path, " > "))
			}
			for _, s := range w.steps {
				if s.Kind == tree.MeasureStep && (who == house.Dispatcher || s.At != house.AtThermostat) {
					t.Errorf("%s was asked to read %s", who, s)
				}
			}
		})
	}
}
