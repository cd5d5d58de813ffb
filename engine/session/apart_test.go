package session

import (
	"slices"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// What was looked at twice says what was different; what was made once, nothing.
func TestApart(t *testing.T) {
	air := house.LookAt(house.Air)
	yc := house.Measure(quantity.ACVolts, house.Y, house.C, house.AtIndoor)
	at := func(change func(*house.Setup)) house.Setup {
		s := house.DefaultSetup()
		if change != nil {
			change(&s)
		}
		return s
	}
	cool := at(func(s *house.Setup) { s.Mode, s.Calling = house.ModeCool, true })
	for _, c := range []struct {
		name string
		seen []Seen
		want []string
	}{
		{"once", []Seen{{Probe: air}, {Probe: yc, Setup: cool}}, []string{"", ""}},
		{"face on, face off", []Seen{{Probe: air}, {Probe: yc}, {Probe: air, Setup: at(func(s *house.Setup) { s.Thermostat = house.Removed })}},
			[]string{"nothing called", "", "thermostat off its base"}},
		{"two calls", []Seen{{Probe: air, Setup: cool}, {Probe: air, Setup: at(func(s *house.Setup) { s.Mode, s.Calling = house.ModeHeat, true })}},
			[]string{"cooling called", "heat called"}},
		{"two modes, no call", []Seen{{Probe: yc}, {Probe: yc, Setup: at(func(s *house.Setup) { s.Mode = house.ModeCool })}},
			[]string{"thermostat on OFF", "thermostat on COOL"}},
		{"two modes and a call", []Seen{{Probe: yc}, {Probe: yc, Setup: at(func(s *house.Setup) { s.Mode = house.ModeCool })}, {Probe: yc, Setup: cool}},
			[]string{"nothing called, thermostat on OFF", "nothing called, thermostat on COOL", "cooling called"}},
		{"a wire lifted", []Seen{{Probe: yc, Setup: cool}, {Probe: yc, Setup: at(func(s *house.Setup) {
			*s = cool
			s.Lifted = house.ConductorsOf(house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor})
		})}}, []string{"all wires landed", "Y lifted at the board, to the outdoor unit"}},
		{"the same again", []Seen{{Probe: air}, {Probe: air}}, []string{"", "again"}},
	} {
		if got := Apart(house.CoolGas, c.seen); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
