package chat

import (
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// known takes what a caller already knows out of the complaint: "fuse good, 26
// at the board, no Y". rest is what is left of the line, all of it where
// nothing else would be.
func (c *Chat) known(line string) (seen []session.Seen, rest string) {
	clauses := clausesOf(line)
	var words []string
	at := house.NoPlace
	for _, clause := range clauses {
		s, err := take(clause)
		if err == nil && s.at != house.NoPlace {
			at = s.at
		}
		if x, ok := s.short(clause, at); err == nil && ok {
			seen = append(seen, x)
		} else if x, ok := nicknamed(clause); ok && len(clauses) > 1 {
			seen = append(seen, x)
		} else {
			words = append(words, clause)
		}
	}
	if len(words) == 0 || len(seen) == 0 {
		return seen, line
	}
	return seen, strings.Join(words, ", ")
}

// clausesOf splits a line at commas and at and, but.
func clausesOf(line string) []string {
	line = strings.NewReplacer(" and ", ",", " but ", ",", ";", ",").Replace(line)
	var out []string
	for _, clause := range strings.Split(line, ",") {
		if clause = strings.TrimSpace(clause); clause != "" {
			out = append(out, clause)
		}
	}
	return out
}

// deadWords say that nothing is read.
var deadWords = []string{"no", "dead", "nothing", "none", "zero", "0", "0v"}

// shortVoltsMost is the most a number without its unit is taken for volts: more
// is a temperature.
const shortVoltsMost = 35

// short makes a reading of a clause that leaves out what goes without saying:
// volts AC, to C, R where no terminal is named, at the place named last. At a
// thermostat a bare number is a temperature.
func (s spoken) short(clause string, at house.Place) (session.Seen, bool) {
	value := strings.ToLower(strings.Join(s.value, " "))
	dead := len(s.ends) > 0 && slices.Contains(deadWords, value)
	bare := s.quantity == 0 && !strings.ContainsAny(value, "vV")
	switch {
	case s.conductor != (house.Conductor{}), s.quantity != 0 && s.quantity != quantity.ACVolts && s.quantity != quantity.LowZVolts:
		return session.Seen{}, false
	case len(s.ends) == 0 && (s.at == house.NoPlace || bare && s.at == house.AtThermostat):
		return session.Seen{}, false
	case at == house.NoPlace, len(s.ends) > 2:
		return session.Seen{}, false
	case dead:
		value = "0"
	}
	s.at, s.quantity = at, max(s.quantity, quantity.ACVolts)
	if len(s.ends) == 0 {
		s.ends = []house.Terminal{house.R}
	}
	if len(s.ends) == 1 {
		if s.ends[0] == house.C {
			return session.Seen{}, false
		}
		s.ends = append(s.ends, house.C)
	}
	s.value = []string{value}
	seen, err := s.seen()
	return seen, err == nil && !(bare && seen.Reading.Value > shortVoltsMost)
}

// nicknames are what people call the things they look at.
var nicknames = []struct {
	name string
	look house.Look
}{
	{"fuse", house.FuseLook}, {"board fuse", house.FuseLook}, {"blower", house.IndoorFan}, {"inside fan", house.IndoorFan},
	{"indoor unit", house.IndoorFan}, {"condenser", house.OutdoorUnit}, {"outside unit", house.OutdoorUnit},
	{"outdoor fan", house.OutdoorUnit}, {"screen", house.Display}, {"stat", house.Display}, {"thermostat", house.Display},
	{"contactor", house.ContactorLook}, {"pan", house.DrainPan}, {"float pan", house.DrainPan}, {"breaker", house.BreakerIndoor},
	{"outdoor breaker", house.BreakerOutdoor}, {"panel", house.PanelIndoor},
}

// nicknamed reads a look by its own name or what people call it: "fuse good".
func nicknamed(clause string) (session.Seen, bool) {
	said := plainWords(clause)
	try := func(name string, l house.Look) (session.Seen, bool) {
		rest, ok := strings.CutPrefix(said, name+" ")
		if !ok {
			return session.Seen{}, false
		}
		a, ok := l.Heard(rest)
		return session.Seen{Probe: house.LookAt(l), Answer: a}, ok
	}
	for _, l := range house.Looks() {
		if s, ok := try(spaced(l.String()), l); ok {
			return s, true
		}
	}
	for _, n := range nicknames {
		if s, ok := try(n.name, n.look); ok {
			return s, true
		}
	}
	return session.Seen{}, false
}
