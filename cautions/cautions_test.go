package cautions_test

import (
	"strings"
	"testing"

	"stepdown/cautions"
	"stepdown/engine/caution"
)

func TestEmbeddedCautionsLoad(t *testing.T) {
	set, problems := caution.Load(cautions.FS)
	if len(problems) > 0 {
		t.Fatal(problems.Error())
	}
	for _, id := range []string{"lockout", "energised-work", "line-voltage", "control-power", "face-pull", "jumper",
		"fuse", "breaker", "capacitor", "refrigerant", "gas-smell", "carbon-monoxide", "smoke", "water", "shock"} {
		if _, ok := set.Get(id); !ok {
			t.Errorf("caution %s is missing", id)
		}
	}
}

// TestCautionsAreShort: a caution nobody reads protects nobody. Eight lines fit
// beside the question on the smallest screen.
func TestCautionsAreShort(t *testing.T) {
	set, _ := caution.Load(cautions.FS)
	const linesMax = 8
	for _, id := range set.IDs() {
		c, _ := set.Get(id)
		if len(c.Text) > linesMax {
			t.Errorf("%s has %d lines, the most is %d", id, len(c.Text), linesMax)
		}
	}
}

// TestRulesSaidInTheCautions holds the sentences that must not be lost in an
// edit: who may do it, and what stays forbidden.
func TestRulesSaidInTheCautions(t *testing.T) {
	set, _ := caution.Load(cautions.FS)
	for id, phrases := range map[string][]string{
		"lockout":        {"Off is not isolation", "every feed", "Lock each one", "try the controls", "Local codes"},
		"energised-work": {"qualified person", "One hand", "Local codes"},
		"line-voltage":   {"before and after", "single-pole contactor"},
		"control-power":  {"locked out", "24 volts", "over 50 volts, stop"},
		"jumper":         {"Never to C", "Never across a float"},
		"fuse":           {"never larger", "before a new one"},
		"breaker":        {"Reset it once", "leave it off"},
		"capacitor":      {"Never with a tool"},
		"refrigerant":    {"certified"},
	} {
		c, _ := set.Get(id)
		text := strings.Join(c.Text, "\n")
		for _, p := range phrases {
			if !strings.Contains(text, p) {
				t.Errorf("caution %s no longer says %q", id, p)
			}
		}
	}
}
