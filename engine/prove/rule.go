package prove

import (
	"fmt"
	"strings"

	"stepdown/engine/paragraph"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// Proof is one of the things that are proven.
type Proof string

// The proofs, in the order they run.
const (
	Form     Proof = "form"
	Branches Proof = "branches"
	Safety   Proof = "safety"
	Physics  Proof = "physics"
	Cost     Proof = "cost"
)

// Rule is one thing every tree must hold to: its code, what it is, why, and an
// example that breaks it beside one that does not.
type Rule struct {
	Code  string
	Proof Proof
	Title string // in one line
	Why   string
	Bad   string // a piece of a tree
	Good  string
}

// rules is every rule, each kept in a file of its own.
var rules = []*Rule{
	faultNeverFound, faultShowsNothing, complaintShowsNothing,
	branchGap, branchOverlap, branchNever,
	unsafeStep,
	thermostatCondemned, faultMissed, partBlamed, widerThanNeeded, becauseUnproven, becauseTooOften, thinMargin,
}

// Rules lists every rule of the prover.
func Rules() []*Rule { return append([]*Rule(nil), rules...) }

// Explain is what stands behind a code: a rule of the prover in full, or in one
// line a rule that is checked while trees are read. False where no rule has
// the code.
func Explain(code string) (string, bool) {
	for _, r := range rules {
		if r.Code == code {
			return r.text(), true
		}
	}
	for _, c := range tree.Codes() {
		if c.ID == code {
			return fmt.Sprintf("%s: %s\n\nChecked while the trees are read, before any proof.\n", c.ID, c.Title), true
		}
	}
	return "", false
}

// Codes lists every code that Explain knows.
func Codes() []string {
	var out []string
	for _, r := range rules {
		out = append(out, r.Code)
	}
	for _, c := range tree.Codes() {
		out = append(out, c.ID)
	}
	return out
}

func (r *Rule) text() string {
	return fmt.Sprintf("%s\n\nProof: %s\n\nWhy\n%s\n\nBad\n%s\n\nGood\n%s\n",
		wrap(r.Code+": "+r.Title, lineCells), r.Proof, indent(wrap(r.Why, 72)), indent(r.Bad), indent(r.Good))
}

// indent puts each line two spaces in.
func indent(text string) string {
	lines := strings.Split(strings.Trim(text, "\n"), "\n")
	return "  " + strings.Join(lines, "\n  ")
}

// report adds a problem under a rule.
func (r *Rule) report(to *source.Reporter, pos source.Pos, width int, hint, format string, args ...any) {
	to.AddSpan(pos, width, r.Code, hint, format, args...)
}

// wrap breaks text into lines of at most width cells.
func wrap(text string, width int) string {
	return strings.Join(paragraph.Lines(text, "", "", width), "\n")
}
