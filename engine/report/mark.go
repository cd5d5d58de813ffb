package report

import (
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// point marks what the finding names: the failed part where it is one fault,
// or several that sit in one part; else what is still possible.
func (l *ladder) point(e *circuit.Equipment, faults []Fault) {
	places := map[string]bool{}
	for _, f := range faults {
		id := sits(e, f.ID)
		switch {
		case id == "":
			if f.ID != house.None.String() {
				l.apart = append(l.apart, f.Title)
			}
		case !l.marked(id, unmarked):
			l.apart = append(l.apart, f.Title)
		default:
			places[id] = true
		}
	}
	m := possible
	if len(places) == 1 && len(l.apart) == 0 {
		m = failed
	}
	for id := range places {
		l.marked(id, m)
	}
}

// marked marks every element of an id; false where there is none.
func (l *ladder) marked(id string, m mark) bool {
	any := false
	for _, r := range l.rungs {
		for i := range r.elements {
			if r.elements[i].id == id {
				r.elements[i].mark, any = m, true
			}
		}
	}
	return any
}

// partOfFault names the element a fault sits in; conductors and contacts go by
// their letter, see sits.
var partOfFault = map[house.Fault]string{
	house.NoLineIndoor: "primary", house.NoLineOutdoor: "compressor", house.DoorSwitchOpen: "door",
	house.TransformerPrimaryOpen: "transformer", house.TransformerSecondaryOpen: "transformer", house.TransformerWeak: "transformer",
	house.TransformerTapWrong: "transformer", house.TransformerOverloaded: "transformer",
	house.FuseBlown: "fuse", house.FloatOpen: "float", house.PressureSwitchOpen: "pressure", house.LockoutOutdoor: "lockout-contact",
	house.LimitOpen: "limit", house.RolloutOpen: "rollout",
	house.ContactorCoilOpen: "contactor", house.ContactorCoilShorted: "contactor", house.ContactorStuckOpen: "contactor",
	house.ContactorContactsOpen: "pole-1", house.ContactorWelded: "pole-1",
	house.ValveCoilOpen: "reversing-valve", house.ValveCoilShorted: "reversing-valve", house.ValveStuck: "reversing-valve",
	house.FanRelayOpen: "fan-relay", house.FanRelayWelded: "fan-relay", house.SequencerOpen: "sequencer", house.SequencerWelded: "sequencer",
	house.Stage2Open: "stage2", house.FurnaceBoardNoHeat: "gas-output", house.BoardNoFanOutput: "fan-input",
	house.OutdoorBoardNoOutput: "lockout-contact", house.DefrostStuck: "defrost-control", house.OutdoorBeyondContactor: "compressor",
	house.CommonOnB: "wire C thermostat", house.DelayRunning: "contact Y",
}

// sits is the id of the element that a fault sits in, empty for none.
func sits(e *circuit.Equipment, id string) string {
	f, err := house.ParseFault(id)
	if err != nil {
		return ""
	}
	if part, ok := partOfFault[f]; ok {
		return part
	}
	words := strings.Split(id, "-")
	letter := func(word string) string {
		switch word {
		case "changeover":
			return e.Calls.Changeover.String()
		case "r":
			return e.Hot(house.Y).String()
		}
		return strings.ToUpper(word)
	}
	switch f.Family() {
	case house.ConductorFamily:
		at := house.AtThermostat
		if words[len(words)-1] == "outdoor" {
			at = house.AtOutdoor
		}
		named := words[1]
		if words[0] == "crossed" {
			named = words[2]
		}
		return "wire " + letter(named) + " " + at.String()
	case house.Thermostat:
		if len(words) == 3 {
			return "contact " + letter(words[1])
		}
		return "thermostat"
	case house.Setting:
		return "thermostat"
	}
	return ""
}
