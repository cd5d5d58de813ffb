package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"stepdown/engine/paragraph"
)

// shelf is verbs for one sort of work, as the first page of help lists them.
type shelf struct {
	title string
	verbs []string
}

// shelves hold every verb once.
var shelves = []shelf{
	{"On a call", []string{"chat", "resume", "handover", "report", "calls"}},
	{"Before and beside a call", []string{"expect", "loads", "terminals", "rewire"}},
	{"To practise", []string{"drill"}},
	{"For those who write trees", []string{"prove", "draw", "circuit", "schema"}},
	{"The program itself", []string{"completion", "help", "version"}},
}

// Help is written so wide, and words stand beside a lead no longer than that.
const (
	helpWide = 80
	deepest  = 34
)

// helpPage is the help of a verb: what it is for, how it is typed, what goes with
// it. The program's own lists the verbs by the work they are for.
func helpPage(cmd *cobra.Command) string {
	var b strings.Builder
	about := strings.TrimSpace(cmd.Long)
	if about == "" {
		about = cmd.Short + "."
	}
	b.WriteString(about + "\n")
	if !cmd.HasParent() {
		shelved(&b, cmd)
	} else {
		typed(&b, cmd)
	}
	added(&b, cmd.LocalFlags())
	return b.String()
}

// shelved lists the verbs of the program.
func shelved(b *strings.Builder, root *cobra.Command) {
	b.WriteString("\nType stepdown to start a call, stepdown VERB for the rest, and\nstepdown help VERB for more on one.\n")
	for _, s := range shelves {
		fmt.Fprintf(b, "\n%s\n", s.title)
		for _, name := range s.verbs {
			if c, _, err := root.Find([]string{name}); err == nil && c != root {
				entry(b, fmt.Sprintf("  %-12s", c.Name()), c.Short)
			}
		}
	}
}

// typed says how a verb is typed, with examples.
func typed(b *strings.Builder, cmd *cobra.Command) {
	path := strings.TrimSuffix(cmd.CommandPath(), cmd.Name())
	b.WriteString("\nType\n")
	if cmd.Runnable() {
		b.WriteString("  " + path + cmd.Use + "\n")
	}
	var forms []string
	var under []*cobra.Command
	wide := 0
	for _, c := range cmd.Commands() {
		if c.Hidden || c.Name() == "help" {
			continue
		}
		form := c.CommandPath() + strings.TrimPrefix(c.Use, c.Name())
		forms, under = append(forms, form), append(under, c)
		if len(form)+4 <= deepest {
			wide = max(wide, len(form))
		}
	}
	for i, c := range under {
		entry(b, fmt.Sprintf("  %-*s  ", wide, forms[i]), c.Short)
	}
	if cmd.Example != "" {
		b.WriteString("\nFor example\n" + cmd.Example + "\n")
	}
}

// valueWords say what goes after a flag that names nothing of its own.
var valueWords = map[string]string{"string": "word", "int": "number", "uint": "number", "float": "number"}

// added lists flags: the name, what goes after it, and what it is for.
func added(b *strings.Builder, flags *pflag.FlagSet) {
	var names, uses []string
	wide := 0
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden || f.Name == "help" {
			return
		}
		value, use := pflag.UnquoteUsage(f)
		if plain, ok := valueWords[value]; ok {
			value = plain
		}
		name := "--" + f.Name
		if f.Shorthand != "" {
			name = "-" + f.Shorthand + ", " + name
		}
		if value != "" {
			name += " " + strings.ToUpper(value)
		}
		if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "0" && f.DefValue != "[]" {
			use += "; " + f.DefValue + " if it is left out"
		}
		names, uses = append(names, name), append(uses, use)
		wide = max(wide, len(name))
	})
	if len(names) == 0 {
		return
	}
	b.WriteString("\nYou may add\n")
	for i, name := range names {
		entry(b, fmt.Sprintf("  %-*s  ", wide, name), uses[i])
	}
}

// entry writes words beside a lead, broken at spaces and kept beside it; a lead
// too long for that stands on a line of its own.
func entry(b *strings.Builder, lead, text string) {
	if len(lead) > deepest {
		b.WriteString(strings.TrimRight(lead, " ") + "\n")
		lead = strings.Repeat(" ", 6)
	}
	b.WriteString(paragraph.Fill(text, lead, helpWide))
}
