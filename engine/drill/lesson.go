package drill

import "stepdown/engine/house"

// Lesson is a kind of drill: one house and complaint, and the faults that may
// be hidden in it.
type Lesson struct {
	ID        string
	Title     string
	Equipment house.Equipment
	Complaint house.Complaint
	Faults    []house.Fault
}

// Lessons lead from easy to hard: what eyes find, then power, then one reading
// after another along the call, then what looks alike, then shorts and weak
// power, then other equipment.
func Lessons() []Lesson {
	cool := func(id, title string, e house.Equipment, faults ...house.Fault) Lesson {
		return Lesson{id, title, e, house.NoCooling, faults}
	}
	return []Lesson{
		cool("eyes", "What eyes and ears find, before any cover", house.CoolGas,
			house.NoLineOutdoor, house.StatBatteryDead, house.FloatOpen, house.StatSetting),
		cool("power", "Control power: line, door switch, transformer, fuse", house.CoolGas,
			house.NoLineIndoor, house.DoorSwitchOpen, house.TransformerPrimaryOpen, house.TransformerSecondaryOpen, house.FuseBlown),
		cool("load", "The load: volts on it and it does not act", house.CoolGas,
			house.ContactorCoilOpen, house.ContactorStuckOpen, house.ContactorContactsOpen, house.OutdoorBeyondContactor),
		cool("path", "Where the call is lost on its way", house.CoolGas,
			house.OpenY, house.OpenYOutdoor, house.OpenCOutdoor, house.PressureSwitchOpen, house.FloatOpen),
		cool("thermostat", "The thermostat, or not the thermostat", house.CoolGas,
			house.StatYOpen, house.StatDead, house.StatNotSeated, house.OpenY, house.OpenR, house.StatSetting),
		cool("shorts", "A fuse that blew for a reason", house.CoolGas,
			house.ShortYC, house.ShortYCOutdoor, house.ShortGC, house.ContactorCoilShorted),
		cool("weak", "Power that is there and gives way", house.CoolElectric,
			house.TransformerWeak, house.TransformerOverloaded, house.LooseR, house.LooseC, house.TransformerTapWrong),
		cool("pump", "A heat pump: valve, lockout, outdoor board", house.PumpCoolingValve,
			house.ValveCoilOpen, house.LockoutOutdoor, house.OutdoorBoardNoOutput, house.DefrostStuck, house.OpenROutdoor, house.ContactorCoilOpen),
		cool("two-sources", "Two transformers in one house", house.SplitPower,
			house.FuseBlown, house.TransformerSecondaryOpen, house.JumperRcRhWrong, house.OpenR, house.StatYOpen, house.ContactorCoilOpen),
		cool("anything", "Anything, on a packaged heat pump", house.PackagedPump),
	}
}

// Next is the first lesson not passed yet, given the best score of each; the
// last where all are passed.
func Next(best map[string]int) Lesson {
	all := Lessons()
	for _, l := range all {
		if best[l.ID] < Pass {
			return l
		}
	}
	return all[len(all)-1]
}
