package main

import (
	"errors"
	"fmt"
	"strings"

	"stepdown/engine/source"
)

// The exit codes.
const (
	exitDone       = 0
	exitUndecided  = 1   // a check failed, or the call stayed undecided
	exitUsage      = 2   // usage, or a bad file
	exitOpen       = 4   // the call is open elsewhere
	exitInterrupt  = 130 // by the keyboard
	exitTerminated = 143
)

// failure is an error with its exit code and, where there is one, a mend.
type failure struct {
	code    int
	message string
	hint    string
}

func (f *failure) Error() string { return f.message }

func usage(hint, format string, args ...any) error {
	return &failure{exitUsage, fmt.Sprintf(format, args...), hint}
}

// ended carries the exit code of a call that ran: nothing is left to say.
type ended int

func (e ended) Error() string { return fmt.Sprintf("exit %d", int(e)) }

// problemsMax is how many problems of one run are shown.
const problemsMax = 40

// report says what went wrong on stderr and gives the exit code.
func (w world) report(err error) int {
	var end ended
	var fail *failure
	var bad source.Problems
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &end):
		return int(end)
	case errors.As(err, &bad):
		w.say("%s", bad.Render(problemsMax))
		w.say("error: %s", count(len(bad.Sorted()), "problem"))
		return exitUsage
	case errors.As(err, &fail):
		w.say("error: %s", clean(fail.message))
		if fail.hint != "" {
			w.say("hint: %s", clean(fail.hint))
		}
		return fail.code
	}
	w.say("error: %s", clean(err.Error()))
	return exitUsage
}

// say writes a line on stderr. Nothing can be done where that fails.
func (w world) say(format string, args ...any) {
	_, _ = fmt.Fprintf(w.stderr, format+"\n", args...)
}

func clean(s string) string { return source.CleanText(strings.TrimSuffix(s, "\n")) }

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
