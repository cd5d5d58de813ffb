package prove

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/session"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// Prove runs every proof. Files are the trees' own, by the names problems give
// them, so that a problem can show its line.
func Prove(b *session.Book, f *forecast.Forecast, files map[string][]byte, o Options) (*Report, error) {
	to := source.NewReporter()
	for name, data := range files {
		to.AddFile(name, data)
	}
	r := &Report{Hidden: o.Hidden, Corners: o.Corners}
	r.proveBranches(b, to, o)
	if len(o.Complaints) == 0 {
		r.proveSafety(planner.Planner{}, Spaces(true), to, source.Pos{File: "planner"}, o.Workers)
		for _, c := range house.Complaints() {
			if b.Trees.Trees[c] == nil {
				r.Treeless = append(r.Treeless, c)
			}
		}
	}
	if err := r.proveCalls(b, f, to, o); err != nil {
		return nil, err
	}
	r.Problems = to.Problems()
	return r, nil
}

func (r *Report) proveBranches(b *session.Book, to *source.Reporter, o Options) {
	for _, t := range b.Trees.InOrder() {
		if !wanted(o.Complaints, t.ID) {
			continue
		}
		n := ProveBranches(t, to)
		r.Trees++
		r.Steps += len(t.Steps)
		r.Branches.Steps += n.Steps
		r.Branches.Branches += n.Branches
		r.Branches.Cells += n.Cells
	}
}

// proveCalls holds every call in every house, and lays the calls against the
// matrix, their cost and each other.
func (r *Report) proveCalls(b *session.Book, f *forecast.Forecast, to *source.Reporter, o Options) error {
	p := newPhysics(b, f, o)
	p.once = true
	t, err := p.run()
	if err != nil {
		return err
	}
	r.Physics = &t.Tally
	r.Matrix = p.proveForm(t, to)
	p.tooOften(t, to)
	if err := r.coverage(p, t); err != nil {
		return err
	}
	r.Cost = p.cost
	sortCost(r.Cost)
	p.counterexamples(r, t, to)
	return nil
}

// proveSafety walks a planner: safety does not depend on any tree. Pos is what
// stands for it in problems.
func (r *Report) proveSafety(p Plan, spaces []Space, to *source.Reporter, pos source.Pos, workers int) {
	got := WalkPlanner(p, spaces, workers)
	r.Safety = &got
	for _, u := range got.Unsafe {
		unsafeStep.report(to, pos, 1, "after: "+strings.Join(u.Path, ", "), "%s: %s", u.Space, u.Why)
	}
}

// tooOften reports an audience whose calls lean on a because more than one time
// in twenty, at the because they lean on most.
func (p *physics) tooOften(t *tally, to *source.Reporter) {
	const most = 20
	for _, who := range p.options.Audiences {
		if t.Because[who]*most <= t.shownCalls(who) {
			continue
		}
		var at source.Pos
		top := 0
		for k, n := range t.leaning {
			if k.who == who && (n > top || n == top && k.pos.Before(at)) {
				at, top = k.pos, n
			}
		}
		becauseTooOften.report(to, at, 1, "ask for the probe instead", "%d of %d calls of a %s end wider for a because, %d of them here",
			t.Because[who], t.shownCalls(who), who, top)
	}
}

// shownCalls are the calls as asked about something the house does show.
func (t *tally) shownCalls(who house.Audience) int { return t.Shown[who] }

// counterexamples reports what was missed, each kind once with its first call.
func (p *physics) counterexamples(r *Report, t *tally, to *source.Reporter) {
	var list []*miss
	for _, m := range t.misses {
		list = append(list, m)
	}
	slices.SortFunc(list, func(a, b *miss) int {
		switch {
		case a.pos != b.pos && a.pos.Before(b.pos):
			return -1
		case a.pos != b.pos:
			return 1
		}
		return max(-1, min(1, strings.Compare(a.rule.Code, b.rule.Code)*4+a.first.compare(b.first)))
	})
	for _, m := range list {
		before := to.Len()
		m.rule.report(to, m.pos, 1, p.hint(m), "%s", m.text())
		c := Counterexample{Code: m.rule.Code, Equipment: m.first.equipment, House: m.first.draw, Fault: m.first.fault,
			Complaint: m.first.complaint, Audience: m.first.who, Slip: m.slipText(), Finding: m.finding, Best: m.best.List(), Left: m.left.List(), Count: m.count, Faults: m.faults.List()}
		if replay, err := p.replay(m); err == nil {
			c.Replay = replay
		}
		if to.Len() > before {
			c.Problem = to.Last()
		}
		r.Calls = append(r.Calls, c)
	}
}

func (m *miss) slipText() string {
	switch s := m.end.side; {
	case s.kind == NoSlip, m.rule == thinMargin:
		return ""
	case s.fact != house.NoFact:
		return "unable to say " + s.fact.String()
	case s.kind == SlipUnable:
		return "unable at " + s.step.String()
	case s.kind == SlipWrong && s.step.Kind == tree.LookStep:
		return fmt.Sprintf("wrong answer %s at %s", s.step.Look.AnswerID(s.said.answer), s.step)
	case s.kind == SlipWrong:
		return fmt.Sprintf("wrong reading %s at %s", s.step.Pairs[s.pair].Name, s.step)
	default:
		return s.kind.String()
	}
}

// text says what went wrong in one line.
func (m *miss) text() string {
	where := fmt.Sprintf("%s on %s, %s, %s", m.first.fault, m.first.equipment, m.first.complaint, m.first.who)
	if slip := m.slipText(); slip != "" {
		where += ", " + slip
	}
	switch m.rule {
	case thermostatCondemned:
		return fmt.Sprintf("a good thermostat ends as %s: %s", m.finding, where)
	case faultMissed:
		return fmt.Sprintf("ends at %s: %s", m.finding, where)
	case partBlamed:
		return fmt.Sprintf("ends at %s on a house that does not show it: %s", m.finding, where)
	case thinMargin:
		return fmt.Sprintf("%s reads %.4g, too near to %.4g: %s", m.end.side.step.Pairs[m.end.side.pair].Name, m.end.side.truth, m.end.side.cut, where)
	case becauseUnproven:
		return fmt.Sprintf("the because names no probe that would narrow it: %s", where)
	}
	return fmt.Sprintf("stays open between %d, %d could be reached: %s", setSize(m.left), setSize(m.best), where)
}

func setSize(s house.FaultSet) int { return bits.OnesCount64(s[0]) + bits.OnesCount64(s[1]) }

func (p *physics) hint(m *miss) string {
	h := fmt.Sprintf("house %d of %s, base %s, meter %s", m.first.draw, m.first.equipment, m.first.caller.truth.Base, m.first.caller.truth.Meter)
	if m.first.caller.known.Equipment == house.NoEquipment {
		h += ", equipment not known"
	}
	if m.count > 1 {
		h += fmt.Sprintf("; %d calls like it", m.count)
	}
	if others := m.faults.Minus(house.FaultsOf(m.first.fault)); !others.Empty() {
		h += ", also on " + wordsOf(others)
	}
	if !m.left.Empty() {
		h += "; left " + wordsOf(m.left.Minus(m.best)) + " beside " + wordsOf(m.best)
	}
	return h
}

func wordsOf(s house.FaultSet) string {
	var out []string
	for _, f := range s.List() {
		out = append(out, f.String())
	}
	const most = 8
	if len(out) > most {
		out = append(out[:most], fmt.Sprintf("and %d more", len(out)-most))
	}
	return strings.Join(out, " ")
}
