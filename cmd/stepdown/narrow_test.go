package main

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stepdown/engine/paragraph"
)

// On a narrow screen a table goes on with its next field, text beside a name
// stays beside it where there is room, a paragraph is filled again, and a list
// keeps its marks.
func TestFolded(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"a table",
			"  red on       black on     about      healthy range\n  R            C            26.5 V     22.4 V to 29.9 V *\n  W            C            0 V        0 V to 6.6 V\n",
			"  red on       black on     about\n      healthy range\n  R            C            26.5 V\n      22.4 V to 29.9 V *\n  W            C            0 V\n      0 V to 6.6 V\n"},
		{"names, and text that goes on under itself",
			"  --seed NUMBER     draw the house and the fault; 0 is the house at the centre\n                    of every range\n  --json            print one object\n",
			"  --seed NUMBER     draw the house and\n                    the fault; 0 is the\n                    house at the centre\n                    of every range\n  --json            print one object\n"},
		{"a long name",
			"  pump-heating-valve  heat pump whose valve is energised in heating\n",
			"  pump-heating-valve\n      heat pump whose valve is energised\n      in heating\n"},
		{"a paragraph",
			"A house with a hidden fault answers your probes until you name it. Alone, it is\nthe next lesson you have not passed.\n\nshort\n",
			"A house with a hidden fault answers your\nprobes until you name it. Alone, it is\nthe next lesson you have not passed.\n\nshort\n"},
		{"two lines that are two things",
			"What was measured, power locked out, wires bare: blue to red 3.1 ohms\nType done when every wire is named.\n",
			"What was measured, power locked out,\n  wires bare: blue to red 3.1 ohms\nType done when every wire is named.\n"},
		{"an error",
			"error: \"R\" is no colour known here: one of red, white, green, blue, yellow,\n       brown and tan\n",
			"error: \"R\" is no colour known here: one\n       of red, white, green, blue,\n       yellow, brown and tan\n"},
		{"a list",
			"  - 240 V feeds only, and with every load of the call in, so that it shows\n  - the next one\n",
			"  - 240 V feeds only, and with every\n    load of the call in, so that it\n    shows\n  - the next one\n"},
		{"commands",
			"  stepdown drill --json --equipment cool-gas --fault open-y --seed 7\n  stepdown drill --equipment cool-gas\n",
			"  stepdown drill --json --equipment\n    cool-gas --fault open-y --seed 7\n  stepdown drill --equipment cool-gas\n"},
	} {
		if got := folded(c.text, 40); got != c.want {
			t.Errorf("%s is folded to\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
	if text := "as wide as it may be\n"; folded(text, 80) != text {
		t.Errorf("what fits is changed: %q", folded(text, 80))
	}
}

// Every line fits, no word is lost, and what fits stays as it was.
func TestFoldedKeepsEveryWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`([ ]{0,9}([a-zé─]{1,12}[ ]{1,5}){0,12}\n?){0,4}`).Draw(t, "text")
		cells := rapid.IntRange(24, 90).Draw(t, "cells")
		got := folded(text, cells)
		for line := range strings.Lines(got) {
			if n := paragraph.Width(strings.TrimRight(line, "\n ")); n > cells {
				t.Fatalf("%d of %d cells: %q", n, cells, line)
			}
		}
		if !slices.Equal(strings.Fields(got), strings.Fields(text)) {
			t.Fatalf("%q is folded to %q", text, got)
		}
	})
}
