package diagram

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/tree"
)

// Diagram is one tree laid out.
type Diagram struct {
	Tree  *tree.Tree
	Steps []Card // a step stands under every step that leads to it
}

// Card is one step: its number, what it asks, and its ways out.
type Card struct {
	Number int
	Step   *tree.Step
	Asks   []string // probes or the house fact, a line each
	Setup  string   // what differs from the symptom's, empty where nothing does
	Ways   []Way
}

// Way is one way out of a step. Number is the step it leads to, 0 where it
// leaves the tree; Target then says whither.
type Way struct {
	Label  string
	Number int
	Target string
	Kind   tree.TargetKind
}

// Of lays a tree out. Steps that nothing leads to are left out: the loader
// turns such a tree down.
func Of(t *tree.Tree) Diagram {
	d := Diagram{Tree: t}
	order := downwards(t)
	number := map[*tree.Step]int{}
	for i, s := range order {
		number[s] = i + 1
	}
	for _, s := range order {
		c := Card{Number: number[s], Step: s, Asks: asks(s), Setup: setup(s)}
		for _, e := range s.Edges() {
			c.Ways = append(c.Ways, Way{e.Label, number[inside(e.To)], e.To.String(), e.To.Kind})
		}
		d.Steps = append(d.Steps, c)
	}
	return d
}

// inside is the step of the same tree a target leads to, nil for any other.
func inside(t tree.Target) *tree.Step {
	if t.Kind != tree.ToStep {
		return nil
	}
	return t.Step
}

// downwards orders the steps so that every edge leads down: a step follows the
// last that leads to it, and stays near it.
func downwards(t *tree.Tree) []*tree.Step {
	var out []*tree.Step
	seen := map[*tree.Step]bool{}
	var visit func(s *tree.Step)
	visit = func(s *tree.Step) {
		if s == nil || seen[s] {
			return
		}
		seen[s] = true
		edges := s.Edges()
		for i := len(edges) - 1; i >= 0; i-- {
			visit(inside(edges[i].To))
		}
		out = append(out, s)
	}
	visit(t.First)
	for i, k := 0, len(out)-1; i < k; i, k = i+1, k-1 {
		out[i], out[k] = out[k], out[i]
	}
	return out
}

func asks(s *tree.Step) []string {
	var out []string
	switch s.Kind {
	case tree.AskStep:
		return []string{"ask " + s.Fact.String()}
	case tree.LookStep:
		return []string{house.LookAt(s.Look).String()}
	}
	for i, p := range s.Probes() {
		out = append(out, s.Pairs[i].Name+" = "+p.String())
	}
	return out
}

func setup(s *tree.Step) string { return partial(s.Setup) }

// partial is what a part of a setup says: mode=cool calling=yes.
func partial(p house.Partial) string {
	whole := p.Over(house.DefaultSetup())
	var out []string
	for _, k := range house.Keys() {
		if p.Says(k) {
			out = append(out, fmt.Sprintf("%s=%s", k, strings.Join(whole.Words(k), ",")))
		}
	}
	return strings.Join(out, " ")
}

// head is the tree in a few lines: its title, what it fits, how it shows.
func (d Diagram) head() []string {
	var fits []string
	for _, e := range d.Tree.Fits {
		fits = append(fits, e.String())
	}
	out := []string{"fits: " + strings.Join(fits, ", ")}
	for _, s := range d.Tree.Symptoms {
		at := partial(s.Setup)
		if at == "" {
			at = "at rest"
		}
		line := "shows: " + at
		if s.Look != house.NoLook {
			var words []string
			for _, a := range s.Shows {
				words = append(words, s.Look.AnswerID(a))
			}
			line += ", " + s.Look.String() + " " + strings.Join(words, " or ")
		}
		out = append(out, line)
	}
	return out
}
