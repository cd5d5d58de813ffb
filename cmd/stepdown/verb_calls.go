package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"sync/atomic"

	"github.com/spf13/cobra"

	"stepdown/engine/journal"
	"stepdown/engine/report"
	"stepdown/engine/tally"
)

func init() { verbs = append(verbs, newCalls) }

func newCalls(w world) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "calls",
		Short: "List the calls that are kept, and how each ended",
		Long: "List the calls that are kept, oldest first: name, who it is for, what it came\n" +
			"to, and the complaint. A file that cannot be read is named and left out.",
		Example: "  stepdown calls\n  stepdown calls show 20260714-1504\n  stepdown calls close 20260714-1504 open-y --note 'a nail behind the shelf'\n  stepdown calls stats",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return w.listCalls(asJSON) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "a line of JSON for each call")
	cmd.AddCommand(newCallsShow(w), newCallsClose(w), newCallsExport(w), newCallsForget(w), newCallsStats(w), newCallsLearn(w))
	return cmd
}

func (w world) listCalls(asJSON bool) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	n := 0
	broken := w.eachCall(func(c tally.Call) error {
		n++
		if asJSON {
			return enc.Encode(c)
		}
		_, err := fmt.Fprintf(&b, "%-18s %-10s %-26s %s\n", c.Name, c.Audience, came(c), shorten(c.Words, 60))
		return err
	})
	if _, err := io.WriteString(w.stdout, w.onScreen(b.String())); err != nil {
		return err
	}
	if n == 0 && broken == nil {
		w.say("No calls are kept yet.")
	}
	return broken
}

// came is what a call came to, with what it turned out to be where that is
// something else.
func came(c tally.Call) string {
	right, known := c.Confirmed()
	switch {
	case c.Open:
		return "open"
	case c.Closed != "" && !(known && right):
		return orWord(c.Finding, "ended") + " > " + c.Closed
	}
	return orWord(c.Finding, "ended")
}

func orWord(s, otherwise string) string {
	if s == "" {
		return otherwise
	}
	return s
}

// gcCalls is the growth, in per cent, after which memory is collected while calls
// are read: next to nothing of one is kept, and collecting took a third of the time.
const gcCalls = 400

// eachCall reads every kept call once, oldest first. One that cannot be read
// is named on stderr and left out, and the exit code says so in the end.
func (w world) eachCall(do func(tally.Call) error) error {
	defer debug.SetGCPercent(debug.SetGCPercent(gcCalls))
	dir, err := w.openFolder()
	if err != nil {
		return err
	}
	names, err := dir.calls()
	if err != nil {
		return err
	}
	var broken []string
	for i, read := range dir.inOrder(names) {
		switch {
		case errors.Is(read.err, journal.ErrNothing):
			continue
		case read.err != nil:
			if broken = append(broken, names[i]); len(broken) <= brokenMost {
				w.say("%s", clean(read.err.Error()))
			}
			continue
		}
		if err := do(tally.Of(names[i], read.call)); err != nil {
			return err
		}
	}
	if more := len(broken) - brokenMost; more > 0 {
		w.say("note: %d more cannot be read, stepdown calls show says why: %s", more, strings.Join(broken[brokenMost:], ", "))
	}
	if len(broken) > 0 {
		return ended(exitUndecided)
	}
	return nil
}

// brokenMost is how many of the calls that cannot be read are told of in full.
const brokenMost = 3

// loaded is a call as it was read, or why it was not.
type loaded struct {
	call journal.Call
	err  error
}

// Calls are read so many at a time, and so many lots before the first is taken.
const (
	lot   = 16
	ahead = 8
)

// inOrder reads calls on every processor and gives them in their order.
func (f folder) inOrder(names []string) iter.Seq2[int, loaded] {
	return func(yield func(int, loaded) bool) {
		slots := make([]chan []loaded, (len(names)+lot-1)/lot)
		for i := range slots {
			slots[i] = make(chan []loaded, 1)
		}
		var next atomic.Int64
		room, stop := make(chan struct{}, ahead), make(chan struct{})
		defer close(stop)
		for range runtime.GOMAXPROCS(0) {
			go func() {
				for {
					select {
					case room <- struct{}{}:
					case <-stop:
						return
					}
					i := int(next.Add(1)) - 1
					if i >= len(slots) {
						return
					}
					slots[i] <- f.load(names[i*lot : min(len(names), (i+1)*lot)])
				}
			}()
		}
		for i, slot := range slots {
			for k, read := range <-slot {
				if !yield(i*lot+k, read) {
					return
				}
			}
			<-room
		}
	}
}

func (f folder) load(names []string) []loaded {
	out := make([]loaded, len(names))
	for i, name := range names {
		out[i].call, out[i].err = journal.Load(f, name+callEnding)
	}
	return out
}

func newCallsShow(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "show [CALL]",
		Short: "Show a call in full, the latest where none is named",
		Args:  oneCall("calls show"),
		RunE: func(_ *cobra.Command, args []string) error {
			name, err := w.latest(args)
			if err != nil {
				return err
			}
			r, err := w.reportOf(library{}, name, report.Options{})
			if err != nil {
				return err
			}
			return r.Text(w.stdout)
		},
	}
}

// exported is one line of calls export: a call's whole journal.
type exported struct {
	Call    string          `json:"call"`
	Version string          `json:"version"`
	Trees   string          `json:"trees"`
	Events  json.RawMessage `json:"events"`
	End     *journal.End    `json:"end"`
	Closed  *journal.Closed `json:"closed"`
}

func newCallsExport(w world) *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "export [CALL ...]",
		Short: "Write calls as lines of JSON, all of them where none is named",
		RunE:  func(_ *cobra.Command, args []string) error { return w.exportCalls(args, out) },
	}
	cmd.Flags().StringVarP(&out, "output", "o", "", "write to this `file` instead of the screen")
	return cmd
}

func (w world) exportCalls(names []string, out string) error {
	dir, err := w.openFolder()
	if err != nil {
		return err
	}
	for i, name := range names {
		if names[i], err = dir.named(name); err != nil {
			return err
		}
	}
	if len(names) == 0 {
		if names, err = dir.calls(); err != nil {
			return err
		}
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
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
		events, err := json.Marshal(call.Events)
		if err != nil {
			return err
		}
		if err := enc.Encode(exported{name, call.Head.Version, call.Trees, events, call.End, call.Closed}); err != nil {
			return err
		}
	}
	if err := w.deliver(out, b.Bytes()); err != nil {
		return err
	}
	return broken
}

func newCallsForget(w world) *cobra.Command {
	return &cobra.Command{
		Use:   "forget CALL",
		Short: "Delete one call for good",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				return nil
			}
			return usage("stepdown calls lists them", "calls forget takes the name of one call")
		},
		RunE: func(_ *cobra.Command, args []string) error { return w.forget(args[0]) },
	}
}

// forget deletes a call, unless it is open elsewhere.
func (w world) forget(call string) error {
	dir, err := w.openFolder()
	if err != nil {
		return err
	}
	name, err := dir.named(call)
	if err != nil {
		return err
	}
	lock, err := dir.lock(name)
	if err != nil {
		return err
	}
	defer lock.free(true)
	if err := os.Remove(dir.path(name + callEnding)); err != nil {
		return err
	}
	if err := os.Remove(dir.path(name + callEnding + ".torn")); err != nil && !errors.Is(err, os.ErrNotExist) {
		return err
	}
	w.say("Call %s is forgotten.", name)
	return dir.Sync()
}

func newCallsStats(w world) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "stats",
		Short: "Count your calls: findings, readings, minutes, verdicts that held",
		Args:  noArgs,
		RunE: func(*cobra.Command, []string) error {
			var t tally.Tally
			broken := w.eachCall(func(c tally.Call) error { t.Add(c); return nil })
			unicode := !newScreen(w.stdin, w.stdout, w.env, "never", false).style.ASCII
			if err := w.print(asJSON, &t, func() string { return text(&t, unicode) }); err != nil {
				return err
			}
			return broken
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object")
	return cmd
}

func text(t *tally.Tally, unicode bool) string {
	var b strings.Builder
	_ = t.Text(&b, unicode) // a Builder takes everything
	return b.String()
}
