package tally_test

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/tally"
)

var began = time.Date(2026, 7, 14, 15, 0, 0, 0, time.UTC)

// ended is a call of n minutes with so many readings.
func ended(finding, closed string, readings int, n float64) journal.Call {
	c := journal.Call{Head: journal.Head{Started: began}, End: &journal.End{Finding: finding}}
	c.Events = []session.Event{{Kind: session.Start, At: began, Open: &session.Opening{Audience: house.Tech, Complaint: "no \x1bcooling"}}}
	for i := range readings {
		c.Events = append(c.Events, session.Event{Kind: session.Values, Read: map[string]quantity.Reading{fmt.Sprint(i): quantity.Of(24), "cannot": {Missing: true}}})
	}
	c.Events = append(c.Events, session.Event{Kind: session.Answer, Reply: "lit", At: began.Add(time.Duration(n * float64(time.Minute)))})
	if closed != "" {
		c.Closed = &journal.Closed{Fault: closed}
	}
	return c
}

func Example() {
	var t tally.Tally
	for _, c := range []journal.Call{
		ended("fuse-blown", "fuse-blown", 4, 10),
		ended("fuse-blown", "", 6, 20),
		ended("stat-y-open", "open-y", 8, 30),
	} {
		t.Add(tally.Of("invented", c))
	}
	_ = t.Text(os.Stdout, false)
	// Output:
	// calls 3, of them open 0
	//
	// a call        least  quarter     half      3/4     most
	// readings          4        6        6        8        8
	// minutes        10.0     20.0     20.0     30.0     30.0
	//
	// found                    calls  readings  minutes
	// fuse-blown                   2       5.0     15.0  ########################
	// stat-y-open                  1       8.0     30.0  ############
	//
	// verdict                  calls confirmed  refuted not said
	// the thermostat               1         0        1        0
	// another part                 2         1        0        1
	//
	// Say what a call turned out to be with: stepdown calls close CALL FAULT
}

func TestOfIsSafeToShow(t *testing.T) {
	c := tally.Of("k", ended("fuse-blown", "", 3, 5))
	if strings.ContainsRune(c.Words, 0x1b) || c.Readings != 3 || c.Looks != 1 || c.Minutes != 5 || c.Audience != "tech" || c.Open {
		t.Errorf("%+v", c)
	}
	open := ended("", "", 0, 1)
	open.End = nil
	if c := tally.Of("k", open); !c.Open || c.Finding != "" {
		t.Errorf("%+v", c)
	}
}

// What a dispatcher types of the people and the house is not the complaint,
// unless nothing else was said.
func TestWordsAreTheComplaint(t *testing.T) {
	for want, said := range map[string][]string{
		"it does not cool":                 {"a baby in the house", "58 degrees", "it does not cool"},
		"old lady says it does not cool":   {"old lady says it does not cool"},
		"no heat":                          {"no heat", "nobody"},
		"no cold air, and there is a baby": {"no cold air, and there is a baby", "58 degrees"},
	} {
		c := journal.Call{Events: []session.Event{{Kind: session.Start, Open: &session.Opening{Audience: house.Dispatcher}}}}
		for _, words := range said {
			c.Events = append(c.Events, session.Event{Kind: session.Text, Reply: words})
		}
		if got := tally.Of("call", c).Words; got != want {
			t.Errorf("%q gives %q", said, got)
		}
	}
}

// A verdict is confirmed by any fault its finding names, refuted by any other,
// and a thermostat nobody condemned is counted as missed.
func TestVerdicts(t *testing.T) {
	for _, x := range []struct {
		finding, closed string
		right, known    bool
	}{
		{"transformer-failed", "transformer-secondary-open", true, true},
		{"outdoor-pair-open", "open-c-outdoor", true, true},
		{"open-y", "open-g", false, true},
		{"open-y", "", false, false},
		{"undecided", "open-y", false, false},
	} {
		right, known := tally.Of("k", ended(x.finding, x.closed, 0, 0)).Confirmed()
		if right != x.right || known != x.known {
			t.Errorf("%s closed as %s: right %v, known %v", x.finding, x.closed, right, known)
		}
	}
	var all tally.Tally
	all.Add(tally.Of("k", ended("open-y", "stat-y-open", 0, 0)))
	all.Add(tally.Of("k", ended("stat-y-open", "stat-y-open", 0, 0)))
	if all.Missed != 1 || all.Thermostats != (tally.Verdicts{Found: 1, Confirmed: 1}) || all.Others != (tally.Verdicts{Found: 1, Refuted: 1}) {
		t.Errorf("%+v", all)
	}
}
