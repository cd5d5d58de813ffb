package prove

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// made is a report made up, so that each part of it is written.
func made() *Report {
	r := &Report{Trees: 2, Steps: 1234, Branches: BranchCount{Steps: 1200, Branches: 4321, Cells: 123_456}, Edges: 5000,
		Safety: &SafetyReport{States: 133_762, Actions: 16_800_307}, Treeless: []house.Complaint{house.SecondStage},
		Untaken: []Untaken{{Step: "no-cooling/coil", Reached: true, Asked: true, Edges: []string{"coil_dc >= coil_open", "unable"}},
			{Step: "no-cooling/loop", Reached: true, Edges: []string{"OL"}}, {Step: "no-cooling/never", Edges: []string{"unable"}}}}
	r.Hidden = map[house.Fault]string{house.OpenG: "nobody feels it"}
	t := newTally()
	t.Houses, t.Variants, t.Calls, t.Shown, t.AtBest = 67_320, 17_838_284, [3]int{400_000, 500_000, 214_034}, [3]int{60_000, 60_000, 51_982}, [3]int{60_000, 60_000, 51_980}
	r.Physics = &t.Tally
	for _, e := range house.Equipments()[:3] {
		r.Matrix = append(r.Matrix, MatrixRow{e, house.OpenY, []house.Complaint{house.NoCooling}}, MatrixRow{e, house.OpenG, nil})
	}
	return r
}

// TestTextFitsATerminal holds the whole report of a proof that came out well to
// eighty cells a line, and to ending with how it came out.
func TestTextFitsATerminal(t *testing.T) {
	var b bytes.Buffer
	if err := made().WriteText(&b); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for line := range strings.Lines(text) {
		if n := len([]rune(strings.TrimRight(line, "\n"))); n > lineCells {
			t.Errorf("%d cells: %s", n, line)
		}
	}
	for _, want := range []string{
		"open-g                         0   0   0\n",
		"no tree for: second-stage\n",
		"hidden      open-g shows nothing: nobody feels it\n",
		"  no house shows it there\n    no-cooling/coil: coil_dc >= coil_open; unable\n",
		"  what is asked was known before, and goes another way\n    no-cooling/loop: OL\n",
		"  no call comes to the step\n    no-cooling/never: unable\n",
		"safety      0 unsafe steps in 133,762 house states and 16,800,307 actions\n",
		"          0  good thermostats condemned\n",
		"    171,980  of 171,982 calls ended at S, all that the probes can tell\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("not in the report: %q", want)
		}
	}
	if !strings.HasSuffix(text, "\nresult      proven at every listed corner and draw\n") {
		t.Errorf("ends with %q", text[max(0, len(text)-100):])
	}
	if testing.Verbose() {
		t.Log("\n" + text)
	}
}

// TestJSONIsWords holds the JSON form to the vocabulary's words, lists that are
// never null, and a margin that is null where nothing came near a limit.
func TestJSONIsWords(t *testing.T) {
	r := made()
	r.Problems = source.Problems{{Pos: source.Pos{File: "no-cooling.yaml", Line: 3, Col: 5}, Code: faultMissed.Code, Message: "x"}}
	r.Calls = []Counterexample{{Code: faultMissed.Code, Equipment: house.CoolGas, Fault: house.OpenY, Complaint: house.NoCooling,
		Audience: house.Homeowner, Finding: "open-c", Count: 2, Replay: Replay{Command: "stepdown chat", Lines: []string{`{"done":true}`}}}}
	var b bytes.Buffer
	if err := r.WriteJSON(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`"proven":false`, `"margin-volts":null`, `"as-asked":{"dispatcher":214034,"homeowner":500000,"tech":400000}`,
		`{"complaints":["no-cooling"],"equipment":"cool-gas","fault":"open-y"}`, `{"complaints":[],"equipment":"cool-gas","fault":"open-g"}`,
		`"audience":"homeowner"`, `"best":[]`, `"lines":["{\"done\":true}"]`,
		`{"edges":["unable"],"step":"no-cooling/never","why":"no call comes to the step"}`,
		`"without-tree":{"complaints":["second-stage"],`, `"hidden":{"open-g":"nobody feels it"}`,
	} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("not in the JSON: %s\n%s", want, b.String())
		}
	}
	var any map[string]json.RawMessage
	if err := json.Unmarshal(b.Bytes(), &any); err != nil {
		t.Error(err)
	}
}
