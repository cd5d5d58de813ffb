package prove

import (
	"fmt"
	"strings"
	"testing/fstest"

	"stepdown/engine/house"
)

// synthetic is findings.yaml with a text for every finding and limits.yaml, for
// trees made up by tests.
func synthetic() fstest.MapFS {
	var b strings.Builder
	b.WriteString("findings:\n")
	for _, f := range house.Findings() {
		verdict := "call-a-pro"
		tech := "repair"
		switch f {
		case "none":
			verdict, tech = "works", "works"
		case "delay-running", "stat-setting":
			verdict, tech = "setting", "setting"
		case house.Undecided:
			tech = "undecided"
		}
		fmt.Fprintf(&b, "  %s:\n    title: Finding %s\n    parts: [a part for %s]\n    skills: []\n    who: a technician\n    commonly: made up for tests\n", f, f, f)
		fmt.Fprintf(&b, "    verdict: {tech: %s, homeowner: %s, dispatcher: %s}\n", tech, verdict, verdict)
		b.WriteString("    tech: {is: a test, proof: a reading, repair: [do it], confirm: read again}\n")
		for _, who := range []string{"homeowner", "dispatcher"} {
			fmt.Fprintf(&b, "    %s: {is: a test, proof: a look, do: [call], tell: [what was seen], confirm: it works}\n", who)
		}
		b.WriteString("    leave: restored\n    cautions: []\n")
	}
	return fstest.MapFS{
		"findings.yaml": {Data: []byte(b.String())},
		"limits.yaml": {Data: []byte(`limits:
  control_min: {value: 20.4, unit: V, source: 85 % of 24 V, known: read}
  control_max: {value: 30, unit: V, source: Class 2 limit, known: copy}
  dead_max: {value: 1, unit: V, source: made up for tests, known: practice}
`)},
	}
}
