package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"stepdown/engine/journal"
)

func init() { verbs = append(verbs, newCalls) }

func newCalls(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "calls",
		Short: "List the calls that are kept, and how each ended",
		Args:  noArgs,
		RunE:  func(*cobra.Command, []string) error { return w.listCalls() },
	}
}

func (w world) listCalls() error {
	dir, err := w.openFolder()
	if err != nil {
		return err
	}
	names, err := dir.calls()
	if err != nil {
		return err
	}
	if len(names) == 0 {
		w.say("No calls are kept yet.")
		return nil
	}
	var broken error
	for _, name := range names {
		call, err := journal.Load(dir, name+callEnding)
		if errors.Is(err, journal.ErrNothing) {
			continue
		}
		if err != nil {
			w.say("%s", clean(err.Error()))
			broken = ended(exitUndecided)
			continue
		}
		k := kept{name, call}
		if _, err := fmt.Fprintf(w.stdout, "%-18s %-10s %-26s %s\n", name, k.audience(), k.came(), shorten(clean(k.words()), 60)); err != nil {
			return err
		}
	}
	return broken
}

// came is what the call came to.
func (k kept) came() string {
	switch {
	case k.End == nil:
		return "open"
	case k.End.Finding == "":
		return "ended"
	}
	return clean(k.End.Finding)
}

func (k kept) audience() string {
	for _, e := range k.Events {
		if e.Open != nil {
			return e.Open.Audience.String()
		}
	}
	return "-"
}
