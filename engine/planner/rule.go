package planner

import "math/bits"

// Rule is one thing the planner sees to. Rules are told apart so that a proof
// can leave one out and show that it is missed.
type Rule uint64

// The rules. Before a cover comes off:
const (
	RuleLockoutCaution Rule = 1 << iota // the lockout caution is acknowledged first
	RuleThermostatOff                   // nothing is called when a feed is locked
	RuleLock                            // every feed of the cabinet is off, locked and tagged
	RuleTryControls                     // the controls are tried, nothing starts
	RuleProveDead                       // live-dead-live at the incoming line
	RuleDischarge                       // capacitors are discharged before any touch
	RuleNotDead                         // what cannot be proven dead ends the work

	// Where hands or leads go in.
	RuleDeadTouch        // jumpers, lifts and fuses indoors: cabinet dead
	RuleControlOffTouch  // lifts outdoors: the indoor feed is locked out as well
	RuleStripDead        // … and the strip is proven dead
	RuleFeedOffBase      // jumpers and lifts at the wall base: indoor feed off
	RuleFeedOffFace      // a homeowner moves the face with the breaker off
	RuleStatKind         // nobody touches a thermostat of unknown kind
	RuleFaceCaution      // a homeowner is cautioned before the face comes off
	RuleJumperCaution    // a jumper is cautioned about before it goes in
	RuleFloat            // no indoor jumper past a float switch not shown closed
	RuleJumperLetters    // R is joined only to letters that call a load
	RuleRest             // five counted minutes before a jumper runs a compressor
	RuleFuseCaution      // a fuse is cautioned about before it is fitted
	RuleOneFuse          // never a second new fuse
	RuleResetCaution     // a breaker is cautioned about before it is reset
	RuleOneReset         // … once at most
	RuleModelled         // nothing is metered on equipment that is declined
	RuleTechnician       // covers, lockout, jumpers, lifts: technicians only
	RuleQuietDisconnect  // the disconnect is never pulled or closed on a call
	RuleOhmsLocked       // ohms with every feed locked out
	RuleBaseDead         // ohms at the wall base: proven dead there
	RuleEnergisedCaution // live work is acknowledged once a visit
	RuleLineCaution      // each batch at line voltage has its own caution
	RuleControlCaution   // 24 V left at the outdoor strip is cautioned about
	RulePreferLocked     // control readings outdoors: disconnect locked out
	RuleCountCall        // after a compressor jumper a call is read only once it ran five counted minutes
	RuleCloseFirst       // a cover nobody works behind is closed before power
	RuleCloseLocked      // a cover is closed only with its cabinet locked out

	// What lapses.
	RuleLapseLockout   // the lockout's acknowledgement, once power is back
	RuleLapseTried     // the trying, once power is back
	RuleLapseDead      // proven dead, once power is back
	RuleLapseCharge    // the discharge, once power is back
	RuleLapseCover     // proven dead, once the cover was closed
	RuleLapseEnergised // the energised-work acknowledgement, with the visit
	RuleLapseLine      // the line-voltage caution, with the batch
	RuleLapseControl   // the control-power caution, with the visit
	RuleLapseStrip     // the strip's proof, once the indoor feed is back
	RuleLapseBase      // the wall base's proof, once the indoor feed is back
	RuleLapseCount     // the call's counted minutes, once it was interrupted
	RuleLapseRest      // the counted minutes, once the compressor may run
	RuleResumePower    // after a pause power is unknown
	RuleResumeAsked    // … every acknowledgement has lapsed
	RuleResumeFloat    // … and the float switch may have opened

	// How a house is left.
	RuleLeaveJumpers // jumpers out
	RuleLeaveLanded  // conductors landed
	RuleLeaveClosed  // covers closed
	RuleLeavePower   // power restored
	RuleLeaveCall    // the original call repeated
	RuleLeaveLocked  // or left off and locked
	RuleLeaveStop    // line voltage on control: power off, nothing touched
	RuleMakeSafe     // no open cabinet is left live or unproven
	ruleEnd
)

var ruleNames = [...]string{
	"lockout-caution", "thermostat-off", "lock", "try-controls", "prove-dead", "discharge", "not-dead-stops",
	"dead-before-touch", "control-off-before-touch", "strip-dead", "feed-off-for-base", "feed-off-for-face",
	"stat-kind", "face-caution", "jumper-caution", "float-closed", "jumper-letters", "five-minutes", "fuse-caution",
	"one-fuse", "reset-caution", "one-reset", "modelled-only", "technician-only", "quiet-disconnect", "ohms-locked-out", "base-dead",
	"energised-caution", "line-caution", "control-caution", "prefer-locked", "count-call", "close-before-power", "close-locked-out",
	"lapse-lockout", "lapse-tried", "lapse-dead", "lapse-discharge", "lapse-dead-on-close", "lapse-energised",
	"lapse-line", "lapse-control", "lapse-strip", "lapse-base", "lapse-count", "lapse-rest",
	"resume-power", "resume-acknowledgements", "resume-float",
	"leave-jumpers", "leave-landed", "leave-closed", "leave-power", "leave-call", "leave-locked", "leave-stop", "make-safe",
}

// Rules lists every rule.
func Rules() []Rule {
	var out []Rule
	for r := Rule(1); r < ruleEnd; r <<= 1 {
		out = append(out, r)
	}
	return out
}

func (r Rule) String() string {
	if i := bits.TrailingZeros64(uint64(r)); bits.OnesCount64(uint64(r)) == 1 && i < len(ruleNames) {
		return ruleNames[i]
	}
	return "rules"
}

// Planner plans by every rule but those left out. The zero Planner leaves none
// out; the package's functions use it.
type Planner struct{ out Rule }

// Without is the planner that has forgotten r. It is unsafe by intent: proofs
// show that each rule's absence is noticed.
func Without(r Rule) Planner { return Planner{out: r} }

// has reports whether rule r is in force.
func (p Planner) has(r Rule) bool { return p.out&r == 0 }
