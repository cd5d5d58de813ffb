package main

import (
	"slices"
	"sync"
	"time"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/suspects"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// model is the circuit model with its weights, made when it is first asked;
// all calls of one process share what it has worked out.
type model struct {
	once    sync.Once
	engine  *suspects.Engine
	weights suspects.Weights
	err     error
}

// with is the model's engine with its weights changed.
func (m *model) with(change func(suspects.Weights) suspects.Weights) (*suspects.Engine, error) {
	m.once.Do(func() { m.engine, m.weights, m.err = newEngine() })
	if m.err != nil {
		return nil, m.err
	}
	return m.engine.With(change(m.weights)), nil
}

// newEngine is the engine of the built-in weights and equipment.
func newEngine() (*suspects.Engine, suspects.Weights, error) {
	weights, problems := suspects.LoadWeights(trees.FS, "weights.yaml")
	if err := problems.Err(); err != nil {
		return nil, weights, err
	}
	catalog, err := loadCatalog()
	if err != nil {
		return nil, weights, err
	}
	return suspects.New(forecast.New(catalog, forecast.Options{SlowFuse: forecast.SlowFuseUsual}), weights), weights, nil
}

// guide weighs one call on the circuit model; it implements session.Guide. It
// keeps what it was told, so that one more reading costs one reading. Where the
// model has no answer, nothing is explained.
type guide struct {
	make func() (*suspects.Engine, error) // once
	book *session.Book

	lock      sync.Mutex
	call      *suspects.Call // nil before the first, and where there is none
	facts     house.Facts
	complaint house.Complaint
	seen      []session.Seen
	doubt     *session.Doubt
}

// attach lets a book ask the model, with the weights of a call started at a
// time; the zero time takes the built-in ones.
func (w world) attach(b *session.Book, started time.Time) *guide {
	g := &guide{book: b}
	g.make = sync.OnceValues(func() (*suspects.Engine, error) {
		return w.model.with(func(base suspects.Weights) suspects.Weights { return w.learned(base, started) })
	})
	b.Explain, b.Guide = g, g
	return g
}

// told is the call as far as it has come; nil where the model has no answer.
func (g *guide) told(f house.Facts, c house.Complaint, seen []session.Seen) *suspects.Call {
	same := g.call != nil && f == g.facts && c == g.complaint && len(seen) >= len(g.seen) && slices.Equal(seen[:len(g.seen)], g.seen)
	if same && len(seen) == len(g.seen) {
		return g.call
	}
	if !same {
		engine, err := g.make()
		if err != nil {
			return nil
		}
		if g.call, err = engine.Open(caseOf(f, g.book.Trees.Trees[c])); err != nil {
			g.call = nil
			return nil
		}
		g.facts, g.complaint, g.seen, g.doubt = f, c, nil, nil
	}
	list := make([]suspects.Seen, 0, len(seen)-len(g.seen))
	for _, s := range seen[len(g.seen):] {
		list = append(list, suspects.Seen{Probe: s.Probe, Setup: s.Setup, Reading: s.Reading, Answer: s.Answer, Rested: s.Rested})
	}
	told, err := g.call.Observe(list...)
	if err != nil {
		g.call = nil
		return nil
	}
	g.seen, g.doubt = slices.Clone(seen), nil
	if d := told.Contradiction; d != nil {
		g.doubt = &session.Doubt{Slip: d.Slip.Text(d.Retake.Probe),
			Proposal: session.Proposal{Probe: d.Retake.Probe, Setup: d.Retake.Setup, Rested: d.Retake.Rested}}
	}
	return g.call
}

// Explain implements session.Explainer.
func (g *guide) Explain(f house.Facts, c house.Complaint, seen []session.Seen) session.Explanation {
	g.lock.Lock()
	defer g.lock.Unlock()
	call := g.told(f, c, seen)
	if call == nil {
		return session.Explanation{}
	}
	got := call.Explain()
	out := session.Explanation{RuledOut: got.RuledOut, Doubt: g.doubt, Left: make([]session.Suspect, 0, len(got.Left))}
	for _, s := range got.Left {
		if s.With == house.NoFault { // two at once are sought where somebody asks, and stand for that moment only
			out.Left = append(out.Left, session.Suspect{Fault: s.Fault, Probability: s.Probability})
		}
	}
	return out
}

// of is the call a query tells of.
func (g *guide) of(q session.Query) *suspects.Call { return g.told(q.Facts, q.Complaint, q.Seen) }

// Next implements session.Guide.
func (g *guide) Next(q session.Query, allowed func(session.Proposal) bool) (next session.Proposal, bits float64, ok bool) {
	g.lock.Lock()
	defer g.lock.Unlock()
	call := g.of(q)
	if call == nil {
		return next, 0, false
	}
	p, ok, err := call.Next(func(goal forecast.Goal) bool {
		return allowed(session.Proposal{Probe: goal.Probe, Setup: goal.Setup})
	}, q.At, q.Rested)
	return session.Proposal{Probe: p.Goal.Probe, Setup: p.Goal.Setup, Rested: p.Rested}, p.GainBits, ok && err == nil
}

// Settle implements session.Guide. After many readings in a row that ruled
// nothing out the model asks more and more of a probe; one that only names what
// would tell is held against those alone that ruled something out.
func (g *guide) Settle(q session.Query, allowed func(session.Proposal) bool) (session.Proposal, bool) {
	if p, _, ok := g.Next(q, allowed); ok {
		return p, true
	}
	g.lock.Lock()
	defer g.lock.Unlock()
	told := g.of(q)
	engine, err := g.make()
	if told == nil || err != nil {
		return session.Proposal{}, false
	}
	call, err := engine.Open(caseOf(q.Facts, g.book.Trees.Trees[q.Complaint]))
	for _, r := range told.Ruled() {
		if err == nil && len(r.Faults) > 0 {
			_, err = call.Observe(r.Seen)
		}
	}
	if err != nil {
		return session.Proposal{}, false
	}
	p, ok, err := call.Next(func(goal forecast.Goal) bool {
		made := slices.ContainsFunc(q.Seen, func(s session.Seen) bool {
			return s.Probe == goal.Probe && s.Probe.Comparable(s.Setup) == goal.Probe.Comparable(goal.Setup)
		})
		return !made && allowed(session.Proposal{Probe: goal.Probe, Setup: goal.Setup})
	}, q.At, q.Rested)
	return session.Proposal{Probe: p.Goal.Probe, Setup: p.Goal.Setup, Rested: p.Rested}, ok && err == nil
}

// Verdict implements session.Guide.
func (g *guide) Verdict(q session.Query) (faults []house.Fault, sure bool) {
	g.lock.Lock()
	defer g.lock.Unlock()
	call := g.of(q)
	if call == nil || twoAtOnce(call) != nil {
		return nil, false
	}
	v, err := call.Verdict()
	return v.Faults, err == nil && call.Left() > 0
}

// twoAtOnce looks for two faults where no single one explains what was seen.
func twoAtOnce(call *suspects.Call) error {
	if call.Left() > 0 {
		return nil
	}
	_, err := call.Pairs()
	return err
}

// Outcomes implements session.Guide.
func (g *guide) Outcomes(q session.Query, p session.Proposal) []session.Outcome {
	g.lock.Lock()
	defer g.lock.Unlock()
	call := g.of(q)
	if call == nil {
		return nil
	}
	splits, err := call.Splits(forecast.Goal{Setup: p.Setup, Probe: p.Probe}, p.Rested)
	if err != nil {
		return nil
	}
	out := make([]session.Outcome, len(splits))
	for i, s := range splits {
		out[i] = session.Outcome{Faults: s.Faults, Answer: s.Answer, Lo: s.Lo, Hi: s.Hi}
	}
	return out
}

// cardMost is how many probes a card for the next time lists.
const cardMost = 5

// Card implements session.Guide.
func (g *guide) Card(f house.Facts, c house.Complaint, at house.Setup, allowed func(session.Proposal) bool) []session.Proposal {
	g.lock.Lock()
	defer g.lock.Unlock()
	engine, err := g.make()
	if err != nil {
		return nil
	}
	goals, err := engine.Card(caseOf(f, g.book.Trees.Trees[c]), cardMost, func(goal forecast.Goal) bool {
		return allowed(session.Proposal{Probe: goal.Probe, Setup: goal.Setup})
	}, at)
	if err != nil {
		return nil
	}
	out := make([]session.Proposal, len(goals))
	for i, goal := range goals {
		out[i] = session.Proposal{Probe: goal.Probe, Setup: goal.Setup}
	}
	return out
}

// Account implements session.Guide.
func (g *guide) Account(q session.Query) session.Explanation {
	x := g.Explain(q.Facts, q.Complaint, q.Seen)
	g.lock.Lock()
	defer g.lock.Unlock()
	call := g.of(q)
	if call == nil {
		return x
	}
	if len(x.Left) == 0 && twoAtOnce(call) == nil {
		for _, s := range call.Explain().Left {
			x.Left = append(x.Left, session.Suspect{Fault: s.Fault, Probability: s.Probability, With: s.With})
		}
	}
	for i := range x.Left {
		for _, e := range call.Evidence(x.Left[i].Fault) {
			switch {
			case e.Bits >= tellingBits:
				x.Left[i].For = append(x.Left[i].For, seenOf(e.Seen))
			case e.Bits <= -tellingBits:
				x.Left[i].Against = append(x.Left[i].Against, seenOf(e.Seen))
			}
		}
	}
	for _, r := range call.Ruled() {
		x.Ruled = append(x.Ruled, session.Ruled{Seen: seenOf(r.Seen), Faults: r.Faults})
	}
	return x
}

// tellingBits is from where on a reading is said to speak for or against a
// suspect: it makes it half as likely again as the others.
const tellingBits = 0.585

func seenOf(s suspects.Seen) session.Seen {
	return session.Seen{Probe: s.Probe, Setup: s.Setup, Reading: s.Reading, Answer: s.Answer, Rested: s.Rested}
}

// ahead works out, while somebody reads a question, what the answer will be
// held against.
func (g *guide) ahead(s session.State) {
	f, c := s.Facts(), s.Complaint()
	if g.book.Trees == nil || g.book.Trees.Trees[c] == nil || f.Equipment == house.NoEquipment && !f.EquipmentAsked {
		return
	}
	seen, upcoming := s.Seen(), g.book.Upcoming(s)
	go g.prepare(f, c, seen, upcoming)
}

// prepare works the columns of some probes out for a call as it stood. It never
// takes the call back to where it stood: it may come late, and what is told over
// again, all at once, raises other doubts than what was told one by one.
func (g *guide) prepare(f house.Facts, c house.Complaint, seen []session.Seen, upcoming []session.Proposal) {
	g.lock.Lock()
	defer g.lock.Unlock()
	if g.call != nil && (f != g.facts || c != g.complaint || !slices.Equal(seen, g.seen)) {
		return
	}
	call := g.told(f, c, seen)
	if call == nil {
		return
	}
	goals := make([]forecast.Goal, len(upcoming))
	for i, p := range upcoming {
		goals[i] = forecast.Goal{Setup: p.Setup, Probe: p.Probe}
	}
	_ = call.Prepare(goals...) // whoever asks in earnest meets the same error
}

// caseOf is what a call about a tree's complaint starts from.
func caseOf(f house.Facts, t *tree.Tree) suspects.Case {
	c := suspects.Case{Facts: f}
	if t == nil {
		return c
	}
	for _, e := range t.Fits {
		if e.Handling() == house.Modelled {
			c.Equipment = append(c.Equipment, e)
		}
	}
	for _, s := range t.Symptoms {
		if s.Look != house.NoLook {
			c.Symptoms = append(c.Symptoms, suspects.Symptom{Setup: s.Setup.Over(house.DefaultSetup()), Look: s.Look, Shows: s.Shows})
		}
	}
	return c
}
