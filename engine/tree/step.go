package tree

import (
	"sync"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

// Tree is one complaint's decision tree.
type Tree struct {
	ID         house.Complaint
	Title      string
	Complaints []string  // as people say it
	Symptoms   []Symptom // empty for a tree that is entered from others only
	Fits       []house.Equipment
	First      *Step
	Steps      []*Step // in the order of the file
	Pos        source.Pos

	names []*Name // by slot
	words map[string]*Name
}

// Symptom is the look that shows the complaint, in the setup it is made in.
type Symptom struct {
	Setup house.Partial
	Look  house.Look // NoLook where only the setup is given
	Shows []house.Answer
}

// Kind is what a step asks for.
type Kind uint8

// A step is a look, a batch of readings at one place, or a house fact.
const (
	LookStep Kind = iota
	MeasureStep
	AskStep
)

func (k Kind) String() string { return [...]string{"look", "measure", "ask"}[k] }

// Pair is one named reading of a step: two ends, or the conductor a clamp
// goes around.
type Pair struct {
	Name       string // as the file writes it
	Red, Black house.Terminal
	Conductor  house.Conductor
}

// Step is one probe, or one question about the house, and where each outcome
// leads.
type Step struct {
	ID       string
	Tree     *Tree
	Pos      source.Pos
	Kind     Kind
	Look     house.Look        // LookStep
	Quantity quantity.Quantity // MeasureStep
	At       house.Place       // MeasureStep, and a look behind a cover
	Pairs    []Pair            // MeasureStep
	Fact     house.Fact        // AskStep
	Setup    house.Partial     // what differs from the symptom
	Why      string
	Because  string // why the step's ends may stay wider than they could be
	Branches []Branch
	OL       Target // ohms only
	Unable   Target // NoTarget where nobody can be unable

	slot  int // of the first pair, or of the look
	once  sync.Once
	table *table
}

// Branch is one outcome of a step. One of Answer, Choice and When is set, as
// the step is a look, an ask or a measurement. An ask that goes on whatever
// the answer has one branch with an empty Choice.
type Branch struct {
	Pos     source.Pos
	Answer  house.Answer
	Choice  string
	When    *Condition
	Then    Target
	Because string
}

// TargetKind is where an edge leads.
type TargetKind uint8

// NoTarget is the zero value: no such edge.
const (
	NoTarget TargetKind = iota
	ToStep
	ToTree
	ToFinding
)

// Target is where an edge leads: a step of the same tree, the first step of
// another tree, or a finding.
type Target struct {
	Kind    TargetKind
	Step    *Step
	Tree    *Tree
	Finding house.Finding
	Pos     source.Pos
}

// Next is the step a target leads to, nil for a finding or no target.
func (t Target) Next() *Step {
	switch t.Kind {
	case ToStep:
		return t.Step
	case ToTree:
		return t.Tree.First
	}
	return nil
}

func (t Target) String() string {
	switch t.Kind {
	case ToStep:
		return "step " + t.Step.ID
	case ToTree:
		return "tree " + t.Tree.ID.String()
	case ToFinding:
		return "finding " + string(t.Finding)
	}
	return "nowhere"
}

// String names a step over all trees: no-cooling/display.
func (s *Step) String() string { return s.Tree.ID.String() + "/" + s.ID }

// Probes are what the step asks for, one a pair; none for an ask.
func (s *Step) Probes() []house.Probe {
	switch s.Kind {
	case LookStep:
		return []house.Probe{house.LookAt(s.Look)}
	case MeasureStep:
		out := make([]house.Probe, len(s.Pairs))
		for i, p := range s.Pairs {
			out[i] = s.probe(p)
		}
		return out
	}
	return nil
}

func (s *Step) probe(p Pair) house.Probe {
	if s.Quantity == quantity.Current {
		return house.Clamp(p.Conductor)
	}
	return house.Measure(s.Quantity, p.Red, p.Black, s.At)
}

// Base is the setup the tree's steps start from: that of the symptom, of the
// first one where the tree has several.
func (t *Tree) Base() house.Partial {
	if len(t.Symptoms) == 0 {
		return house.Partial{}
	}
	return t.Symptoms[0].Setup
}

// Resolve is the whole setup the step's probe is made in, in a house that now
// stands at current: the step's keys over the symptom's over the default.
// Covers and the fuse stay as they are unless the step says otherwise, the
// cover of the probe's own place is open, and ohms are read with every feed
// locked out.
func (s *Step) Resolve(current house.Setup) house.Setup {
	out := house.DefaultSetup()
	out.Fuse, out.CoverIndoor, out.CoverOutdoor = current.Fuse, current.CoverIndoor, current.CoverOutdoor
	out = s.Setup.Over(s.Tree.Base().Over(out))
	switch s.At {
	case house.AtIndoor:
		out.CoverIndoor = true
	case house.AtOutdoor:
		out.CoverOutdoor = true
	}
	if s.Kind == MeasureStep && s.Quantity == quantity.Resistance {
		out.PowerIndoor, out.PowerOutdoor = house.LockedOut, house.LockedOut
	}
	return out
}
