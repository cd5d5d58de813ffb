package main

import (
	"errors"

	"github.com/spf13/cobra"

	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/session"
)

func newCallsClose(w world) *cobra.Command {
	var note string
	cmd := &cobra.Command{
		Use:   "close CALL|latest FAULT",
		Short: "Keep what a call turned out to be, once the repair was seen to hold",
		Long: "Keep what a call turned out to be, once the repair was seen to hold. Said again,\n" +
			"the later word counts. A call that was left open ends with it.",
		Example: "  stepdown calls close 20260714-1504 open-y --note 'a nail behind the shelf'",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 2 {
				return nil
			}
			return usage("as in: stepdown calls close 20260714-1504 open-y", "calls close takes a call and a fault")
		},
		RunE: func(_ *cobra.Command, args []string) error { return w.closeCall(args[0], args[1], note) },
	}
	cmd.Flags().StringVar(&note, "note", "", "a few `words` beside it")
	return cmd
}

func (w world) closeCall(call, word, note string) error {
	f, err := house.ParseFault(word)
	if err != nil {
		var unknown *house.UnknownWord
		hint := "stepdown drill --equipment ID, then faults, lists them"
		if errors.As(err, &unknown) && unknown.Nearest != "" {
			hint = "did you mean " + unknown.Nearest + "?"
		}
		return usage(hint, "there is no fault %q", word)
	}
	dir, err := w.openFolder()
	if err != nil {
		return err
	}
	name, err := w.latest([]string{call})
	if err != nil {
		return err
	}
	rec, was, err := dir.resumeRecord(name)
	if err != nil {
		return err
	}
	defer rec.release()
	if rec.journal == nil {
		return rec.lost
	}
	if n := len(was.Torn); n > 0 {
		w.say("note: the last line of call %s was never finished; its %s are kept in %s.torn", name, count(n, "byte"), name+callEnding)
	}
	if id := equipmentOf(was.Events); !has(id, f) {
		return usage("stepdown drill --equipment "+id.String()+", then faults, lists them", "%s is no fault of %s, which call %s is about", f, id, name)
	}
	if was.End == nil {
		err = rec.journal.Finish(journal.End{Exit: exitUndecided})
	}
	if err == nil {
		err = rec.journal.Settle(journal.Closed{At: w.now(), Fault: f.String(), Note: note})
	}
	if err != nil {
		return err
	}
	w.say("Call %s turned out to be %s.", name, f)
	if w.learns() {
		w.say("It counts from now on in what is suspected first; stepdown calls learn shows how, and switches it off.")
	}
	return nil
}

// equipmentOf is the equipment a call is about, as far as its events say.
func equipmentOf(events []session.Event) house.Equipment {
	out := house.NoEquipment
	for _, e := range events {
		word := e.Reply
		if e.Open != nil && e.Open.Equipment != "" {
			word = e.Open.Equipment
		} else if e.Kind != session.Answer {
			continue
		}
		if id, err := house.ParseEquipment(word); err == nil {
			out = id
		}
	}
	return out
}

// has reports whether an equipment can have a fault; one that is not modelled may
// have any.
func has(id house.Equipment, f house.Fault) bool {
	if id == house.NoEquipment || id.Handling() != house.Modelled {
		return true
	}
	e, err := loadEquipment(id.String())
	return err != nil || e.Fits(f)
}

// release closes the files of a record without a word about its end.
func (r *record) release() {
	_ = r.journal.Close() // every line was synced
	r.lock.free(true)
}
