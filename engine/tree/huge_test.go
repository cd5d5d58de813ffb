package tree

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"stepdown/engine/source"
)

// huge writes a tree of about 1 MiB, the most a file may have.
func huge(step func(i int) string) string {
	var b strings.Builder
	b.WriteString("tree: dark-display\ntitle: Dark\ncomplaints: [dark]\nsymptom: {look: display, shows: [blank]}\nfits: [cool-gas, cool-electric, heat-only]\nfirst: s0\nsteps:\n")
	for i := 0; ; i++ {
		s := step(i)
		if b.Len()+len(s) > source.SizeMax {
			return b.String()
		}
		b.WriteString(s)
	}
}

// TestHuge gives files built to cost the most; each must come back, with
// problems or without.
func TestHuge(t *testing.T) {
	measure := func(i int, when, to string) string {
		return fmt.Sprintf("  s%d:\n    volts: {r%d: R-C}\n    at: indoor\n    why: x\n    branches: [{when: %s, then: %s}]\n    unable: finding undecided\n", i, i, when, to)
	}
	for name, step := range map[string]func(int) string{
		"a chain": func(i int) string {
			return measure(i, fmt.Sprintf("r%d < control_min", i), fmt.Sprintf("step s%d", i+1))
		},
		"cycles": func(i int) string {
			return measure(i, fmt.Sprintf("r%d < control_min", i), fmt.Sprintf("step s%d", max(0, i-1)))
		},
		"missing steps": func(i int) string {
			return measure(i, fmt.Sprintf("r%d < control_min", i), fmt.Sprintf("step t%d", i))
		},
		"unknown names": func(i int) string {
			return measure(i, fmt.Sprintf("q%d < control_min", i), fmt.Sprintf("step s%d", i+1))
		},
		"names not read": func(i int) string {
			return measure(i, fmt.Sprintf("r%d < control_min", i+1), fmt.Sprintf("step s%d", i+1))
		},
		"long conditions": func(i int) string {
			when := strings.Repeat(fmt.Sprintf("r%d < control_min or ", i), 40) + "true"
			return measure(i, when, fmt.Sprintf("step s%d", i+1))
		},
	} {
		t.Run(name, func(t *testing.T) {
			lib, problems := Load(os.DirFS("testdata/base"), with("dark-display.yaml", huge(step)))
			if lib != nil || len(problems) == 0 {
				t.Error("a tree with a missing step passes")
			}
		})
	}
}
