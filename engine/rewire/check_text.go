package rewire

import (
	"fmt"
	"slices"
	"strings"
)

// Text is the check for a screen of 80 columns.
func (k Checked) Text() string {
	var b strings.Builder
	switch {
	case k.State == Blocked:
		return k.Report.Text()
	case k.Good:
		fmt.Fprintln(&b, "THIS LANDING IS RIGHT")
	case k.State == Answer:
		fmt.Fprintln(&b, "THIS LANDING IS WRONG")
		bullets(&b, k.Wrong)
		if !slices.ContainsFunc(k.Effects, func(p Proof) bool { return !p.Good() }) {
			bullets(&b, []string{"No call tried here shows it. Mend it all the same: the next one may."})
		}
	default:
		fmt.Fprintln(&b, "NOT KNOWN YET: LEAVE THE POWER OFF")
		bullets(&b, k.Why)
	}
	for i, p := range k.Effects {
		fmt.Fprintln(&b)
		switch {
		case len(k.Effects) > 1:
			fmt.Fprintf(&b, "It may be so (%d). ", i+1)
		case k.State != Answer:
			fmt.Fprint(&b, "If the letters are right. ")
		}
		p.effects(&b)
	}
	if k.Good {
		k.edgeText(&b)
		fmt.Fprintln(&b, "\nIt is right where the new thermostat is set so:")
		k.settingText(&b)
	}
	if len(k.Blown) > 0 {
		fmt.Fprintln(&b, "\nIf it was powered like this, it may have blown:")
		bullets(&b, k.Blown)
	}
	if k.Question != nil {
		fmt.Fprintln(&b, "\nThis settles it:")
		k.askText(&b)
	}
	return b.String()
}

// effects tells each call in a line.
func (p Proof) effects(b *strings.Builder) {
	fmt.Fprintf(b, "In each mode, %s:\n", p.Equipment)
	for _, c := range p.Calls {
		runs := "nothing runs"
		if in := titles(c.In); in != "" {
			runs = in
		}
		line := fmt.Sprintf("%s: %s", c.Title, runs)
		if len(c.Wrong) == 0 {
			line += ". Right"
		} else {
			line += ". WRONG: " + strings.Join(c.Wrong, "; ")
		}
		fill(b, "  ", line+".")
	}
}
