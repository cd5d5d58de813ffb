package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"stepdown/engine/house"
	"stepdown/engine/suspects"
	"stepdown/engine/tally"
)

const learnLong = `Say how your own closed calls weigh in what is suspected first, or switch that
on or off. Nothing leaves this computer: what is counted is what calls close was
told. What a reading rules out never depends on it; only the order does, and
which probe comes first where the model leads.`

func newCallsLearn(w world) *cobra.Command {
	return &cobra.Command{
		Use:     "learn [on|off]",
		Short:   "Show what your closed calls change, or switch that on or off",
		Long:    learnLong,
		Example: "  stepdown calls learn\n  stepdown calls learn off",
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 || len(args) == 1 && (args[0] == "on" || args[0] == "off") {
				return nil
			}
			return usage("as in: stepdown calls learn off", "calls learn takes on or off, or nothing to show")
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 1 {
				if err := w.switchLearning(args[0] == "on"); err != nil {
					return err
				}
			}
			return w.showLearning()
		},
	}
}

// learnSwitch is the file that says off; without it learning is on.
const learnSwitch = "learn-off"

func (w world) learnSwitch() (string, error) {
	dir, err := w.stateFolder()
	return filepath.Join(dir, learnSwitch), err
}

func (w world) learns() bool {
	path, err := w.learnSwitch()
	if err != nil {
		return false
	}
	_, err = os.Stat(path)
	return errors.Is(err, fs.ErrNotExist)
}

func (w world) switchLearning(on bool) error {
	if _, err := w.openFolder(); err != nil { // makes the state folder too
		return err
	}
	path, err := w.learnSwitch()
	if err != nil {
		return err
	}
	if on {
		if err = os.Remove(path); errors.Is(err, fs.ErrNotExist) {
			err = nil
		}
		return err
	}
	return os.WriteFile(path, nil, 0o600)
}

// closed counts what the calls closed before a time turned out to be. A call
// that cannot be read counts for nothing; listing the calls names it.
func (w world) closed(before time.Time) map[house.Fault]int {
	out := map[house.Fault]int{}
	state, err := w.stateFolder()
	if err != nil {
		return out
	}
	dir := folder(filepath.Join(state, "calls"))
	names, err := dir.calls()
	if err != nil {
		return out
	}
	for _, read := range dir.inOrder(names) {
		if read.err != nil || read.call.Closed == nil || !read.call.Closed.At.Before(before) {
			continue
		}
		if f, err := house.ParseFault(read.call.Closed.Fault); err == nil {
			out[f]++
		}
	}
	return out
}

// learned are the weights for a call started at a time: the built-in ones, and
// what was closed before it. A call taken up again is so weighed as it was.
func (w world) learned(base suspects.Weights, started time.Time) suspects.Weights {
	if started.IsZero() || !w.learns() {
		return base
	}
	return base.Learned(w.closed(started))
}

func (w world) showLearning() error {
	_, base, err := newEngine()
	if err != nil {
		return err
	}
	if !w.learns() {
		_, err := io.WriteString(w.stdout, w.onScreen("Learning is off: every call starts from the built-in weights.\n"))
		return err
	}
	broken := w.eachCall(func(c tally.Call) error {
		if _, err := house.ParseFault(c.Closed); c.Closed != "" && err != nil {
			w.say("note: call %s is closed as %q, which is no fault known here: it counts for nothing until stepdown calls close says what it was", c.Name, c.Closed)
		}
		return nil
	})
	closed := w.closed(w.now())
	total := 0
	for _, n := range closed {
		total += n
	}
	var b strings.Builder
	fmt.Fprintf(&b, "Learning is on. Closed calls: %d; the built-in weights count as %g.\n", total, base.Strength)
	if total == 0 {
		fmt.Fprintf(&b, "Close a call with stepdown calls close, once the repair was seen to hold.\n")
	} else {
		fmt.Fprintf(&b, "\n%-28s %6s %9s %9s\n", "turned out to be", "calls", "built-in", "now")
	}
	now := base.Learned(closed)
	faults := slices.SortedFunc(maps.Keys(closed), func(a, b house.Fault) int {
		if closed[a] != closed[b] {
			return closed[b] - closed[a]
		}
		return strings.Compare(a.String(), b.String())
	})
	for _, f := range faults {
		fmt.Fprintf(&b, "%-28s %6d %7.1f %% %7.1f %%\n", f, closed[f], 100*base.Share(f), 100*now.Share(f))
	}
	if _, err := io.WriteString(w.stdout, w.onScreen(b.String())); err != nil {
		return err
	}
	return broken
}
