package chat_test

import (
	"os"
	"strings"
	"testing"

	"stepdown/engine/chat"
	"stepdown/engine/circuit"
	"stepdown/engine/drill"
	"stepdown/engine/house"
)

func practice(t *testing.T, f house.Fault) *chat.Drill {
	t.Helper()
	c, problems := circuit.Load(os.DirFS("../../trees/equipment"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	g, err := drill.New(c.Equipment(house.CoolGas).Nominal(), f, house.DefaultSetup().With(house.CoolCall))
	if err != nil {
		t.Fatal(err)
	}
	return chat.NewDrill(g, chat.Style{ASCII: true})
}

// A drill in the chat's own words, to a right verdict; what would hurt is said
// at once, what cannot be read says why.
func TestDrillInWords(t *testing.T) {
	d := practice(t, house.OpenY)
	for _, step := range []struct{ line, want string }{
		{"", ""},
		{"look outdoor-unit", "stopped"},
		{"display", "lit"},
		{"volts Y C at indoor", "? the cover at indoor is closed"},
		{"set cover-indoor=open", "could hurt"},
		{"volts Y C at indoor", "volts Y-C at indoor: 0 V"},
		{"Y to C at the thermostat", "26."},
		{"ohms R Y at indoor", "power at"},
		{"volts R C", "say where"},
		{"look moon", "unknown look"},
		{"set sideways", "no setting"},
		{"set", "set what?"},
		{"set fan on idle", "fan=on"},
		{"set lifted=Y@thermostat", "lifted=Y@thermostat"},
		{"name moon", "unknown fault"},
		{"name", "name which fault?"},
		{"house", "cover-indoor=open"},
		{"\x1b[31mred", "?"},
		{"name open-y", "RIGHT: it was open-y."},
	} {
		text := d.OneShot(step.line)
		if !strings.Contains(text, step.want) {
			t.Errorf("%q shows %q, want %q", step.line, text, step.want)
		}
		if strings.ContainsRune(text, 0x1b) {
			t.Errorf("%q reaches the screen raw", step.line)
		}
	}
	if !d.Ended() || !d.Right() {
		t.Error("the drill did not end right")
	}
}

func TestDrillWrong(t *testing.T) {
	d := practice(t, house.OpenY)
	if text := d.OneShot("name stat-y-open"); !strings.Contains(text, "WRONG: it was open-y") || d.Right() || !d.Ended() {
		t.Errorf("%q", text)
	}
	var out strings.Builder
	d = practice(t, house.OpenC)
	if err := d.Loop("it does not cool", chat.Lines(strings.NewReader("help\nfaults\nlooks\nquit\n"), nil), &out); err != nil || !d.Ended() {
		t.Error(err)
	}
	if !strings.Contains(out.String(), "invented house") {
		t.Errorf("%s", out.String())
	}
}
