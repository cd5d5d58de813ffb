package prove

import (
	"runtime"
	"slices"
	"strings"
	"testing"

	"stepdown/engine/planner"
)

// The planner by every rule takes no unsafe step in any house state it can
// reach, and turns nothing down without a reason.
func TestPlannerIsSafe(t *testing.T) {
	spaces := Spaces(testing.Short())
	r := WalkPlanner(planner.Planner{}, spaces, runtime.NumCPU())
	t.Logf("%d spaces, %d states, %d actions: %d probes ready, %d goals refused", len(spaces), r.States, r.Actions, r.Ready, r.Refused)
	for _, u := range r.Unsafe {
		t.Error(u)
	}
	if r.Ready == 0 || r.Refused == 0 {
		t.Error("a walk that never gets anywhere proves nothing")
	}
}

// where names the part of the walk that meets each rule soonest; the rest
// shows in the walk over power.
var where = map[planner.Rule]string{
	planner.RuleLapseDead:       "two cabinets, covered base, tech, visits",
	planner.RuleLapseLine:       "two cabinets, covered base, tech, visits",
	planner.RuleLapseControl:    "two cabinets, covered base, tech, visits",
	planner.RuleLapseStrip:      "two cabinets, covered base, tech, visits",
	planner.RuleStripDead:       "two cabinets, covered base, tech, visits",
	planner.RulePreferLocked:    "two cabinets, covered base, tech, visits",
	planner.RuleLineCaution:     "two cabinets, covered base, tech, visits",
	planner.RuleControlCaution:  "two cabinets, covered base, tech, visits",
	planner.RuleDeadTouch:       "packaged, tech, fuses",
	planner.RuleControlOffTouch: "two cabinets, covered base, tech, lifts",
	planner.RuleFeedOffBase:     "packaged, tech, jumpers",
	planner.RuleFeedOffFace:     "packaged, homeowner, power",
	planner.RuleFaceCaution:     "packaged, homeowner, power",
	planner.RuleJumperCaution:   "packaged, tech, jumpers",
	planner.RuleFloat:           "packaged, tech, jumpers",
	planner.RuleJumperLetters:   "packaged, tech, jumpers",
	planner.RuleRest:            "packaged, tech, jumpers",
	planner.RuleCountCall:       "packaged, tech, jumpers",
	planner.RuleLapseCount:      "packaged, tech, jumpers",
	planner.RuleFuseCaution:     "packaged, tech, fuses",
	planner.RuleOneFuse:         "packaged, tech, fuses",
	planner.RuleResetCaution:    "packaged, tech, trips",
	planner.RuleOneReset:        "packaged, tech, trips",
	planner.RuleModelled:        "declined, tech, power",
	planner.RuleTechnician:      "packaged, homeowner, power",
	planner.RuleLapseCharge:     "packaged, tech, power",
	planner.RuleLapseEnergised:  "packaged, tech, power",
	planner.RuleLapseBase:       "packaged, tech, power",
	planner.RuleLapseRest:       "packaged, tech, jumpers",
	planner.RuleLeaveJumpers:    "packaged, tech, jumpers",
	planner.RuleLeaveLanded:     "packaged, tech, lifts",
	planner.RuleResumeFloat:     "packaged, tech, jumpers",
}

// Each rule left out is missed by the same walk: none is there for show, and
// the guard sees every one.
func TestEveryRuleIsNeeded(t *testing.T) {
	sequential(t)
	spaces := Spaces(false)
	for _, rule := range planner.Rules() {
		t.Run(rule.String(), func(t *testing.T) {
			t.Parallel()
			name := where[rule]
			if name == "" {
				name = "two cabinets, covered base, tech, power"
			}
			i := slices.IndexFunc(spaces, func(s Space) bool { return s.Name == name })
			if i < 0 {
				t.Fatalf("no space %q", name)
			}
			r := WalkPlanner(planner.Without(rule), spaces[i:i+1], 1)
			if len(r.Unsafe) == 0 {
				t.Fatalf("nobody notices: %d states, %d actions", r.States, r.Actions)
			}
			t.Logf("%s\n  after: %s", r.Unsafe[0].Why, strings.Join(r.Unsafe[0].Path, " "))
		})
	}
}
