package report

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
)

// houseWords says how the house stood: what was called, then whatever differs
// from a house nobody touched.
func houseWords(e house.Equipment, s house.Setup) string {
	out := []string{called(s)}
	if s.Thermostat == house.Removed {
		out = append(out, "thermostat's face off")
	}
	if s.Jumper != 0 {
		out = append(out, "jumper "+e.JumperWords(s.Jumper)+" at the "+placeWords[s.JumperAt])
	}
	if !s.Lifted.Empty() {
		var lifted []string
		for _, c := range s.Lifted.List() {
			lifted = append(lifted, c.Words(e))
		}
		out = append(out, "lifted: "+strings.Join(lifted, " and "))
	}
	if s.Fuse != house.FuseAsFound {
		out = append(out, map[house.Fuse]string{house.FuseOut: "fuse out", house.FuseNew: "new fuse in", house.FuseBreaker: "breaker in the fuse's place"}[s.Fuse])
	}
	for _, side := range []struct {
		name  string
		power house.Power
		open  bool
	}{{"indoor", s.PowerIndoor, s.CoverIndoor}, {"outdoor", s.PowerOutdoor, s.CoverOutdoor}} {
		if side.power != house.On {
			out = append(out, fmt.Sprintf("%s power %s", side.name, strings.ReplaceAll(side.power.String(), "-", " ")))
		}
		if side.open {
			out = append(out, side.name+" cover open")
		}
	}
	return strings.Join(out, "; ")
}

func called(s house.Setup) string {
	fan := ""
	if s.FanOn {
		fan = ", fan on"
	}
	switch {
	case s.Thermostat == house.Removed:
		return "nothing called"
	case s.Calling && s.Mode == house.ModeCool:
		return "cooling called" + fan
	case s.Calling && s.Mode == house.ModeHeat:
		return "heat called" + fan
	case s.Calling && s.Mode == house.ModeEmergency:
		return "emergency heat called" + fan
	}
	return "nothing called" + fan
}

// numbers writes rising numbers in short: 1–4, 6.
func numbers(list []int) string {
	var out []string
	for i := 0; i < len(list); {
		k := i
		for k+1 < len(list) && list[k+1] == list[k]+1 {
			k++
		}
		switch {
		case k-i < 2:
			for ; i <= k; i++ {
				out = append(out, fmt.Sprint(list[i]))
			}
			continue
		default:
			out = append(out, fmt.Sprintf("%d to %d", list[i], list[k]))
		}
		i = k + 1
	}
	return strings.Join(out, ", ")
}
