package tally

import (
	"fmt"
	"io"
	"strings"
)

// barMost is the longest bar of the chart, in cells.
const barMost = 24

// shownMost is how many findings get a line of their own.
const shownMost = 20

// Text writes the counts as a table with a bar for each finding. The number
// stands beside its bar; without Unicode the bar is of # signs.
func (t *Tally) Text(w io.Writer, unicode bool) error {
	var b strings.Builder
	fmt.Fprintf(&b, "calls %d, of them open %d\n", t.Calls, t.Open)
	if len(t.readings) > 0 {
		fmt.Fprintf(&b, "\n%-10s %8s %8s %8s %8s %8s\n", "a call", "least", "quarter", "half", "3/4", "most")
		line(&b, "readings", t.Readings(), "%8.0f")
		line(&b, "minutes", t.Minutes(), "%8.1f")
		fmt.Fprintf(&b, "\n%-24s %5s %9s %8s\n", "found", "calls", "readings", "minutes")
	}
	most := 1
	for _, n := range t.Findings {
		most = max(most, n.Calls)
	}
	list := t.byCalls()
	for i, f := range list {
		if i == shownMost && len(list) > shownMost+1 {
			fmt.Fprintf(&b, "and %d more\n", len(list)-i)
			break
		}
		n := t.Findings[f]
		per := float64(n.Calls)
		fmt.Fprintf(&b, "%-24s %5d %9.1f %8.1f  %s\n", f, n.Calls, float64(n.Readings)/per, n.Minutes/per, bar(n.Calls, most, unicode))
	}
	t.verdicts(&b)
	_, err := io.WriteString(w, b.String())
	return err
}

func line(b *strings.Builder, name string, s Spread, as string) {
	fmt.Fprintf(b, "%-10s "+strings.TrimSpace(strings.Repeat(as+" ", 5))+"\n", name, s.Least, s.Quarter, s.Half, s.Most3, s.Most)
}

func bar(n, most int, unicode bool) string {
	mark := "#"
	if unicode {
		mark = "█"
	}
	return strings.Repeat(mark, max(1, n*barMost/most))
}

// verdicts says how often a verdict held, of those somebody closed.
func (t *Tally) verdicts(b *strings.Builder) {
	if t.Thermostats.Found+t.Others.Found+t.Missed == 0 {
		return
	}
	fmt.Fprintf(b, "\n%-24s %5s %9s %8s %8s\n", "verdict", "calls", "confirmed", "refuted", "not said")
	for _, v := range []struct {
		name string
		Verdicts
	}{{"the thermostat", t.Thermostats}, {"another part", t.Others}} {
		fmt.Fprintf(b, "%-24s %5d %9d %8d %8d\n", v.name, v.Found, v.Confirmed, v.Refuted, v.Unclosed)
	}
	if t.Missed > 0 {
		fmt.Fprintf(b, "thermostats that had failed and were not found: %d\n", t.Missed)
	}
	if t.Thermostats.Unclosed+t.Others.Unclosed > 0 {
		b.WriteString("\nSay what a call turned out to be with: stepdown calls close CALL FAULT\n")
	}
}
