package tree

import (
	"regexp"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

// Name is one word conditions may use: a reading, or a look by its answer's
// id. A reading goes by its own name. A look goes by its step's name and,
// where one step of the tree makes it, by the look's own.
type Name struct {
	ID   string // as conditions write it: hyphens have become _
	Step *Step
	Pair int // which pair of the step; -1 for a look

	slot int
}

// IsLook reports whether the name stands for a look's answer.
func (n *Name) IsLook() bool { return n.Pair < 0 }

// Quantity is what the name's number is of; 0 for a look.
func (n *Name) Quantity() quantity.Quantity {
	if n.IsLook() {
		return 0
	}
	return n.Step.Quantity
}

// Look is the look whose answer the name stands for; NoLook for a reading.
func (n *Name) Look() house.Look { return n.Step.Look }

// Names lists what conditions of the tree may use.
func (t *Tree) Names() []*Name { return append([]*Name(nil), t.names...) }

// Names are the step's own: one a pair, or its look.
func (s *Step) Names() []*Name {
	switch s.Kind {
	case LookStep:
		return s.Tree.names[s.slot : s.slot+1]
	case MeasureStep:
		return s.Tree.names[s.slot : s.slot+len(s.Pairs)]
	}
	return nil
}

// Uses lists the names the step's conditions compare, in slot order: its own
// and those read before.
func (s *Step) Uses() []*Name {
	used := make([]bool, len(s.Tree.names))
	for _, b := range s.Branches {
		if b.When == nil {
			continue
		}
		for _, n := range b.When.names {
			used[n.slot] = true
		}
	}
	var out []*Name
	for i, n := range s.Tree.names {
		if used[i] {
			out = append(out, n)
		}
	}
	return out
}

func expressionName(word string) string { return strings.ReplaceAll(word, "-", "_") }

var (
	nameForm = regexp.MustCompile(`^[a-z][a-z0-9]*([-_][a-z0-9]+)*$`)
	stepForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
)

// reserved are the words of the condition language.
var reserved = map[string]bool{"not": true, "and": true, "or": true, "in": true, "matches": true, "contains": true,
	"let": true, "if": true, "else": true, "nil": true, "true": true, "false": true}

// legalName reports a name of what (a reading, a limit) that conditions could
// not use.
func (l *loader) legalName(v *source.Value, what string) bool {
	switch {
	case !nameForm.MatchString(v.Text):
		v.Report(l.r, CodeName, "lower-case letters and digits, as in rc or r-to-c", "%q is no name for a %s", v.Text, what)
	case reserved[expressionName(v.Text)]:
		v.Report(l.r, CodeName, "choose another, such as "+v.Text+"1", "%q is a word of the condition language", v.Text)
	default:
		return true
	}
	return false
}

// nameAll numbers the readings and looks of a tree and reports names that
// stand for two things.
func (l *loader) nameAll(d *draft) {
	t := d.tree
	t.words = map[string]*Name{}
	made := map[house.Look][]*Name{}
	for _, s := range d.steps {
		s.step.slot = len(t.names)
		switch s.step.Kind {
		case LookStep:
			n := l.addName(t, &Name{ID: expressionName(s.step.ID), Step: s.step, Pair: -1}, s.key)
			made[s.step.Look] = append(made[s.step.Look], n)
		case MeasureStep:
			for i, p := range s.step.Pairs {
				l.addName(t, &Name{ID: expressionName(p.Name), Step: s.step, Pair: i}, s.pairKeys[i])
			}
		}
	}
	for look, names := range made {
		word := expressionName(look.String())
		if len(names) == 1 && t.words[word] == nil {
			t.words[word] = names[0]
		}
	}
}

func (l *loader) addName(t *Tree, n *Name, at *source.Value) *Name {
	n.slot = len(t.names)
	t.names = append(t.names, n)
	if first := t.words[n.ID]; first != nil {
		at.Report(l.r, CodeDuplicateName, "choose another name", "%q is already a name of step %q", n.ID, first.Step.ID)
		return n
	}
	if _, is := l.lib.Limits[n.ID]; is {
		at.Report(l.r, CodeDuplicateName, "choose another name", "%q is already a limit", n.ID)
		return n
	}
	t.words[n.ID] = n
	return n
}
