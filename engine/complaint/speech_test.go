package complaint_test

import "testing"

// How dispatchers shorten, technicians name terminals and everybody gives
// degrees; all invented.
func TestManyWaysToSayIt(t *testing.T) {
	for want, said := range map[string][]string{
		"no-cooling": {
			"cust rpts a/c out since fri, house 88", "no clg w/ fan running", "24v across contactor coil, wont pull in", "lost Y at the condenser", "box out in the yard is dead, air inside is warm",
			"we set it at 72 and the upstairs is 83 degrees", "inside is 30 degrees celsius, air con not helping", "AC is running nonstop but its still 82 in the house", "ac comes on then shuts off",
			"float switch open, no clg", "drain pan is full of water and the ac quit", "water in the pan and no cooling", "water in the drain pan, thermostat set to cool, not cooling",
		},
		"no-heat": {
			"furn dead, 58 in hm", "htg out, cust w/o heat since this am", "24 volts at W but the burners never light", "thermostat set to 70 but the house is only 61", "hp not htg, od unit off",
			"furnace kicks on then nothing", "furnace is on the fritz", "no heat on a heat pump", "it's not the water heater, the furnace quit", "furnace runs for a minute then shuts off",
		},
		"dark-display":   {"wall thing went black", "cant see any numbers on the thermostat", "tstat blnk after storm", "thermostat lost power"},
		"fan-dead":       {"blower motor wont run, 24v on G", "no airflow from vents, outdoor unit running"},
		"fan-always":     {"blwr runs w/o call", "fan keeps blowing with the thermostat turned off"},
		"outdoor-always": {"contactor stuck closed", "condenser runs with stat off", "the thing outside never stops running"},
		"heat-always":    {"W stuck on", "gas valve stuck open", "furnace runs w/ no call, 85 in house"},
		"wrong-way":      {"heats on a cool call", "turn on heat and ac comes on", "heat pump stuck in cooling"},
		"aux-always":     {"aux heat runs w/o a call", "strips energized with no call"},
		"second-stage":   {"stuck in first stage"},
		"chatter":        {"contactor pulsing in and out", "clickclickclick from the outside box"},
		"fuse-blows":     {"lv fuse keeps burning out"},
		"fault-light":    {"lockout light on at stat"},
		"after-swap":     {"no heat after we put in a new thermostat", "diy tstat install, blower won't run now", "ever since the thermostat was replaced the furnace keeps running"},
	} {
		for _, words := range said {
			got := matcher.Match(words)
			if len(got.Trees) == 0 || got.Trees[0].String() != want || got.Emergency != "" {
				t.Errorf("%q: %v emergency=%q, wanted %s first", words, got.Trees, got.Emergency, want)
			}
		}
	}
}

// Numbers that are no room's temperature, and rooms as they should be, say
// nothing; nor do words that only brush against the vocabulary.
func TestWordsThatSayNothingOfAFault(t *testing.T) {
	for _, words := range []string{
		"set it to 70", "my house is 68 degrees, everything fine", "it's 95 degrees outside and I want a tune up", "the furnace is 20 years old and the house is 70 degrees", "we have 3 kids in the house",
		"house is 30", "set to 72, the room is at 74", "the ac works fine", "gone", "it's windy outside", "can you open the account", "ac kicks on and off every minute", "thermostat clock is slow",
	} {
		if got := matcher.Match(words); len(got.Trees) > 0 || got.Emergency != "" {
			t.Errorf("%q: %+v, wanted nothing", words, got)
		}
	}
}

// Water that stands in the pan is what the float switch is for; water
// anywhere else near what is live is an emergency, pan or not.
func TestWaterInThePan(t *testing.T) {
	for words, want := range map[string]string{
		"water in the pan, thermostat is on cool":                                "",
		"drip pan full, thermostat on cool, no cooling":                          "",
		"water in the pan, water on the thermostat":                              "water",
		"water in the pan and on the thermostat":                                 "water",
		"water in the pan, dripping on the thermostat":                           "water",
		"water in the pan, and on the thermostat":                                "water",
		"water in the pan, and the thermostat is on":                             "",
		"it is dropping on the board":                                            "water",
		"from the ceiling it drops onto the wires":                               "water",
		"voltage drops on the board when it calls":                               "",
		"the temperature keeps dropping, nothing on the board":                   "",
		"water in the drain pan on the control board":                            "water",
		"drain pan overflowed, water in the pan and on the wires":                "water",
		"the float switch tripped, water is leaking on the disconnect box wires": "water",
	} {
		if got := matcher.Match(words).Emergency; got != want {
			t.Errorf("%q: alarm %q, wanted %q", words, got, want)
		}
	}
}
