package session

import (
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Apart tells probes apart that were made more than once: for each of seen how
// its setup differs from that of the others of the same probe, empty for one
// that was made once.
func Apart(e house.Equipment, seen []Seen) []string {
	out := make([]string, len(seen))
	for i := range seen {
		if out[i] == "" {
			apart(e, seen, seen[i].Probe, out)
		}
	}
	return out
}

// apart fills in how the times a probe was made differ, in order; one that
// differs in nothing from one before it was made again.
func apart(e house.Equipment, seen []Seen, p house.Probe, out []string) {
	var at []int
	for i := range seen {
		if seen[i].Probe == p {
			at = append(at, i)
		}
	}
	words := make(map[int][]string, len(at))
	for _, facet := range facets {
		if told(words, len(at)) {
			break
		}
		differs := slices.ContainsFunc(at, func(i int) bool { return facet(e, seen[i]) != facet(e, seen[at[0]]) })
		for _, i := range at {
			if text := facet(e, seen[i]); differs && text != "" {
				words[i] = append(words[i], text)
			}
		}
	}
	before := map[string]bool{}
	for _, i := range at {
		text := strings.Join(words[i], ", ")
		if before[text] {
			text = strings.TrimPrefix(text+", again", ", ")
		}
		before[text], out[i] = true, text
	}
}

// told reports whether n times of a probe already go by different words.
func told(words map[int][]string, n int) bool {
	apart := map[string]bool{}
	for _, list := range words {
		apart[strings.Join(list, ", ")] = true
	}
	return len(apart) == n
}

// liftedText says a lifted conductor: by its screw, where that is, and where the
// conductor goes from there.
func liftedText(k house.Conductor) string {
	at := map[house.Place]string{house.AtThermostat: "thermostat", house.AtIndoor: "board", house.AtOutdoor: "outdoor unit"}
	text := k.Terminal.String() + " lifted at the " + at[k.At]
	if k.To != house.NoPlace {
		text += ", to the " + at[k.To]
	}
	return text
}

// facets are what of a setup people tell one probe from the other by, in a few
// words each.
var facets = []func(house.Equipment, Seen) string{
	func(e house.Equipment, s Seen) string { return CallText(e, s.Probe.Quantity, s.Setup) },
	func(_ house.Equipment, s Seen) string {
		switch {
		case s.Setup.Calling || s.Setup.Thermostat == house.Removed || s.Probe.Quantity == quantity.Resistance:
			return ""
		case s.Setup.Mode == house.ModeOff:
			return "thermostat on OFF"
		}
		return "thermostat on " + strings.ToUpper(s.Setup.Mode.String())
	},
	func(_ house.Equipment, s Seen) string {
		if s.Setup.Lifted.Empty() {
			return "all wires landed"
		}
		var ends []string
		for _, k := range s.Setup.Lifted.List() {
			ends = append(ends, liftedText(k))
		}
		return strings.Join(ends, ", ")
	},
	func(_ house.Equipment, s Seen) string {
		return map[house.Fuse]string{house.FuseAsFound: "fuse as found", house.FuseOut: "fuse out", house.FuseNew: "new fuse",
			house.FuseBreaker: "breaker in the fuse's place"}[s.Setup.Fuse]
	},
}
