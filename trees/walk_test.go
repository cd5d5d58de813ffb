package trees_test

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// walker makes a call by itself: it follows a tree in a modelled house, with
// the planner between the steps, and answers every probe from the model.
type walker struct {
	lib   *tree.Library
	house *circuit.House
	fault house.Fault
	who   house.Audience
	facts house.Facts
	home  planner.State
	env   *tree.Env
	path  []string

	slip   circuit.Slip
	setup  func(house.Setup) house.Setup // how a slip bends the setup; nil for none
	unable string                        // the step this one cannot make
	wrong  string                        // the step that is answered wrongly …
	reply  int                           // … with which of the wrong answers
	steps  []*tree.Step                  // the steps that were made
}

// actionsMost bounds the planner's way to one step.
const actionsMost = 80

func (w *walker) walk(first *tree.Step) (house.Finding, error) {
	w.env = first.Tree.NewEnv()
	for step := first; ; {
		to, err := w.take(step)
		if err != nil {
			return "", fmt.Errorf("%s: %w", strings.Join(w.path, " > "), err)
		}
		switch to.Kind {
		case tree.ToFinding:
			w.path = append(w.path, to.String())
			return to.Finding, nil
		case tree.NoTarget:
			return house.Undecided, nil
		case tree.ToTree:
			w.env = to.Tree.NewEnv()
		}
		step = to.Next()
	}
}

// take makes one step, or takes its unable edge.
func (w *walker) take(s *tree.Step) (tree.Target, error) {
	w.path = append(w.path, s.ID)
	if s.Kind == tree.AskStep {
		to, _, err := s.Choose(w.known(s.Fact))
		return to, err
	}
	setup := s.Resolve(w.home.Setup).On(w.facts.Equipment)
	for _, p := range s.Probes() {
		p = p.On(w.facts.Equipment)
		if house.Reach(w.who, w.facts, p, setup) != house.NoCut {
			return s.Unable, nil
		}
	}
	if w.unable == s.String() || !w.prepare(planner.Goal{Setup: setup, Probe: s.Probes()[0].On(w.facts.Equipment)}) {
		return s.Unable, nil
	}
	w.steps = append(w.steps, s)
	if err := w.probe(s); err != nil {
		var refused *circuit.Refusal
		if errors.As(err, &refused) && (refused.Code == circuit.RefusedTerminal || refused.Code == circuit.RefusedLook) {
			return s.Unable, nil // it is not there; a person says so
		}
		return tree.Target{}, err
	}
	to, _, err := s.Decide(w.env)
	return to, err
}

func (w *walker) known(f house.Fact) string {
	switch f {
	case house.FactEquipment:
		return orUnknown(w.facts.Equipment.String())
	case house.FactBaseR:
		return orUnknown(w.facts.BaseR.String())
	case house.FactStatSupply:
		return orUnknown(w.facts.StatSupply.String())
	}
	return "unknown"
}

func orUnknown(id string) string {
	if id == "" {
		return "unknown"
	}
	return id
}

// prepare follows the planner; false where it refuses. A counted wait lets a
// compressor delay run out.
func (w *walker) prepare(g planner.Goal) bool {
	for range actionsMost {
		a := planner.Next(w.home, g, w.who, w.facts)
		switch a.Kind {
		case planner.Ready:
			return true
		case planner.Refuse:
			w.path = append(w.path, "(refused: "+a.Reason+")")
			return false
		}
		w.home = a.After
		if a.ID == planner.CountCall && w.fault == house.DelayRunning {
			w.fault = house.None
			if err := w.house.Become(house.None); err != nil {
				return false
			}
		}
		if err := w.house.Play(w.bent()); err != nil {
			w.path = append(w.path, "("+err.Error()+")")
			return false
		}
	}
	w.path = append(w.path, "(the planner does not arrive)")
	return false
}

// bent is the setup the house is truly in.
func (w *walker) bent() house.Setup {
	if w.setup == nil {
		return w.home.Setup
	}
	return w.setup(w.home.Setup)
}

func (w *walker) probe(s *tree.Step) error {
	if s.Kind == tree.LookStep {
		return w.look(s)
	}
	for i, p := range s.Probes() {
		p = p.On(w.facts.Equipment)
		r, err := w.house.ReadSlipped(w.bent(), p, w.slip)
		if err != nil {
			return err
		}
		if w.wrong == s.String() && i == w.reply/len(wrongValues) {
			r = quantity.Of(wrongValues[w.reply%len(wrongValues)])
		}
		if r.Value < 0 {
			r = quantity.Of(0) // a stray sign on DC, which nobody types
		}
		w.path[len(w.path)-1] += fmt.Sprintf(" %s=%s", s.Pairs[i].Name, quantity.Format(r, p.Quantity))
		if err := w.env.ReadPair(s, i, r); err != nil {
			return err
		}
		w.home = w.home.Read(p, r)
	}
	return nil
}

// wrongValues are what a wrong reading says: dead, dragged, full, out of all bounds.
var wrongValues = []float64{0, 8, 26.5, 900}

func (w *walker) look(s *tree.Step) error {
	a, err := w.house.Look(w.bent(), s.Look)
	if err != nil {
		return err
	}
	if w.wrong == s.String() {
		a = s.Look.Answers()[w.reply]
	}
	w.path[len(w.path)-1] += "=" + s.Look.AnswerID(a)
	return w.env.See(s, a)
}

// wrongReplies counts the wrong answers a step can be given.
func wrongReplies(s *tree.Step) int {
	if s.Kind == tree.LookStep {
		return len(s.Look.Answers())
	}
	return len(s.Pairs) * len(wrongValues)
}

// shows tells whether the house shows the tree's complaint once the symptom's
// setup is played.
func shows(t *testing.T, h *circuit.House, c *tree.Tree) bool {
	t.Helper()
	sym := c.Symptoms[0]
	setup := sym.Setup.Over(house.DefaultSetup())
	h.Reset()
	if err := h.Play(setup); err != nil {
		t.Fatal(err)
	}
	a, err := h.Look(setup, sym.Look)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range sym.Shows {
		if a == want {
			return true
		}
	}
	return false
}

func catalog(t *testing.T) *circuit.Catalog {
	t.Helper()
	files, err := fs.Sub(trees.FS, "equipment")
	if err != nil {
		t.Fatal(err)
	}
	cat, problems := circuit.Load(files)
	if len(problems) > 0 {
		t.Fatal(problems.Render(20))
	}
	return cat
}
