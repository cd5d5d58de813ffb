package main

import (
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/suspects"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// explainer weighs a call on the circuit model; it implements
// session.Explainer.
type explainer struct {
	engine *suspects.Engine
	trees  *tree.Library
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
	return suspects.New(forecast.New(catalog, forecast.Options{}), weights), weights, nil
}

// Explain implements session.Explainer. Where the model has no answer, nothing
// is explained.
func (x explainer) Explain(f house.Facts, c house.Complaint, seen []session.Seen) session.Explanation {
	list := make([]suspects.Seen, len(seen))
	for i, s := range seen {
		list[i] = suspects.Seen{Probe: s.Probe, Setup: s.Setup, Reading: s.Reading, Answer: s.Answer}
	}
	got, err := x.engine.Explain(caseOf(f, x.trees.Trees[c]), list)
	if err != nil {
		return session.Explanation{}
	}
	out := session.Explanation{RuledOut: got.RuledOut}
	for _, s := range got.Left {
		if s.With == house.NoFault {
			out.Left = append(out.Left, session.Suspect{Fault: s.Fault, Probability: s.Probability})
		}
	}
	return out
}

// lateExplainer makes its explainer when it is first asked, so that a call pays
// for the model only where it needs it.
type lateExplainer struct {
	book   *session.Book
	engine *suspects.Engine
	failed bool
}

// Explain implements session.Explainer.
func (x *lateExplainer) Explain(f house.Facts, c house.Complaint, seen []session.Seen) session.Explanation {
	if x.engine == nil && !x.failed {
		engine, _, err := newEngine()
		x.engine, x.failed = engine, err != nil
	}
	if x.failed {
		return session.Explanation{}
	}
	return explainer{x.engine, x.book.Trees}.Explain(f, c, seen)
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
