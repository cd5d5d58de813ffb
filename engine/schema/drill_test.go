package schema_test

import (
	"encoding/json"
	"os"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/drill"
	"stepdown/engine/house"
)

// Every line of a drill and what answers it; what does not hold is answered
// with a problem, and only that.
func TestDrillLines(t *testing.T) {
	in, out := compiled(t, "drill-in"), compiled(t, "drill-out")
	catalog := circuit.Must(circuit.Load(os.DirFS("../../trees/equipment")))
	game, err := drill.New(catalog.Equipment(house.CoolGas).Nominal(), house.OpenY, house.DefaultSetup().With(house.CoolCall))
	if err != nil {
		t.Fatal(err)
	}
	types := map[string]int{}
	answer := func(line string) string {
		reply, _ := game.Answer([]byte(line))
		text, err := json.Marshal(reply)
		if err != nil {
			t.Fatal(err)
		}
		validJSON(t, out, string(text))
		var l struct{ Type string }
		if err := json.Unmarshal(text, &l); err != nil {
			t.Fatal(err)
		}
		types[l.Type]++
		return l.Type
	}
	for _, line := range []string{
		`{"look":"outdoor-unit"}`, `{"look":"display","setup":{}}`,
		`{"measure":{"quantity":"volts","red":"Y","black":"C","at":"thermostat"}}`,
		`{"measure":{"quantity":"ohms","red":"R","black":"Y","at":"thermostat"},"setup":{"power-indoor":"locked-out","power-outdoor":"locked-out","thermostat":"removed"}}`,
		`{"setup":{"cover-indoor":"open"}}`, `{"setup":{"power-indoor":"on","power-outdoor":"on","thermostat":"mounted"}}`,
		`{"measure":{"quantity":"amps","red":"Y@indoor>thermostat","black":"Y@indoor>thermostat"}}`,
		`{"name":"open-y"}`,
	} {
		validJSON(t, in, line)
		if answer(line) == "problem" {
			t.Errorf("%s is answered with a problem", line)
		}
	}
	for _, line := range []string{`{}`, `{"moon":1}`, `{"look":"dysplay"}`, `{"name":"opn-y"}`, `{"measure":{"quantity":"volts"}}`, `{"setup":{"mode":"warm"}}`,
		`{"look":"display","name":"open-y","measure":{"quantity":"volts","red":"R","black":"C","at":"wall"}}`} {
		if err := in.Validate(decode(t, line)); err == nil {
			t.Errorf("%s holds", line)
		}
		if got := answer(line); got != "problem" && got != "verdict" {
			t.Errorf("%s is answered with a %s", line, got)
		}
	}
	for _, want := range []string{"reading", "seen", "setup", "verdict", "problem"} {
		if types[want] == 0 {
			t.Errorf("no %s line was written: %v", want, types)
		}
	}
}

// A slip in the weights does not hold.
func TestWeightSlips(t *testing.T) {
	s := compiled(t, "weights")
	for _, line := range []string{
		`{"weights":{"opn-y":{"weight":1,"source":"x"}}}`, `{"weights":{"open-y":{"weight":0,"source":"x"}}}`, `{"weights":{"open-y":{"weight":1}}}`,
	} {
		var v map[string]any
		if err := json.Unmarshal([]byte(line), &v); err != nil {
			t.Fatal(err)
		}
		whole := decode(t, good).(map[string]any)
		whole["weights"] = v["weights"]
		if err := s.Validate(whole); err == nil {
			t.Errorf("%s holds", line)
		}
	}
	validJSON(t, s, good)
}

const good = `{"weights":{"open-y":{"weight":1,"source":"x"}},
	"shares":{"slip":{"share":0.1,"source":"x"},"intermittent":{"share":0.1,"source":"x"},"pair":{"share":0.1,"source":"x"},"fresh":{"share":1,"source":"x"}},
	"minutes":{"look":{"minutes":1,"source":"x"},"reading":{"minutes":1,"source":"x"},"call":{"minutes":1,"source":"x"},"face":{"minutes":1,"source":"x"},
	"cover-indoor":{"minutes":1,"source":"x"},"cover-outdoor":{"minutes":1,"source":"x"},"jumper":{"minutes":1,"source":"x"},"lift":{"minutes":1,"source":"x"},
	"lockout":{"minutes":1,"source":"x"},"fuse":{"minutes":1,"source":"x"},"wait":{"minutes":1,"source":"x"}},
	"learning":{"strength":{"calls":1,"source":"x"}}}`
