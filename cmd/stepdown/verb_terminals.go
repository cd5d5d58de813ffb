package main

import (
	"strings"

	"github.com/spf13/cobra"

	"stepdown/engine/house"
	"stepdown/engine/letter"
)

func init() { verbs = append(verbs, newTerminals) }

func newTerminals(w world) *cobra.Command {
	var plain, asJSON bool
	cmd := &cobra.Command{
		Use:   "terminals [LETTER]",
		Short: "What the letters of a thermostat base mean",
		Long: "Tell what a letter of a thermostat's wall base does, where its wire goes, when\n" +
			"it is live and which colours are usual. Alone, list the letters. A colour is a\n" +
			"hint and decides nothing.",
		Example: "  stepdown terminals\n  stepdown terminals B",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var out []string
			for _, l := range letter.All() {
				out = append(out, l.Terminal.String())
			}
			return out, cobra.ShellCompDirectiveNoFileComp
		},
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) <= 1 {
				return nil
			}
			return usage("stepdown terminals, alone, lists them", "terminals takes one letter")
		},
		RunE: func(_ *cobra.Command, args []string) error {
			form := w.cardForm(plain)
			if len(args) == 0 {
				return w.print(asJSON, letter.All(), func() string { return letter.Overview(form) })
			}
			l, err := card(args[0])
			if err != nil {
				return err
			}
			return w.print(asJSON, l, func() string { return l.Text(form) })
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	cmd.Flags().BoolVar(&plain, "plain", false, "words alone, no drawing, for screen readers")
	return cmd
}

func (w world) cardForm(plain bool) letter.Form {
	style := newScreen(w.stdin, w.stdout, w.env, "never", plain).style
	switch {
	case style.Plain:
		return letter.Linear
	case style.ASCII:
		return letter.ASCII
	}
	return letter.Unicode
}

// card is the letter somebody means: y for Y, O/B for O.
func card(word string) (letter.Letter, error) {
	t, err := house.ParseTerminal(word)
	if err != nil || !t.IsLetter() {
		upper := strings.ToUpper(word)
		if upper == "O/B" {
			upper = "O"
		}
		if other, e := house.ParseTerminal(upper); e == nil && other.IsLetter() {
			t, err = other, nil
		}
	}
	l, ok := letter.Of(t)
	if err == nil && ok {
		return l, nil
	}
	return l, usage("stepdown terminals lists the letters", "%q is no letter of a thermostat base", word)
}
