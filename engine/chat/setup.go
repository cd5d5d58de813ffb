package chat

import (
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

// standing says how the house stands now, in words, what is unusual first.
func standing(e house.Equipment, h session.House) string {
	s := h.Setup
	var parts []string
	add := func(ok bool, words string) {
		if ok {
			parts = append(parts, words)
		}
	}
	for _, p := range h.Dead {
		add(true, "proven dead at the "+placeText(p))
	}
	units := cabinets(e, s)
	for _, u := range units {
		add(u.open, u.name+"cover open")
	}
	for _, u := range units {
		add(true, u.name+"power "+powerText(h, u.at, u.power))
	}
	add(s.Jumper != 0, "jumper "+e.JumperWords(s.Jumper)+" at the "+placeText(s.JumperAt))
	for _, k := range s.Lifted.List() {
		add(true, "lifted: "+conductorText(k))
	}
	add(s.Fuse != house.FuseAsFound, "fuse: "+s.Fuse.String())
	parts = append(parts, statText(h))
	return "House now: " + strings.Join(parts, "; ") + "."
}

// cabinet is one that the equipment has, with what shares its keys.
type cabinet struct {
	name  string // ahead of what is said of it, empty where it is the only one
	at    house.Place
	power house.Power
	open  bool
}

func cabinets(e house.Equipment, s house.Setup) []cabinet {
	indoor := cabinet{"indoor ", house.AtIndoor, s.PowerIndoor, s.CoverIndoor}
	outdoor := cabinet{"outdoor ", house.AtOutdoor, s.PowerOutdoor, s.CoverOutdoor}
	switch {
	case e.Packaged():
		outdoor.name = ""
		return []cabinet{outdoor}
	case e != house.NoEquipment && !e.Has(house.Coil1, house.AtOutdoor):
		return []cabinet{indoor}
	}
	return []cabinet{indoor, outdoor}
}

func powerText(h session.House, at house.Place, p house.Power) string {
	switch {
	case slices.Contains(h.Unsure, at):
		return "not known"
	case p == house.LockedOut:
		return "locked out"
	}
	return p.String()
}

func statText(h session.House) string {
	s := h.Setup
	switch {
	case s.Thermostat == house.Removed:
		return "thermostat off its base"
	case h.Unset:
		return "thermostat as it was found"
	}
	text := "thermostat on " + strings.ToUpper(s.Mode.String())
	if s.Mode == house.ModeEmergency {
		text = "thermostat on emergency heat"
	}
	if s.Calling {
		text += ", calling"
	}
	if s.FanOn {
		text += ", fan on"
	}
	return text
}
