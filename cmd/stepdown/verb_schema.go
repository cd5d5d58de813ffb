package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stepdown/engine/house"
	"stepdown/engine/schema"
)

func init() { verbs = append(verbs, newSchema) }

func newSchema(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "schema [NAME]",
		Short: "Print a JSON Schema, for editors and programs; alone, list them",
		Long: "Print the JSON Schema of a file or a line, for editors that complete and check\n" +
			"trees, and for programs. Alone, list them.",
		Example: "  stepdown schema tree > tree.schema.json",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return schema.Names(), cobra.ShellCompDirectiveNoFileComp
		},
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) <= 1 {
				return nil
			}
			return usage("stepdown schema lists them", "schema takes one name")
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				var list strings.Builder
				for _, n := range schema.Names() {
					fmt.Fprintf(&list, "%-10s %s\n", n, schema.Title(n))
				}
				_, err := fmt.Fprint(w.stdout, w.onScreen(list.String()))
				return err
			}
			text, err := schema.Text(args[0])
			var unknown *house.UnknownWord
			if errors.As(err, &unknown) {
				hint := "stepdown schema lists them"
				if unknown.Nearest != "" {
					hint = "did you mean " + unknown.Nearest + "?"
				}
				return usage(hint, "there is no schema %q", args[0])
			}
			if err == nil {
				_, err = fmt.Fprint(w.stdout, text)
			}
			return err
		},
	}
}
