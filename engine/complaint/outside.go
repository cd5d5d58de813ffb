package complaint

import (
	"slices"
	"strings"

	"stepdown/engine/house"
)

// subject is something outside this circuit and the words it shows in.
type subject struct {
	title string
	words string // rows of words between commas
}

// appliances have no thermostat circuit of this kind: whatever else is said
// is said of them.
var appliances = []subject{
	{"another appliance", "water heater, hot water, fridge, refrigerator, freezer, oven, stove, dryer, washer, dishwasher, hot tub, pool, generator, garage door, fireplace, ceiling fan, bathroom fan, swamp cooler, evaporative cooler, window unit, space heater, portable ac, portable unit, boiler, car, truck, microwave, tv"},
}

var subjects = []subject{
	{"ice or frost on the unit", "ice, iced, icing, frozen, frost, frosted, freezing up, freeze up, freezes up"},
	{"a water leak", "water, drain pan, drain line, pan full, leak, leaking, drip, dripping, puddle, condensate, flooded, wet"},
	{"a smell", "smell, smells, odor, odour, musty, mold, moldy, stink, stinks"},
	{"a noise", "noise, noisy, loud, rattle, rattling, squeal, squealing, bang, banging, grind, grinding, screech, hum, humming, whistle, whistling, vibrate, vibration, knocking, thump"},
	{"the cost of running it", "bill, bills, expensive, electricity cost, usage, cost"},
	{"the refrigerant or a filter", "refrigerant, freon, low charge, dirty filter, dust, dusty, allergies"},
	{"the thermostat's network or app", "wifi, wi fi, app, bluetooth, internet, network"},
}

// outsideWords are all words of this file, so that a slip in one is mended.
func outsideWords() string {
	var all []string
	for _, s := range slices.Concat(appliances, subjects) {
		all = append(all, s.words)
	}
	for _, u := range unmetered {
		all = append(all, u.words)
	}
	return strings.Join(all, " ")
}

// outside tells what the words sound like outside this circuit, and whether
// it is another appliance.
func outside(stems []string) (title string, appliance bool) {
	if title = first(appliances, stems, notThis); title != "" {
		return title, true
	}
	return first(subjects, stems, nil), false
}

// notThis before an appliance rules it out: "it is not the water heater".
var notThis = set("not isnt aint wasnt")

func first(list []subject, stems []string, unless map[string]bool) string {
	for _, s := range list {
		for row := range strings.SplitSeq(s.words, ",") {
			if at := index(stems, row); at >= 0 && (at == 0 || !unless[stems[at-1]]) {
				return s.title
			}
		}
	}
	return ""
}

// unmetered are the words for equipment that is recognised and left alone.
var unmetered = []struct {
	equipment house.Equipment
	words     string
}{
	{house.LineVoltageThermostat, "baseboard, baseboards, base board, line voltage, electric wall heater, 240 volt thermostat, 240v thermostat, 120 volt thermostat, 120v thermostat, radiant ceiling, thick wires"},
	{house.MiniSplit, "mini split, minisplit, mini splits, minisplits, ductless, wall mounted ac, head unit"},
	{house.Millivolt, "millivolt, milivolt, milli volt, wall furnace, floor furnace, gravity furnace, wall heater, thermopile"},
	{house.Communicating, "communicating, data wires, data bus, serial thermostat"},
	{house.RooftopEconomizer, "economizer, economiser, rooftop, roof top, rtu"},
}

func declined(stems []string) house.Equipment {
	for _, u := range unmetered {
		for row := range strings.SplitSeq(u.words, ",") {
			if has(stems, row) {
				return u.equipment
			}
		}
	}
	return house.NoEquipment
}
