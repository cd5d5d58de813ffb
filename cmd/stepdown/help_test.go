package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// every gives a command and all under it.
func every(cmd *cobra.Command) []*cobra.Command {
	out := []*cobra.Command{cmd}
	for _, c := range cmd.Commands() {
		out = append(out, every(c)...)
	}
	return out
}

// TestEveryVerbIsOnOneShelf, so that the first page of help lists them all.
func TestEveryVerbIsOnOneShelf(t *testing.T) {
	var shelved []string
	for _, s := range shelves {
		shelved = append(shelved, s.verbs...)
	}
	var verbs []string
	for _, c := range newRoot(world{}).Commands() {
		verbs = append(verbs, c.Name())
	}
	verbs = append(verbs, "help") // made when the program runs
	slices.Sort(shelved)
	slices.Sort(verbs)
	if verbs = slices.Compact(verbs); !slices.Equal(shelved, verbs) {
		t.Errorf("on shelves %v\nverbs %v", shelved, verbs)
	}
}

// TestHelpPages: each fits a screen's width, and each flag is on its own verb's
// page.
func TestHelpPages(t *testing.T) {
	for _, c := range every(newRoot(world{})) {
		text := helpPage(c)
		for _, line := range strings.Split(text, "\n") {
			if len([]rune(line)) > helpWide {
				t.Errorf("%s: wider than %d: %q", c.CommandPath(), helpWide, line)
			}
		}
		for _, stock := range []string{"Usage:", "Available Commands", "[flags]", "help for", "Flags:", " STRING", " INT ", "UINT"} {
			if strings.Contains(text, stock) {
				t.Errorf("%s: says %q", c.CommandPath(), stock)
			}
		}
	}
	text := helpPage(newRoot(world{}))
	for _, want := range []string{"On a call\n  chat        Start a call", "For those who write trees\n  prove", "--as WHO"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}
