package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"stepdown/engine/journal"
	"stepdown/engine/paragraph"
)

func init() { verbs = append(verbs, newResume) }

func newResume(w world) *cobra.Command {
	var l look
	var as string
	cmd := &cobra.Command{
		Use:   "resume [CALL|FILE|CODE]",
		Short: "Go on with a call that was left, the latest where none is named",
		Long: "Go on with a call that was left. Nothing is taken for granted: power is unknown,\n" +
			"and nothing counts as proven dead until it is proven again. A file or a code\n" +
			"from stepdown handover goes on as a technician's call, with nothing asked twice.",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) <= 1 {
				return nil
			}
			return usage("stepdown calls lists them; a code goes in quotes", "resume takes one call")
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if err := l.check(); err != nil {
				return err
			}
			from, err := w.receive(args, as)
			if err != nil {
				return err
			}
			if from != nil {
				d, err := w.openDesk(l)
				if err != nil {
					return err
				}
				defer d.close()
				return w.takeOver(l, from, d)
			}
			name, err := w.pick(args)
			if err != nil {
				return err
			}
			d, err := w.openDesk(l)
			if err != nil {
				return err
			}
			defer d.close()
			return w.goOn(l, name, d)
		},
	}
	cmd.Flags().StringVar(&as, "as", "", "`who` goes on with it: tech, homeowner or dispatcher; a call handed over is tech's")
	l.flags(cmd)
	return cmd
}

// pick finds the call to go on with.
func (w world) pick(args []string) (string, error) {
	dir, err := w.openFolder()
	if err != nil {
		return "", err
	}
	if len(args) == 1 {
		return dir.named(args[0])
	}
	open, damaged, err := dir.open()
	switch {
	case err != nil:
		return "", err
	case len(open) > 0:
		return open[len(open)-1].name, nil
	case damaged != nil:
		return "", damaged
	}
	return "", usage("stepdown starts one", "no call was left open")
}

// kept is a call on disk.
type kept struct {
	name string
	journal.Call
}

// open lists the calls that have not ended, oldest first. One that cannot be
// read is left out; damaged is what is wrong with the latest such.
func (f folder) open() (open []kept, damaged, err error) {
	names, err := f.calls()
	if err != nil {
		return nil, nil, err
	}
	for _, name := range names {
		call, err := journal.Load(f, name+callEnding)
		switch {
		case errors.Is(err, journal.ErrNothing):
		case err != nil:
			damaged = err
		case call.End == nil && len(call.Events) > 0:
			open = append(open, kept{name, call})
		}
	}
	return open, damaged, nil
}

// words is the complaint as it was said, empty where nobody got that far.
func (k kept) words() string {
	for _, e := range k.Events {
		switch {
		case e.Open != nil && e.Open.Complaint != "":
			return e.Open.Complaint
		case e.Kind == "text" && e.Reply != "":
			return e.Reply
		}
	}
	return ""
}

// offer asks a person whether to go on with the latest call that was left and
// is not open elsewhere; the answer is its name, or nothing. Who says what is
// wrong instead means a new call, and has said it: those are the words.
func (w world) offer(d *desk) (name, words string) {
	if !d.style.Prompts || d.lines == nil {
		return "", ""
	}
	dir, err := w.openFolder()
	if err != nil {
		return "", ""
	}
	calls, _, err := dir.open()
	if err != nil || len(calls) == 0 {
		return "", ""
	}
	last := calls[len(calls)-1]
	lock, err := dir.lock(last.name)
	if err != nil {
		return "", "" // open elsewhere
	}
	lock.free(false)
	said := ""
	if words := last.words(); words != "" {
		said = ": " + shorten(clean(words), 40)
	}
	_, _ = fmt.Fprint(d.out, paragraph.Fill("Call "+last.name+" was left open"+said, "  ", d.columns()))
	answer, err := d.lines.ReadLine("  Go on with it? y or n > ")
	if err != nil {
		return "", ""
	}
	switch first, rest, _ := strings.Cut(strings.ToLower(strings.TrimSpace(answer)), " "); {
	case first == "yes", rest == "" && strings.HasPrefix(first, "y"):
		return last.name, ""
	case rest == "", first == "n", first == "no":
		return "", ""
	}
	return "", strings.TrimSpace(answer)
}

func shorten(s string, runes int) string {
	s = strings.ReplaceAll(s, "\n", " ")
	if r := []rune(s); len(r) > runes {
		return string(r[:runes-3]) + "..."
	}
	return s
}
