package chat

import (
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
	add(s.CoverIndoor, "indoor cover open")
	add(s.CoverOutdoor, "outdoor cover open")
	parts = append(parts, "indoor power "+powerText(s.PowerIndoor), "outdoor power "+powerText(s.PowerOutdoor))
	add(s.Jumper != 0, "jumper "+e.JumperWords(s.Jumper)+" at the "+placeText(s.JumperAt))
	for _, k := range s.Lifted.List() {
		add(true, "lifted: "+conductorText(k))
	}
	add(s.Fuse != house.FuseAsFound, "fuse: "+s.Fuse.String())
	parts = append(parts, statText(s))
	return "House now: " + strings.Join(parts, "; ") + "."
}

func powerText(p house.Power) string {
	if p == house.LockedOut {
		return "locked out"
	}
	return p.String()
}

func statText(s house.Setup) string {
	if s.Thermostat == house.Removed {
		return "thermostat off its base"
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
