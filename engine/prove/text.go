package prove

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// What is printed is bounded: the first of a long list tell what to mend, and a
// line fits a terminal.
const (
	problemsShown = 30
	untakenShown  = 10 // steps, where not everything was proven
	lineCells     = 80
)

// Failed reports whether anything is wrong.
func (r *Report) Failed() bool { return len(r.Problems) > 0 }

// WriteText writes the report for people. What is longest comes first, so that
// a terminal ends with what is wrong, what was gone over and how it came out.
func (r *Report) WriteText(to io.Writer) error {
	var b strings.Builder
	if r.whole() {
		r.matrix(&b)
	}
	b.WriteString(r.costText())
	r.untaken(&b)
	r.problems(&b)
	r.summary(&b)
	_, err := io.WriteString(to, b.String())
	return err
}

// whole reports whether every tree was proven.
func (r *Report) whole() bool { return len(r.Matrix) > 0 && r.Safety != nil }

func (r *Report) problems(b *strings.Builder) {
	calls := map[string]*Counterexample{}
	for i := range r.Calls {
		c := &r.Calls[i]
		calls[c.Problem.Pos.String()+c.Problem.Code+c.Problem.Message] = c
	}
	for i, p := range worstFirst(r.Problems) {
		if i == problemsShown {
			fmt.Fprintf(b, "and %d more\n\n", len(r.Problems)-i)
			break
		}
		b.WriteString(p.Render() + "\n")
		if c := calls[p.Pos.String()+p.Code+p.Message]; c != nil && len(c.Replay.Lines) > 0 {
			fmt.Fprintf(b, "    replay: printf '%%s\\n' %s | %s\n", quoted(c.Replay.Lines), c.Replay.Command)
		}
		b.WriteByte('\n')
	}
}

// worstFirst puts what can hurt somebody or their purse before the rest.
func worstFirst(ps source.Problems) source.Problems {
	out := append(source.Problems(nil), ps...)
	slices.SortStableFunc(out, func(a, b source.Problem) int { return severity(a) - severity(b) })
	return out
}

func severity(p source.Problem) int {
	switch p.Code {
	case unsafeStep.Code:
		return 0
	case thermostatCondemned.Code:
		return 1
	case faultMissed.Code, partBlamed.Code:
		return 2
	}
	return 3
}

// quoted writes lines as words of a shell.
func quoted(lines []string) string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = "'" + strings.ReplaceAll(l, "'", `'\''`) + "'"
	}
	return strings.Join(out, " ")
}

// summary says what was gone over, a few lines a proof, and how it came out.
func (r *Report) summary(b *strings.Builder) {
	line := func(name, format string, args ...any) {
		text := wrap(fmt.Sprintf(format, args...), lineCells-12)
		fmt.Fprintf(b, "%-12s%s\n", name, strings.ReplaceAll(text, "\n", "\n            "))
	}
	line("branches", "%s on %s steps of %s, gone through in %s cells", thousands(r.Branches.Branches), thousands(r.Steps), counted(r.Trees, "tree"),
		thousands(r.Branches.Cells))
	if s := r.Safety; s != nil {
		line("safety", "%d unsafe steps in %s house states and %s actions", len(s.Unsafe), thousands(s.States), thousands(s.Actions))
	}
	if t := r.Physics; t != nil {
		calls, _ := t.sums()
		line("calls", "%s as asked, and %s variants with something unable, misread or slipped, in %s houses", thousands(calls),
			thousands(t.Variants-calls), thousands(t.Houses))
		b.WriteByte('\n')
		r.ends(b, t)
	}
	b.WriteByte('\n')
	for _, f := range house.Faults() {
		if why := r.Hidden[f]; why != "" && r.whole() {
			line("hidden", "%s shows nothing: %s", f, why)
		}
	}
	if r.Failed() {
		line("result", "not proven, %s", counted(len(r.Problems), "problem"))
		return
	}
	if r.Corners > 0 {
		line("result", "proven at %d corners and every draw; without --corners, at every listed corner", r.Corners)
		return
	}
	line("result", "proven at every listed corner and draw")
}

// ends says where calls came to, a number a line.
func (r *Report) ends(b *strings.Builder, t *Tally) {
	row := func(n, format string, args ...any) {
		fmt.Fprintf(b, "%11s  %s\n", n, fmt.Sprintf(format, args...))
	}
	_, of := t.sums()
	row(thousands(t.Condemned), "good thermostats condemned")
	row(thousands(t.Missed), "faults missed: a call ended at a part that is good")
	row(thousands(t.Blamed), "good parts named in %s calls about nothing wrong", thousands(t.Quiet))
	row(thousands(of.best), "of %s calls ended at S, all that the probes can tell", thousands(of.shown))
	row(thousands(of.because), "ended above S with a because that holds (%.1f %%)", percent(of.because, of.shown))
	row(thousands(t.Wider), "ended above S without one")
	row(fmt.Sprintf("%.3f", float64(of.excess)/math.Max(1, float64(of.shown))), "mean set size over S")
	row(thousands(t.UnableRight), "calls with one thing unable ended at S, %s above", thousands(t.UnableWide))
	if !math.IsInf(t.MarginVolts, 1) {
		row(fmt.Sprintf("%.2f V", t.MarginVolts), "least margin from a reading to a limit it must not cross")
	}
	if r.Edges > 0 {
		row(thousands(r.Edges-r.EdgesTwice-r.untakenEdges()), "of %s edges taken by some call", thousands(r.Edges))
		row(thousands(r.EdgesTwice), "more taken where two things go wrong in one call")
		row(thousands(r.untakenEdges()), "taken by none (%.1f %%), as listed above", percent(r.untakenEdges(), r.Edges))
	}
}

// outcome sums are over the audiences.
type sums struct{ best, because, shown, excess int }

func (t *Tally) sums() (calls int, of sums) {
	for _, who := range house.Audiences() {
		calls += t.Calls[who]
		of.best += t.AtBest[who]
		of.because += t.Because[who]
		of.shown += t.Shown[who]
		of.excess += t.Excess[who]
	}
	return calls, of
}

// untaken lists the edges that no call takes, by why they stay: all of them
// where every tree was proven in every house, else the first.
func (r *Report) untaken(b *strings.Builder) {
	if len(r.Untaken) == 0 {
		return
	}
	b.WriteString("edges no simulated call takes, and why they stay\n")
	left := untakenShown
	if r.whole() {
		left = len(r.Untaken)
	}
	for _, why := range untakenWhys {
		first := true
		for _, u := range r.Untaken {
			if u.Why() != why || left == 0 {
				continue
			}
			if first {
				fmt.Fprintf(b, "  %s\n", why)
			}
			first = false
			left--
			text := wrap(u.String(), lineCells-6)
			b.WriteString("    " + strings.ReplaceAll(text, "\n", "\n      ") + "\n")
		}
	}
	if more := len(r.Untaken) - untakenShown; more > 0 && !r.whole() {
		fmt.Fprintf(b, "  and at %d more steps; --json lists them\n", more)
	}
	b.WriteByte('\n')
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return thousands(n) + " " + what + "s"
}

func percent(n, of int) float64 { return 100 * float64(n) / math.Max(1, float64(of)) }

// thousands writes a count with commas.
func thousands(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
