package tree

import "stepdown/engine/house"

// fitsOf reports a jump to a tree that does not fit an equipment with which a
// call can come there. A caller who knows the equipment takes its own answer
// of an `ask: equipment`, and no outcome of a probe that it has not.
func (l *loader) fitsOf(d *draft) {
	if d.torn || d.tree.First == nil {
		return
	}
	missing := map[*Tree]house.Equipment{} // the first one that does not fit
	for _, e := range d.tree.Fits {
		for _, t := range d.tree.jumpsWith(e) {
			if missing[t] == house.NoEquipment && !contains(t.Fits, e) {
				missing[t] = e
			}
		}
	}
	for _, a := range d.arrows {
		if e := missing[a.into.Tree]; a.into.Kind == ToTree && e != house.NoEquipment {
			name := a.into.Tree.ID.String()
			l.under(a.text, name, CodeFits, "add "+e.String()+" to the fits of "+name, "the tree %s does not fit %s, which this one does", name, e)
			missing[a.into.Tree] = house.NoEquipment
		}
	}
}

// jumpsWith lists the trees that calls about t come to with equipment e.
func (t *Tree) jumpsWith(e house.Equipment) []*Tree {
	var out []*Tree
	seen := map[*Step]bool{t.First: true}
	for queue := []*Step{t.First}; len(queue) > 0; queue = queue[1:] {
		for _, to := range queue[0].targetsWith(e) {
			switch next := to.Next(); {
			case to.Kind == ToTree:
				out = append(out, to.Tree)
			case next != nil && !seen[next]:
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	return out
}

// targetsWith are the ends of the edges a call takes with equipment e.
func (s *Step) targetsWith(e house.Equipment) []Target {
	var out []Target
	able := s.askable(e)
	for _, b := range s.Branches {
		if able && (s.Kind != AskStep || s.Fact != house.FactEquipment || b.Choice == "" || b.Choice == e.String()) {
			out = append(out, b.Then)
		}
	}
	if able {
		out = append(out, s.OL)
	}
	return append(out, s.Unable)
}

// askable reports whether equipment e has what the step asks for.
func (s *Step) askable(e house.Equipment) bool {
	for _, p := range s.Probes() {
		p = p.On(e)
		switch {
		case p.IsLook():
			if !e.HasLook(p.Look) {
				return false
			}
		case p.Conductor.Terminal != house.NoTerminal:
			if !e.Has(p.Conductor.Terminal, p.At) {
				return false
			}
		case !e.Has(p.Red, p.At) || !e.Has(p.Black, p.At) || !e.SameWinding(p.Red, p.Black):
			return false
		}
	}
	return true
}
