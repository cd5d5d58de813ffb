package prove

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// problemsShown and linesShown bound what is printed: the first of a long list
// tell what to mend.
const (
	problemsShown = 30
	untakenShown  = 10
)

// Failed reports whether anything is wrong.
func (r *Report) Failed() bool { return len(r.Problems) > 0 }

// WriteText writes the report for people: what is wrong, then what was gone
// over.
func (r *Report) WriteText(to io.Writer) error {
	var b strings.Builder
	r.problems(&b)
	r.summary(&b)
	if len(r.Matrix) > 0 && r.Safety != nil {
		r.matrix(&b)
	}
	_, err := io.WriteString(to, b.String())
	return err
}

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

// withoutTrees lists the equipment that no tree walked fits.
func (r *Report) withoutTrees() []string {
	var out []string
	for _, e := range house.Equipments() {
		has := slices.ContainsFunc(r.Matrix, func(m MatrixRow) bool { return m.Equipment == e && len(m.Complaints) > 0 })
		if !has {
			out = append(out, e.String())
		}
	}
	return out
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

func (r *Report) summary(b *strings.Builder) {
	row := func(name, format string, args ...any) {
		fmt.Fprintf(b, "%-34s %s\n", name, fmt.Sprintf(format, args...))
	}
	row("trees", "%d, %d steps", r.Trees, r.Steps)
	if without := r.withoutTrees(); len(without) > 0 && r.Safety != nil {
		row("equipment without a tree", "%s", strings.Join(without, " "))
	}
	row("branches", "%d, in %s cells", r.Branches.Branches, thousands(r.Branches.Cells))
	if s := r.Safety; s != nil {
		row("house states walked", "%s, %s actions", thousands(s.States), thousands(s.Actions))
		row("unsafe steps", "%d", len(s.Unsafe))
	}
	if t := r.Physics; t != nil {
		r.calls(row, t)
	}
	if r.Edges > 0 {
		row("edges taken by some call", "%d of %d", r.Edges-len(r.Untaken), r.Edges)
		for i, u := range r.Untaken {
			if i == untakenShown {
				row("", "  and %d more", len(r.Untaken)-i)
				break
			}
			row("", "  never: %s", u)
		}
	}
	b.WriteString(r.costText())
	if r.Failed() {
		row("problems", "%d", len(r.Problems))
		return
	}
	row("result", "proven at every listed corner and draw")
}

func (r *Report) calls(row func(string, string, ...any), t *Tally) {
	calls, best, because, shown, excess := 0, 0, 0, 0, 0
	for _, who := range house.Audiences() {
		calls += t.Calls[who]
		best += t.AtBest[who]
		because += t.Because[who]
		shown += t.Shown[who]
		excess += t.Excess[who]
	}
	row("houses", "%s", thousands(t.Houses))
	row("calls and variants simulated", "%s and %s", thousands(calls), thousands(t.Variants-calls))
	row("good thermostats condemned", "%d", t.Condemned)
	row("good parts named, nothing wrong", "%d of %s calls", t.Blamed, thousands(t.Quiet))
	row("faults ended at S", "%s of %s calls", thousands(best), thousands(shown))
	row("  above S, with a because", "%s (%.1f %%)", thousands(because), percent(because, shown))
	row("  above S, without", "%s", thousands(t.Wider))
	row("  missed", "%s", thousands(t.Missed))
	row("mean set size over S", "%.3f", float64(excess)/math.Max(1, float64(shown)))
	row("unable once: at S, wider", "%s, %s", thousands(t.UnableRight), thousands(t.UnableWide))
	if !math.IsInf(t.MarginVolts, 1) {
		row("least margin", "%.2f V", t.MarginVolts)
	}
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

// matrix writes which complaints each fault shows: the number of complaints by
// fault and equipment, then the number of faults by complaint and equipment.
func (r *Report) matrix(b *strings.Builder) {
	var equipment []house.Equipment
	faults := map[house.Fault]map[house.Equipment]int{}
	complaints := map[house.Complaint]map[house.Equipment]int{}
	for _, row := range r.Matrix {
		if len(equipment) == 0 || equipment[len(equipment)-1] != row.Equipment {
			equipment = append(equipment, row.Equipment)
		}
		put(faults, row.Fault, row.Equipment, len(row.Complaints))
		for _, c := range row.Complaints {
			put(complaints, c, row.Equipment, 1)
		}
	}
	b.WriteString("\ncomplaints that each fault shows, by equipment\n")
	heads(b, equipment)
	for _, f := range house.Faults() {
		if row, ok := faults[f]; ok && f != house.None {
			counts(b, f.String(), row, equipment)
		}
	}
	b.WriteString("\nfaults that show each complaint, by equipment\n")
	heads(b, equipment)
	for _, c := range house.Complaints() {
		if row, ok := complaints[c]; ok {
			counts(b, c.String(), row, equipment)
		}
	}
}

func put[K comparable](m map[K]map[house.Equipment]int, k K, e house.Equipment, n int) {
	if m[k] == nil {
		m[k] = map[house.Equipment]int{}
	}
	m[k][e] += n
}

func heads(b *strings.Builder, equipment []house.Equipment) {
	for i, e := range equipment {
		fmt.Fprintf(b, "  %c = %s", 'a'+i, e)
		if i%4 == 3 {
			b.WriteByte('\n')
		}
	}
	fmt.Fprintf(b, "\n%-28s", "")
	for i := range equipment {
		fmt.Fprintf(b, "%4c", 'a'+i)
	}
	b.WriteByte('\n')
}

func counts(b *strings.Builder, name string, row map[house.Equipment]int, equipment []house.Equipment) {
	fmt.Fprintf(b, "%-28s", name)
	for _, e := range equipment {
		if n, ok := row[e]; ok {
			fmt.Fprintf(b, "%4d", n)
		} else {
			b.WriteString("   .")
		}
	}
	b.WriteByte('\n')
}

// WriteJSON writes the report as one JSON object.
func (r *Report) WriteJSON(to io.Writer) error {
	type problem struct {
		File    string `json:"file"`
		Line    int    `json:"line"`
		Col     int    `json:"col"`
		Code    string `json:"code"`
		Message string `json:"message"`
		Hint    string `json:"hint,omitempty"`
	}
	out := struct {
		Proven   bool             `json:"proven"`
		Problems []problem        `json:"problems"`
		Trees    int              `json:"trees"`
		Steps    int              `json:"steps"`
		Branches BranchCount      `json:"branches"`
		Safety   map[string]int   `json:"safety,omitempty"`
		Physics  *Tally           `json:"physics,omitempty"`
		Cost     []CostRow        `json:"cost"`
		Matrix   []MatrixRow      `json:"matrix"`
		Untaken  []string         `json:"untaken"`
		Calls    []Counterexample `json:"counterexamples"`
	}{Proven: !r.Failed(), Problems: []problem{}, Trees: r.Trees, Steps: r.Steps, Branches: r.Branches, Physics: r.Physics,
		Cost: r.Cost, Matrix: r.Matrix, Untaken: r.Untaken, Calls: r.Calls}
	for _, p := range r.Problems {
		out.Problems = append(out.Problems, problem{p.Pos.File, p.Pos.Line, p.Pos.Col, p.Code, p.Message, p.Hint})
	}
	if s := r.Safety; s != nil {
		out.Safety = map[string]int{"states": s.States, "actions": s.Actions, "unsafe": len(s.Unsafe)}
	}
	enc := json.NewEncoder(to)
	enc.SetEscapeHTML(false)
	return enc.Encode(out)
}
