package main

import (
	"io"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stepdown/engine/source"
)

// verbs are the commands, each made in its own file and added there.
var verbs []func(world) *cobra.Command

const rootLong = `stepdown finds what failed in the 24-volt control circuit of a heating or
cooling system. Say what is wrong in your own words, answer one look or one
reading at a time, and it names the part, why, what to do and how to confirm it.

It never asks for work behind a cover before lockout. Local codes and licensed
practice come first: where they say otherwise, do what they say.`

// newRoot is the whole command line; without a verb it starts a chat.
func newRoot(w world) *cobra.Command {
	chat := newChat(w)
	root := &cobra.Command{
		Use:           "stepdown",
		Short:         "Find what failed in a 24-volt heating or cooling control circuit",
		Long:          rootLong,
		Args:          noVerb,
		RunE:          chat.RunE,
		SilenceUsage:  true,
		SilenceErrors: true,
	}
	root.Flags().AddFlagSet(chat.Flags())
	root.AddCommand(chat)
	for _, v := range verbs {
		root.AddCommand(v(w))
	}
	complete(w, root)
	root.SetHelpCommand(&cobra.Command{Use: "help [VERB]", Short: "Show a verb and its flags", RunE: help})
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetHelpFunc(func(cmd *cobra.Command, _ []string) { _, _ = io.WriteString(w.stdout, w.onScreen(helpPage(cmd))) }) // a closed screen reads nothing
	root.SetOut(w.stdout)
	root.SetErr(w.stderr)
	root.SetFlagErrorFunc(flagError)
	return root
}

// noVerb turns down a word that is no verb.
func noVerb(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, c := range cmd.Root().Commands() {
		names = append(names, c.Name())
	}
	hint := "stepdown help lists the verbs; a complaint goes after --complaint, in quotes"
	if near, ok := source.Nearest(args[0], names); ok {
		hint = "did you mean stepdown " + near + "?"
	}
	return usage(hint, "unknown verb %q", args[0])
}

func help(cmd *cobra.Command, args []string) error {
	found, _, err := cmd.Root().Find(args)
	if err != nil || found == nil || len(args) > 0 && found == cmd.Root() {
		return noVerb(cmd, args)
	}
	return found.Help()
}

// flagError words the flag library's complaints as ours.
func flagError(cmd *cobra.Command, err error) error {
	const unknown = "unknown flag: --"
	message := err.Error()
	name, ok := strings.CutPrefix(message, unknown)
	if !ok {
		return usage(cmd.CommandPath()+" --help lists the flags", "%s", message)
	}
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	hint := cmd.CommandPath() + " --help lists the flags"
	if near, ok := source.Nearest(name, names); ok {
		hint = "did you mean --" + near + "?"
	}
	return usage(hint, "unknown flag --%s", name)
}

// noArgs is for verbs that take none.
func noArgs(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return usage(cmd.CommandPath()+" --help shows its form", "%s takes no %q", cmd.CommandPath(), args[0])
}
