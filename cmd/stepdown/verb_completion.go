package main

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stepdown/engine/drill"
	"stepdown/engine/house"
)

func init() { verbs = append(verbs, newCompletion) }

func newCompletion(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "completion bash|zsh|fish",
		Short: "Print what makes a shell complete stepdown's words",
		Long: "Print what makes a shell complete stepdown's words.\n\n" +
			"bash: into ~/.local/share/bash-completion/completions/stepdown\n" +
			"zsh:  into a file _stepdown in a folder of $fpath\n" +
			"fish: into ~/.config/fish/completions/stepdown.fish",
		Example:   "  stepdown completion fish > ~/.config/fish/completions/stepdown.fish",
		ValidArgs: []string{"bash", "zsh", "fish"},
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return nil
			}
			return usage("as in: stepdown completion bash", "completion takes one shell")
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			switch args[0] {
			case "bash":
				return root.GenBashCompletionV2(w.stdout, true)
			case "zsh":
				return root.GenZshCompletion(w.stdout)
			case "fish":
				return root.GenFishCompletion(w.stdout, true)
			}
			return usage("completion takes bash, zsh or fish", "unknown shell %q", args[0])
		},
	}
}

// complete gives every verb the words its flags and arguments take.
func complete(w world, cmd *cobra.Command) {
	cmd.Flags().VisitAll(func(f *pflag.Flag) {
		if words := flagWords[f.Name]; words != nil {
			// The flags of chat are also the program's own: the second time
			// is refused, and changes nothing.
			_ = cmd.RegisterFlagCompletionFunc(f.Name, only(words))
		}
	})
	if cmd.ValidArgsFunction == nil && len(cmd.ValidArgs) == 0 && strings.Contains(cmd.Use, "CALL") {
		cmd.ValidArgsFunction = func(cmd *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			return w.callWords(cmd, args), cobra.ShellCompDirectiveNoFileComp
		}
	}
	for _, c := range cmd.Commands() {
		complete(w, c)
	}
}

// callWords are the names of the kept calls, and faults after a call that is
// closed.
func (w world) callWords(cmd *cobra.Command, args []string) []string {
	if len(args) == 1 && strings.Contains(cmd.Use, "FAULT") {
		return list(house.Faults())
	}
	if len(args) > 0 && !strings.Contains(cmd.Use, "...") {
		return nil
	}
	dir, err := w.openFolder()
	if err != nil {
		return nil
	}
	names, err := dir.calls()
	if err != nil {
		return nil
	}
	return names
}

func only(words func() []string) cobra.CompletionFunc {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return words(), cobra.ShellCompDirectiveNoFileComp
	}
}

// flagWords are the words of the flags that take one of a few.
var flagWords = map[string]func() []string{
	"as":        func() []string { return list(house.Audiences()) },
	"audience":  func() []string { return list(house.Audiences()) },
	"equipment": func() []string { return list(house.Equipments()) },
	"fault":     func() []string { return list(house.Faults()) },
	"meter":     func() []string { return []string{"none", "high-impedance", "both"} },
	"color":     func() []string { return []string{"auto", "always", "never"} },
	"lesson": func() []string {
		var ids []string
		for _, l := range drill.Lessons() {
			ids = append(ids, l.ID)
		}
		return ids
	},
}

func list[T interface{ String() string }](values []T) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = v.String()
	}
	return out
}
