package letter_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/letter"
)

var update = flag.Bool("update", false, "write the expected output anew")

func Example() {
	card, ok := letter.Of(house.Y)
	fmt.Println(ok, card.Name, letter.Colours(house.Y))
	// Output: true the call for the compressor [yellow]
}

// TestCards holds every card and the overview to their goldens, in each form,
// and to the width of a screen.
func TestCards(t *testing.T) {
	var b strings.Builder
	for name, f := range map[string]letter.Form{"unicode": letter.Unicode, "ascii": letter.ASCII, "linear": letter.Linear} {
		b.Reset()
		b.WriteString(letter.Overview(f))
		for _, l := range letter.All() {
			b.WriteString("\n" + l.Text(f))
		}
		for _, line := range strings.Split(b.String(), "\n") {
			if len([]rune(line)) > 80 {
				t.Errorf("%s: wider than 80: %q", name, line)
			}
			if f != letter.Unicode && strings.ContainsFunc(line, func(r rune) bool { return r > '~' }) {
				t.Errorf("%s: not plain: %q", name, line)
			}
		}
		golden := filepath.Join("testdata", name+".golden")
		if *update {
			if err := os.WriteFile(golden, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(golden)
		if err != nil {
			t.Fatal(err)
		}
		if b.String() != string(want) {
			t.Errorf("%s differs:\n%s", golden, b.String())
		}
	}
}

// TestEveryLetterHasACard, of the control side, with a way out of the base, and
// some system that has it.
func TestEveryLetterHasACard(t *testing.T) {
	for _, x := range house.Terminals() {
		l, ok := letter.Of(x)
		if ok != x.IsLetter() {
			t.Errorf("%s: a card %v", x, ok)
		}
		if !ok {
			continue
		}
		all, some := l.Equipment()
		if l.Name == "" || l.Does == "" || l.Live == "" || len(l.Goes) == 0 || len(all)+len(some) == 0 || x.Class() != house.Control {
			t.Errorf("%+v", l)
		}
		for _, m := range l.Marks {
			if got, err := house.ParseTerminal(m); m != "O/B" && (err != nil || got != x) {
				t.Errorf("%s is marked %s, which is read as %s", x, m, got)
			}
		}
	}
}

// TestBSaysWhatItMayCost: a common on a driven B shorts the transformer; the
// card sends to the reading first.
func TestBSaysWhatItMayCost(t *testing.T) {
	l, _ := letter.Of(house.B)
	text := strings.Join(strings.Fields(l.Text(letter.Linear)), " ")
	for _, want := range []string{"B is the common", "shorts the transformer", "before it lands anywhere", "stepdown rewire"} {
		if !strings.Contains(text, want) {
			t.Errorf("the card of B does not say %q", want)
		}
	}
	if !strings.Contains(letter.Overview(letter.ASCII), "read it before it lands") {
		t.Error("the overview does not warn of B")
	}
}

// TestColoursAreHints: which colour is usual for which letter is common
// practice; no published standard gives colours to letters.
func TestColoursAreHints(t *testing.T) {
	for colour, want := range map[string]house.Terminal{
		"red": house.R, "blue": house.C, "yellow": house.Y, "green": house.G, "orange": house.O, "white": house.W,
		"black": house.C, "brown": house.E, "grey": house.C, "purple": house.Y2,
	} {
		got := letter.Hint(colour)
		if !slices.Contains(got, want) {
			t.Errorf("%s hints at %v, want %s among them", colour, got, want)
		}
		if !slices.Contains(letter.Colours(want), colour) || !slices.Contains(letter.Jackets, colour) {
			t.Errorf("%s is not among %v", colour, letter.Colours(want))
		}
	}
	if letter.Hint("red")[0] != house.R || !slices.Contains(letter.Hint("blue"), house.B) || len(letter.Hint("pink")) > 0 {
		t.Error("red is R, blue may be B, pink says nothing")
	}
	if letter.Colours(house.Rh)[0] != "red" {
		t.Error("Rh is an R")
	}
}

// TestJSON gives every list, empty or not.
func TestJSON(t *testing.T) {
	data, err := json.Marshal(letter.All())
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(data), "null") || !strings.Contains(string(data), `"letter":"O","marks":["O/B"]`) {
		t.Errorf("%s", data)
	}
}
