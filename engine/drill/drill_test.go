package drill

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"sync"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

var catalog = sync.OnceValue(func() *circuit.Catalog { return circuit.Must(circuit.Load(os.DirFS("../../trees/equipment"))) })

func game(t testing.TB, f house.Fault) *Game {
	t.Helper()
	g, err := New(catalog().Equipment(house.CoolGas).Nominal(), f, house.DefaultSetup().With(house.CoolCall))
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// talk sends lines and gives what came back, a line each.
func talk(t testing.TB, g *Game, lines ...string) []string {
	t.Helper()
	var out []string
	for _, line := range lines {
		x, _ := g.Answer([]byte(line))
		data, err := json.Marshal(x)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, string(data))
	}
	return out
}

func TestDrillOverJSON(t *testing.T) {
	got := talk(t, game(t, house.OpenY),
		`{"look":"outdoor-unit","setup":{}}`,
		`{"measure":{"quantity":"volts","red":"Y","black":"C","at":"indoor"}}`,
		`{"measure":{"quantity":"volts","red":"R","black":"C","at":"indoor"},"setup":{"power-indoor":"locked-out","power-outdoor":"locked-out"}}`,
		`{"measure":{"quantity":"volts","red":"R","black":"C","at":"indoor"},"setup":{"cover-indoor":"open"}}`,
		`{"measure":{"quantity":"ohms","red":"R","black":"Y","at":"indoor"},"setup":{"power-indoor":"on"}}`,
		`{"measure":{"quantity":"volts","red":"O","black":"C","at":"indoor"}}`,
		`{"look":"nonsense"}`, `{"name":"nonsense"}`, `nonsense`, `{"nonsense":1}`, `{}`, `{"name":"open-y"} {}`,
		`{"name":"open-y"}`)
	want := []string{`"seen","answer":"stopped"`, `"problem","code":"cover-closed"`, `"problem","code":"cover-closed"`, `"reading","value":0,"unit":"V"`,
		`"problem","code":"power-on"`, `"problem","code":"no-such-terminal"`, `"problem","code":"look"`, `"problem","code":"fault"`,
		`"problem","code":"line"`, `"problem","code":"line"`, `"problem","code":"line"`, `"problem","code":"line"`,
		`"verdict","right":true,"named":"open-y","was":"open-y","probes":2,"slips":["ohms with the power on`}
	for i, line := range got {
		if !strings.Contains(line, want[i]) {
			t.Errorf("line %d: %s, want %s", i, line, want[i])
		}
	}
}

func TestWrongNameIsWrongAndSharedFindingIsRight(t *testing.T) {
	if v := game(t, house.OpenY).Name(house.StatYOpen); v.Right || v.Was != house.OpenY {
		t.Errorf("%+v", v)
	}
	if v := game(t, house.OpenYOutdoor).Name(house.OpenCOutdoor); !v.Right {
		t.Errorf("the one pair out: %+v", v)
	}
}

func TestSlipsAreCounted(t *testing.T) {
	g := game(t, house.ShortYC)
	set := func(text string) {
		t.Helper()
		var p house.Partial
		if err := json.Unmarshal([]byte(text), &p); err != nil {
			t.Fatal(err)
		}
		if err := g.Set(p); err != nil {
			t.Fatal(err)
		}
	}
	set(`{"cover-indoor":"open"}`)
	set(`{"fuse":"new"}`)
	set(`{"power-indoor":"locked-out"}`)
	set(`{"fuse":"out"}`)
	set(`{"fuse":"new"}`)
	var texts []string
	for _, s := range g.Slips() {
		texts = append(texts, s.Text)
	}
	want := "the cover at indoor came off before its power was locked out|hands went into the cabinet at indoor with its power not locked out|a second new fuse went in before the short was found"
	if got := strings.Join(texts, "|"); got != want {
		t.Errorf("slips %s", got)
	}
}

// The short blew the fuse on the call, and it stays blown when nothing is
// called any more.
func TestHistoryStays(t *testing.T) {
	got := talk(t, game(t, house.ShortYC), `{"look":"fuse-look","setup":{"mode":"off","calling":"no","power-indoor":"locked-out","cover-indoor":"open"}}`)
	if !strings.Contains(got[0], "blown") {
		t.Errorf("%s", got[0])
	}
}

func FuzzAnswer(f *testing.F) {
	for _, s := range []string{`{"look":"display","setup":{}}`, `{"measure":{"quantity":"amps","red":"Y@indoor>outdoor","black":"Y@indoor>outdoor"}}`, `{"name":"none"}`} {
		f.Add(s)
	}
	g := game(f, house.OpenC)
	f.Fuzz(func(t *testing.T, line string) {
		if out, _ := g.Answer([]byte(line)); out == nil {
			t.Error("no answer")
		}
	})
}

func Example() {
	c := catalog()
	g, _ := New(c.Equipment(house.CoolGas).Nominal(), house.OpenY, house.DefaultSetup().With(house.CoolCall))
	a, _ := g.Look(house.OutdoorUnit)
	fmt.Println(house.OutdoorUnit.AnswerID(a), g.Name(house.OpenY).Right)
	// Output: stopped true
}
