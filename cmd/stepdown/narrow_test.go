package main

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stepdown/engine/paragraph"
)

// A table or a card on a narrow screen breaks at spaces and not within words.
func TestFolded(t *testing.T) {
	got := folded("  R            C            26.5 V     22.4 V to 29.9 V *\nshort\n    └─ unable                    → 4 fan, then on\n", 40)
	want := "  R            C            26.5 V\n    22.4 V to 29.9 V *\nshort\n    └─ unable                    → 4\n      fan, then on\n"
	if got != want {
		t.Errorf("folded to\n%s\nwant\n%s", got, want)
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
