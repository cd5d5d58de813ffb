package handover_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"stepdown/engine/handover"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// A dispatcher's call: what an invented caller saw.
func sample() session.Handed {
	look := func(l house.Look, answer string) session.Seen {
		a, err := l.ParseAnswer(answer)
		if err != nil {
			panic(err)
		}
		return session.Seen{Probe: house.LookAt(l), Answer: a, Given: house.CoolCall}
	}
	return session.Handed{
		From: house.Dispatcher, Complaint: "no-cooling",
		Facts: map[string]string{"equipment": "cool-gas", "letters": "R C Y G W", "base": "covered"},
		Seen: []session.Seen{look(house.Air, "room"), look(house.Display, "lit"), look(house.IndoorFan, "running"),
			look(house.OutdoorUnit, "stopped"), look(house.BreakerOutdoor, "on"), look(house.DrainPan, "dry")},
		Reset: []string{"outdoor"},
	}
}

func Example() {
	code, err := handover.Code(sample())
	fmt.Println(len(code) < 50, err)
	h, err := handover.Parse(strings.ToLower(code))
	fmt.Println(h.From, h.Complaint, h.Facts["equipment"], len(h.Seen), err)
	// Output:
	// true <nil>
	// dispatcher no-cooling cool-gas 6 <nil>
}

func same(t interface{ Error(...any) }, a, b session.Handed) {
	if diff := cmp.Diff(a, b, cmp.AllowUnexported(house.Partial{})); diff != "" {
		t.Error(diff)
	}
}

// A reading, a hot setup and every fact come back; amps, ohms over limit and
// hands in a cabinet do not fit.
func TestCode(t *testing.T) {
	h := sample()
	off := (house.Partial{}).Say(house.KeyThermostat, house.Setup{Thermostat: house.Removed})
	h.Seen = append(h.Seen, session.Seen{Probe: house.Volts(house.R, house.C, house.AtThermostat), Reading: quantity.Of(26.83), Given: off})
	h.Facts["stat-supply"], h.Facts["base-r"] = "through-load", "rc-rh"
	code, err := handover.Code(h)
	if err != nil {
		t.Fatal(err)
	}
	got, err := handover.Parse(" " + strings.ReplaceAll(code, "-", " ") + "\n")
	if err != nil {
		t.Fatal(err)
	}
	same(t, h, got)
	for _, bad := range []session.Seen{
		{Probe: house.Measure(quantity.Resistance, house.Y, house.C, house.AtIndoor), Reading: quantity.Reading{OL: true}},
		{Probe: house.Clamp(house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor}), Reading: quantity.Of(0.4)},
		{Probe: house.LookAt(house.Display), Answer: 1, Given: (house.Partial{}).Say(house.KeyCoverIndoor, house.Setup{CoverIndoor: true})},
	} {
		h := sample()
		h.Seen = append(h.Seen, bad)
		if _, err := handover.Code(h); err == nil {
			t.Errorf("%s is in a code", bad.Probe)
		}
	}
}

// Any one character read wrongly, and any two neighbours exchanged, is found.
func TestSlipsAreFound(t *testing.T) {
	code, err := handover.Code(sample())
	if err != nil {
		t.Fatal(err)
	}
	const letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
	plain := strings.ReplaceAll(code, "-", "")
	for i := range plain {
		for _, c := range letters {
			slip := plain[:i] + string(c) + plain[i+1:]
			if _, err := handover.Parse(slip); (err == nil) != (slip == plain) {
				t.Fatalf("%s for %s: %v", slip, plain, err)
			}
		}
		if i+1 < len(plain) {
			swap := plain[:i] + plain[i+1:i+2] + plain[i:i+1] + plain[i+2:]
			if _, err := handover.Parse(swap); (err == nil) != (swap == plain) {
				t.Fatalf("%s for %s: %v", swap, plain, err)
			}
		}
		if _, err := handover.Parse(plain[:i]); err == nil {
			t.Fatalf("%s is half a code", plain[:i])
		}
	}
	if got, err := handover.Parse(strings.NewReplacer("0", "o", "1", "l").Replace(code)); err != nil {
		t.Error(err)
	} else {
		same(t, sample(), got)
	}
}

// Whatever somebody may see in a house comes back as it was.
func TestEveryCallComesBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := session.Handed{
			From:      rapid.SampledFrom([]house.Audience{house.Homeowner, house.Dispatcher}).Draw(t, "from"),
			Complaint: rapid.SampledFrom(house.Complaints()).Draw(t, "complaint").String(),
			Facts:     map[string]string{"equipment": rapid.SampledFrom(house.Recognised()).Draw(t, "equipment").String()},
		}
		for range rapid.IntRange(0, 20).Draw(t, "looks") {
			l := rapid.SampledFrom(house.Looks()).Draw(t, "look")
			given := rapid.SampledFrom([]house.Partial{{}, house.CoolCall, house.HeatCall, house.EmergencyCall, house.FanCall}).Draw(t, "setup")
			h.Seen = append(h.Seen, session.Seen{Probe: house.LookAt(l), Answer: rapid.SampledFrom(l.Answers()).Draw(t, "answer"), Given: given})
		}
		code, err := handover.Code(h)
		if err != nil {
			t.Fatal(err)
		}
		got, err := handover.Parse(code)
		if err != nil {
			t.Fatal(err)
		}
		same(t, h, got)
	})
}

// FuzzParse: nothing typed breaks the reader, and what it takes can be written
// again.
func FuzzParse(f *testing.F) {
	code, err := handover.Code(sample())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(code)
	f.Add("")
	f.Add("----")
	f.Add("ZZZZ-ZZZZ-ZZZZ")
	f.Fuzz(func(t *testing.T, code string) {
		h, err := handover.Parse(code)
		if err != nil {
			return
		}
		if _, err := handover.Code(h); err != nil {
			t.Errorf("%q is taken and cannot be written: %v", code, err)
		}
	})
}
