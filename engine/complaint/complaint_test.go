package complaint_test

import (
	"slices"
	"strings"
	"testing"

	"stepdown/engine/complaint"
	"stepdown/engine/house"
)

var matcher = complaint.New(map[house.Complaint][]string{
	house.NoCooling: {"not cooling", "blows warm air", "ac not working"},
})

// The phrasings below are invented: nobody was recorded. They are what we
// would expect to be typed by a technician, a homeowner or a dispatcher.
func TestWordsLeadToOneTree(t *testing.T) {
	for want, said := range map[string][]string{
		"no-cooling": {
			"the ac is not cooling", "AC not cooling", "not cooling", "my a/c isn't cooling", "A.C. won't cool", "no cold air", "no cool air coming out",
			"house is hot", "it's hot upstairs and the ac is running", "blowing warm air", "its blowing hot air", "ac blows warm", "the air conditioner won't turn on",
			"air conditioning stopped working", "ac quit", "central air is dead", "my aircon isnt coolign", "not coolling", "no cooling", "ac doesnt work",
			"thermostat is on but no cold air", "fan runs but it is not cooling", "heat works fine but no cooling", "outside unit not running", "the condenser won't kick on",
			"ac won't start", "it's 85 degrees in the house", "Upstairs never gets cool", "the ac is not keeping the house cool", "cant get cool air",
			"blowing warm air, outside unit not running", "thermostat is not blank but it is not cooling", "caller says her AC went out and the house is hot", "ac is running but not cold",
		},
		"no-heat": {
			"no heat", "heat not working", "the furnace won't start", "furnace not heating", "house is cold", "it's freezing in here", "heater quit", "blowing cold air",
			"not heating", "heat pump not heating", "furnace is dead", "no warm air", "heater wont kick on", "furnce not working", "my heat doesn't come on", "cold in the house",
			"the heater is blowing cold air", "gas furnace won't ignite", "ac works but no heat", "furnace won't fire up",
		},
		"dark-display": {
			"thermostat blank", "the thermostat is blank", "blank screen on thermostat", "thermostat screen is dark", "thermostat is dead", "no display on the thermostat",
			"nothing on the thermostat", "display is black", "thermostat display went blank", "thermostat wont light up", "thermostat went black", "themostat is blank",
		},
		"fan-dead":       {"fan won't turn on", "the blower is not running", "blower dead", "indoor fan doesn't run", "fan not spinning"},
		"fan-always":     {"fan won't shut off", "fan runs all the time", "blower keeps running", "the fan never stops", "fan stuck on", "fan runs constantly", "blower wont turn off", "fan stays on"},
		"outdoor-always": {"outside unit won't shut off", "the condenser runs all the time", "ac won't turn off", "outdoor unit keeps running", "compressor never stops", "ac is always on"},
		"heat-always":    {"heat won't turn off", "furnace runs constantly", "heat is stuck on", "heater never shuts off", "furnace won't stop", "heat stays on"},
		"aux-dead":       {"emergency heat not working", "aux heat won't come on", "no aux heat", "em heat blows cold", "heat strips not heating", "backup heat doesn't work"},
		"aux-always":     {"aux heat always on", "auxiliary heat won't turn off", "emergency heat stays on", "aux heat runs all the time"},
		"second-stage":   {"second stage not working", "second stage won't come on", "2nd stage never kicks in", "no second stage"},
		"chatter":        {"contactor is chattering", "outside unit clicking on and off rapidly", "outdoor unit chatters", "clicking outside"},
		"fuse-blows":     {"keeps blowing fuses", "fuse keeps blowing", "blows the 3 amp fuse", "3a fuse blown again", "low voltage fuse pops", "fuse is blown"},
		"fault-light":    {"fault light on", "service light is on", "check light on the thermostat", "red light on thermostat"},
		"after-swap":     {"new thermostat and now no cooling", "replaced the thermostat and now the ac won't turn on", "installed a smart thermostat, no heat", "not cooling since I changed the thermostat", "swapped thermostat, blank screen"},
		"wrong-way":      {"blows cold air when set to heat", "heat comes on when set to cool", "cools in heat mode", "blowing hot air when set to cool", "heat and cool are reversed", "ac comes on when I call for heat", "heating instead of cooling"},
	} {
		for _, words := range said {
			got := matcher.Match(words)
			if len(got.Trees) == 0 || got.Trees[0].String() != want || !got.Sure || got.Emergency != "" {
				t.Errorf("%q: %v sure=%v emergency=%q, wanted %s alone", words, got.Trees, got.Sure, got.Emergency, want)
			}
		}
	}
}

func TestWhereTwoFitItAsks(t *testing.T) {
	for said, want := range map[string]string{
		"it won't turn on":                  "no-cooling no-heat dark-display",
		"system not working":                "no-cooling no-heat dark-display",
		"the unit is dead":                  "no-cooling no-heat dark-display",
		"heat pump won't come on":           "no-cooling no-heat dark-display",
		"thermostat not working":            "dark-display no-cooling no-heat",
		"no heat or cool":                   "no-cooling no-heat",
		"not heating and not cooling":       "no-cooling no-heat",
		"no air coming out":                 "no-cooling no-heat fan-dead",
		"it runs all the time":              "fan-always outdoor-always heat-always",
		"thermostat blank, no cooling":      "dark-display no-cooling",
		"not cooling and fan won't turn on": "fan-dead no-cooling",
		"AC and heat both dead":             "no-cooling no-heat",
		"no power to the unit":              "no-cooling no-heat dark-display",
		"heat wont shut off, 80 in house":   "heat-always no-cooling",
	} {
		got := matcher.Match(said)
		var names []string
		for _, c := range got.Trees {
			names = append(names, c.String())
		}
		for _, name := range strings.Fields(want) {
			if !slices.Contains(names, name) {
				t.Errorf("%q: %v, wanted %s among them", said, names, name)
			}
		}
		if got.Sure || len(names) < 2 || got.Emergency != "" {
			t.Errorf("%q: %v sure=%v emergency=%q, wanted to be asked", said, names, got.Sure, got.Emergency)
		}
	}
}

func TestEmergenciesAreNeverMissed(t *testing.T) {
	for want, said := range map[string][]string{
		"gas": {"I smell gas", "gas smell near the furnace", "smells like gas", "smells like rotten eggs", "rotten egg smell when the heat comes on", "there is a gas leak", "no heat and smell of gas",
			"not cooling, also a gas odor", "i think i smel gas", "it smells like sulfur", "propane smell", "furnace hissing and gas", "gas furnace smells like gas", "not sure if I smell gas", "no gas smell anymore but earlier there was",
			"I dont know, maybe a gas smell", "smells like eggs in the basement"},
		"carbon-monoxide": {"co alarm going off", "carbon monoxide alarm", "CO detector beeping when heat is on", "the C.O. detector went off", "my wife is dizzy when the furnace runs", "kids have headaches", "everyone feels sick since the heat came on",
			"we all feel nauseous", "he passed out", "carbon monoxid detector chirping", "no heat and my mother fainted", "dizzyness", "headache and the heater is on"},
		"smoke": {"smoke from the vents", "smoke detector going off", "smoke alarm", "it smells like something burning", "burning smell", "burnt plastic smell", "it's smoking", "there are sparks", "wires melted", "the furnace is on fire", "burning wire smell and no cooling",
			"somking outside unit", "electrical burning odor", "sparking at the disconnect", "the breaker is hot to the touch", "sizzling from the panel", "crackling sound in the outlet", "wires are hot", "flames shooting out of the furnace"},
		"water": {"water dripping on the control board", "water leaking into the electrical panel", "basement flooded, furnace under water", "water on the wires", "leak above the breaker box"},
		"shock": {"I got shocked", "got a shock from the unit", "felt a tingle touching the outside unit", "my husband was electrocuted", "got zapped by the thermostat"},
	} {
		for _, words := range said {
			if got := matcher.Match(words).Emergency; got != want {
				t.Errorf("%q: %q, wanted %s", words, got, want)
			}
		}
	}
}

func TestOrdinaryWordsAreNoAlarm(t *testing.T) {
	for _, words := range []string{
		"no cooling, no gas smell, no smoke", "I don't smell gas", "no burning smell", "smoke detector chirping battery", "carbon monoxide detector needs a battery", "gas furnace not heating",
		"burner lights then goes out", "pilot flame goes out", "furnace won't fire up", "fireplace is fine, no heat", "sick of this heat", "shocked by my electric bill", "heater won't ignite, no flame",
		"emergency heat not working", "contactor burned out", "the house is burning up", "no heat", "i am hot", "the breaker keeps tripping", "there is no smoke but it is not cooling", "water heater leaking", "blowing hot air, breaker is on", "it is hot in here and the wires look fine",
		"wash my socks, the dryer is fine", "float switch tripped, no cooling",
	} {
		if got := matcher.Match(words).Emergency; got != "" {
			t.Errorf("%q: alarm %q, wanted none", words, got)
		}
	}
}

func TestOutsideThisCircuit(t *testing.T) {
	for want, said := range map[string][]string{
		"a noise":                  {"loud noise outside", "it makes a grinding noise", "rattling", "blower squeals"},
		"ice or frost on the unit": {"ice on the pipe", "the coil is frozen", "lines are freezing up"},
		"a water leak":             {"water leaking from the ceiling", "puddle by the furnace", "dripping"},
		"a smell":                  {"musty smell", "it smells moldy"},
		"the cost of running it":   {"my bill is too high"},
		"another appliance":        {"no hot water", "the fridge is not cold", "water heater not working", "dryer not heating", "window unit not cooling", "ceiling fan won't turn on"},
	} {
		for _, words := range said {
			got := matcher.Match(words)
			if got.Outside != want || len(got.Trees) > 0 || got.Emergency != "" {
				t.Errorf("%q: outside %q, trees %v, emergency %q; wanted %s", words, got.Outside, got.Trees, got.Emergency, want)
			}
		}
	}
	if got := matcher.Match("water leaking and it is not cooling"); got.Outside == "" || len(got.Trees) == 0 {
		t.Errorf("a leak with no cooling: %+v, wanted both: a float switch may be open", got)
	}
}

func TestEquipmentThatIsNotMetered(t *testing.T) {
	for want, said := range map[house.Equipment][]string{
		house.MiniSplit:             {"mini split not cooling", "our mini-split is blowing warm", "ductless unit dead", "minisplit"},
		house.Millivolt:             {"millivolt heater won't light", "wall furnace no heat", "gas wall heater"},
		house.Communicating:         {"communicating thermostat is blank"},
		house.LineVoltageThermostat: {"baseboard heat not working", "line voltage thermostat", "electric wall heater"},
		house.RooftopEconomizer:     {"rooftop unit with economizer not cooling"},
		house.NoEquipment:           {"ac not cooling", "furnace on the wall side of the closet", "heat pump not heating"},
	} {
		for _, words := range said {
			if got := matcher.Match(words).Equipment; got != want {
				t.Errorf("%q: %v, wanted %v", words, got, want)
			}
		}
	}
}

func TestWordsThatMeanNothingHere(t *testing.T) {
	for _, words := range []string{"", "   ", "hello", "asdf qwer", "?!", "good morning, how are you", "the quick brown fox", "\x1b[31m", "日本語", "no", "not", strings.Repeat("zzz ", 5000)} {
		if got := matcher.Match(words); len(got.Trees) > 0 || got.Emergency != "" || got.Outside != "" || got.Sure {
			t.Errorf("%.40q: %+v, wanted nothing", words, got)
		}
	}
}

// A slip of one letter anywhere in a longer word must not lose an emergency.
func TestSlipsDoNotHideAnEmergency(t *testing.T) {
	for _, word := range []string{"smoke", "carbon monoxide", "rotten eggs", "sparking", "electrocuted"} {
		for i := 1; i < len(word); i++ {
			if word[i] == ' ' || i > 0 && word[i-1] == ' ' {
				continue
			}
			dropped := word[:i] + word[i+1:]
			doubled := word[:i] + word[i:i+1] + word[i:]
			for _, said := range []string{dropped, doubled} {
				if matcher.Match(said).Emergency == "" && len(said) > 4 {
					t.Errorf("%q (for %q) raised no alarm", said, word)
				}
			}
		}
	}
}

func FuzzMatch(f *testing.F) {
	for _, s := range []string{"the ac is not cooling", "I smell gas", "a/c 24/7", "won't", "no, not. stop!"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := matcher.Match(s)
		if got.Sure && len(got.Trees) == 0 {
			t.Errorf("sure of nothing: %q", s)
		}
	})
}

func BenchmarkMatch(b *testing.B) {
	for b.Loop() {
		matcher.Match("caller says her AC went out and the house is hot, no smoke")
	}
}

func BenchmarkNew(b *testing.B) {
	for b.Loop() {
		complaint.New(nil)
	}
}
