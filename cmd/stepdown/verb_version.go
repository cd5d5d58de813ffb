package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

func init() { verbs = append(verbs, newVersion) }

func newVersion(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "Show the version and the fingerprint of the built-in trees",
		Args:  noArgs,
		RunE: func(*cobra.Command, []string) error {
			print, err := library{}.fingerprint()
			if err != nil {
				return err
			}
			_, err = fmt.Fprintf(w.stdout, "stepdown %s\ntrees %s\n", version, print)
			return err
		},
	}
}
