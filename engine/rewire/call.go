package rewire

import (
	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// call is one thing a thermostat asks for.
type call struct {
	ID, Title string
	live      func(Plan, Base) house.Letters         // screws the thermostat energises
	wants     func(*circuit.Equipment) house.Letters // board letters that should be live
}

// calls are every call of every thermostat, nothing first.
var calls = []call{
	{"off", "nothing called", func(Plan, Base) house.Letters { return 0 }, func(*circuit.Equipment) house.Letters { return 0 }},
	{"fan", "fan on", liveFan, func(e *circuit.Equipment) house.Letters { return e.Calls.Fan }},
	{"cool", "cooling", liveCool, func(e *circuit.Equipment) house.Letters { return wanted(e, house.ModeCool, e.Calls.Cool) }},
	{"heat", "heating", liveHeat, func(e *circuit.Equipment) house.Letters { return wanted(e, house.ModeHeat, e.Calls.Heat) }},
	{"auxiliary", "auxiliary heat", liveAuxiliary, wantAuxiliary},
	{"emergency", "emergency heat", liveEmergency, func(e *circuit.Equipment) house.Letters { return e.Calls.Emergency }},
}

// callsOf are the calls a thermostat makes by its screws and its setting.
func callsOf(e *circuit.Equipment, b Base) []call {
	pump := e.Calls.Changeover != house.NoTerminal
	var out []call
	for _, c := range calls {
		switch c.ID {
		case "fan":
			if !b.Letters.Has(house.G) {
				continue
			}
		case "cool":
			if !b.Letters.Has(house.Y) {
				continue
			}
		case "auxiliary", "emergency":
			if !pump {
				continue
			}
		}
		out = append(out, c)
	}
	return out
}

func wanted(e *circuit.Equipment, m house.Mode, letters house.Letters) house.Letters {
	if e.Calls.Changeover != house.NoTerminal && e.Calls.EnergisedIn == m && letters != 0 {
		return letters.Add(e.Calls.Changeover)
	}
	return letters
}

// wantAuxiliary: strips help the heat pump; a furnace takes over from it.
func wantAuxiliary(e *circuit.Equipment) house.Letters {
	if e.ID.Has(house.Gas1, house.AtIndoor) {
		return house.LettersOf(house.W2)
	}
	return wanted(e, house.ModeHeat, e.Calls.Heat).Add(house.W2)
}

// reversing are the changeover screws live in a mode. O and B apart follow the
// mode whatever the thermostat is set to, as the old ones all did; O/B follows
// its setting, on a heat pump only.
func reversing(p Plan, b Base, m house.Mode) house.Letters {
	switch {
	case b.OB && p.Pump && p.Changeover == m:
		return house.LettersOf(house.O)
	case b.OB:
		return 0
	case m == house.ModeCool:
		return house.LettersOf(house.O) & b.Letters
	}
	return house.LettersOf(house.B) & b.Letters
}

func liveFan(_ Plan, b Base) house.Letters { return house.LettersOf(house.G) & b.Letters }

func compressor(b Base) house.Letters {
	return house.LettersOf(house.Y, house.Y2, house.G) & b.Letters
}

func liveCool(p Plan, b Base) house.Letters {
	return compressor(b) | reversing(p, b, house.ModeCool)
}

func liveHeat(p Plan, b Base) house.Letters {
	out := reversing(p, b, house.ModeHeat)
	switch {
	case p.Pump:
		return out | compressor(b)
	case p.FanOnHeat:
		out |= liveFan(p, b)
	}
	return out | auxScrew(b, house.W, house.W2)
}

// auxScrew is the first of these screws that the base has.
func auxScrew(b Base, order ...house.Terminal) house.Letters {
	for _, t := range order {
		if b.Letters.Has(t) {
			return house.LettersOf(t)
		}
	}
	return 0
}

func liveAuxiliary(p Plan, b Base) house.Letters {
	aux := auxScrew(b, house.W2, house.W) | reversing(p, b, house.ModeHeat)
	if p.GasBackup {
		return aux
	}
	return aux | compressor(b)
}

func liveEmergency(p Plan, b Base) house.Letters {
	out := auxScrew(b, house.E, house.W2, house.W)
	if !b.OB {
		out |= reversing(p, b, house.ModeHeat)
	}
	if !p.GasBackup {
		out |= liveFan(p, b)
	}
	return out
}
