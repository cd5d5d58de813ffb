package complaint

import "stepdown/engine/house"

// phrases are everyday ways to say each complaint; the trees add their own.
// They are read through the same vocabulary as what people type, so each
// stands for many. A function, so that a program that matches nothing does not
// build the map when it starts.
func phrases() map[house.Complaint][]string {
	return map[house.Complaint][]string{
		house.NoCooling: {
			"no outdoor", "outdoor blank", "not y", "y not outdoor", "outdoor not y", "ac not", "ac not flow", "cool not flow", "cold not flow", "not cold flow", "cool not air", "cold not air", "air tepid mode cool", "ac tepid", "mode cool tepid", "cool tepid", "ac always house hot", "outdoor always house hot", "float", "pan cool", "cool pan", "pan ac", "ac pan", "pan unit off", "pan off", "float not cool", "mode cool not run", "mode cool outdoor not run", "ac air hot", "hot always",
			"not cool", "not cold", "no ac", "ac not run", "ac off", "ac blank", "house hot", "hot house", "air hot", "hot air", "cool not run",
			"ac hot", "ac hot air", "not cool house", "outdoor not run", "ac not cool", "ac unit not run", "no ac house", "ac outdoor not run",
		},
		house.NoHeat: {
			"heater always house cold", "heat always house cold", "pump always house cold", "not w", "w not burner", "burner not run", "no burner", "heater not", "hot not flow", "heat not flow", "not hot flow", "hot not air", "heat not air", "heat tepid", "heater tepid", "mode heat tepid", "air tepid mode heat", "mode heat not run", "pump heat outdoor not run", "not heat outdoor not run", "pump not heat outdoor not run", "pump mode heat outdoor not run", "heater cold air mode heat", "heater air cold mode heat", "mode heat burner not run", "w burner not run", "w heater not run", "not heat pump", "heater not house cold",
			"not heat", "not hot", "heat not run", "heater not run", "heater not heat", "house cold", "cold house", "air cold", "cold air",
			"no heater", "heater off", "heat off", "heater blank", "pump not heat", "heater cold air", "pump cold", "heater air cold",
		},
		house.WrongWay: {
			"pump always cool", "run heat ac run", "run heater ac run", "run ac heat run", "run ac heater run", "run cool heat run", "run heat mode cool", "run cool mode heat",
			"cold air mode heat", "cool heat mode", "cold heat mode", "hot cool mode", "heat cool mode", "cool mode heat", "cold mode heat", "hot mode cool", "heat mode cool", "hot air mode cool", "mode heat cold", "mode heat cool",
			"mode heat air cold", "mode heat ac", "mode cool hot air", "mode cool air hot", "mode cool heat", "mode cool hot", "wrong heat cool", "heat cool wrong", "cool heat wrong", "ac heat", "ac mode heat",
			"heat wrong cool", "cool wrong heat", "hot wrong cold", "cold wrong hot", "modes wrong", "heat always mode cool",
			"pump cold air heat", "heat run mode cool", "air hot wrong cold", "air cold wrong hot", "run wrong", "heater mode cool", "ac run mode heat",
		},
		house.DarkDisplay: {
			"display stat off", "display not run stat", "stat display off", "no display stat", "stat lost power",
			"stat blank", "display blank", "stat display blank", "blank stat", "blank display", "stat off", "display off", "no display", "stat not run", "display not run",
			"not display stat", "stat not display", "nothing on stat", "not on display", "stat no power",
		},
		house.FanDead: {
			"not g", "g fan not run", "no fan air", "not air outdoor run", "outdoor run not air", "not air flow", "mode fan not run", "fan not air", "not air ac run",
			"fan not run", "no fan", "not air", "fan off", "fan not air", "air not run", "fan blank", "no air", "ac run not air", "fan not air air", "outdoor run fan not run",
		},
		house.FanAlways: {
			"g always", "air always off", "fan run mode off always", "mode fan always",
			"fan always", "fan always run", "fan run always", "air always", "fan not off", "fan always off", "always air", "always fan", "fan run mode off",
		},
		house.OutdoorAlways: {
			"y always", "always outdoor", "always y", "outdoor run always", "ac mode house cold", "outdoor always run off",
			"outdoor always", "outdoor always run", "outdoor run always", "ac always run", "ac always", "ac run always", "outdoor not off", "outdoor run mode off", "cool always", "outdoor always off", "always cool", "house cold ac always",
		},
		house.HeatAlways: {
			"w always", "burner always", "always w", "always burner", "heater mode house hot", "heat mode house hot", "heat always off", "heater always off", "heat flow always", "heat always mode off",
			"heat always", "heater always", "heat always run", "heat run always", "heater run always", "heater always run", "heat not off", "house hot heater always", "always heat", "pump always heat", "heat run mode off", "hot air always", "air hot always", "heater air hot always",
		},
		house.AuxDead: {
			"no w2 aux", "w2 aux not run",
			"aux not run", "aux not heat", "no aux", "aux cold", "aux not hot", "aux off", "not aux", "aux cold air", "aux blank",
		},
		house.AuxAlways: {
			"aux run mode off", "aux always off",
			"aux always", "aux always run", "aux run always", "aux not off", "always aux",
		},
		house.SecondStage: {
			"stage not run", "no stage", "not stage", "stage not", "stage off", "stage blank",
		},
		house.Chatter: {
			"chatter", "outdoor chatter", "chatter outdoor", "ac chatter", "chatter outdoor not run",
		},
		house.FuseBlows: {
			"fuse blows", "blows fuse", "fuse blank", "fuse always", "fuse not", "bad fuse", "fuse not run", "always blows fuse", "new fuse blows",
		},
		house.FaultLightOn: {
			"faultlight", "faultlight always", "faultlight run", "faultlight stat", "stat faultlight",
		},
		house.AfterSwap: {
			"swap stat", "stat swap", "swap not", "swap not cool", "swap not heat", "not cool swap", "not heat swap", "not run swap", "hot swap", "swap not run",
			"since swap", "swap blank", "swap stat not cool", "swap stat not heat", "swap stat not run", "blank swap", "swap",
		},
	}
}

// unclear are words that fit several complaints alike.
var unclear = []struct {
	words string
	trees []house.Complaint
}{
	{"not run", []house.Complaint{house.NoCooling, house.NoHeat, house.DarkDisplay}},
	{"unit not run", []house.Complaint{house.NoCooling, house.NoHeat, house.DarkDisplay}},
	{"pump not run", []house.Complaint{house.NoHeat, house.NoCooling, house.DarkDisplay}},
	{"stat not run", []house.Complaint{house.DarkDisplay, house.NoCooling, house.NoHeat}},
	{"unit off", []house.Complaint{house.NoCooling, house.NoHeat, house.DarkDisplay}},
	{"unit blank", []house.Complaint{house.NoCooling, house.NoHeat, house.DarkDisplay}},
	{"not air", []house.Complaint{house.FanDead, house.NoCooling, house.NoHeat}},
	{"unit always", []house.Complaint{house.OutdoorAlways, house.FanAlways, house.HeatAlways}},
	{"unit run always", []house.Complaint{house.OutdoorAlways, house.FanAlways, house.HeatAlways}},
	{"ac heat not run", []house.Complaint{house.NoCooling, house.NoHeat}},
	{"heat ac not run", []house.Complaint{house.NoHeat, house.NoCooling}},
	{"ac heater not run", []house.Complaint{house.NoCooling, house.NoHeat}},
	{"heater ac not run", []house.Complaint{house.NoHeat, house.NoCooling}},
	{"air tepid", []house.Complaint{house.NoCooling, house.NoHeat}},
	{"heater hot air", []house.Complaint{house.HeatAlways, house.WrongWay}},
	{"not w2", []house.Complaint{house.SecondStage, house.AuxDead}},
	{"w2 always", []house.Complaint{house.AuxAlways, house.HeatAlways}},
	{"always run", []house.Complaint{house.OutdoorAlways, house.FanAlways, house.HeatAlways}},
	{"run always", []house.Complaint{house.OutdoorAlways, house.FanAlways, house.HeatAlways}},
}
