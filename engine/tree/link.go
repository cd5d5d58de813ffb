package tree

import (
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// link resolves what one part of a tree says of another, in an order in which
// each check can trust the ones before it.
func (l *loader) link() {
	var all []*draft
	for _, c := range house.Complaints() {
		if d := l.drafts[c]; d != nil {
			all = append(all, d)
		}
	}
	for _, d := range all {
		l.nameAll(d)
		for _, a := range d.arrows {
			l.resolve(d, a)
			d.torn = d.torn || a.into.Kind == NoTarget
		}
		l.resolveFirst(d)
	}
	sound := l.cycles(all)
	for _, d := range all {
		read := everything(d.tree)
		if sound {
			l.unreached(d)
			read = d.tree.readBefore()
		}
		for _, s := range d.steps {
			l.compileAll(d, s, read)
			l.needUnable(s)
		}
		l.fitsOf(d)
	}
}

func (l *loader) resolveFirst(d *draft) {
	if d.first == nil || d.first.Text == "" {
		return
	}
	if s := d.find(d.first.Text); s != nil {
		d.tree.First = s
		return
	}
	d.first.Report(l.r, CodeNoStep, l.nearStep(d, d.first.Text), "no step is called %q", d.first.Text)
}

func (d *draft) find(id string) *Step { return d.byName[id] }

func (d *draft) stepNames() []string {
	out := make([]string, len(d.tree.Steps))
	for i, s := range d.tree.Steps {
		out[i] = s.ID
	}
	return out
}

// hintsMax bounds the problems that get a hint searched for: in a hostile file
// every line is one.
const hintsMax = 200

func (l *loader) nearStep(d *draft, name string) string {
	if l.r.Len() > hintsMax {
		return ""
	}
	return didYouMean(name, d.stepNames())
}

// resolve turns `step X`, `tree X` or `finding X` into a target.
func (l *loader) resolve(d *draft, a arrow) {
	text := a.text.String(l.r)
	if text == "" {
		return
	}
	kind, name, ok := strings.Cut(text, " ")
	if !ok || name == "" || strings.ContainsAny(name, " \t") {
		hint := "write step X, tree X or finding X"
		if d.find(text) != nil {
			hint = "write step " + text
		}
		a.text.Report(l.r, CodeTarget, hint, "%q is no target", text)
		return
	}
	a.into.Pos = a.text.Pos
	switch kind {
	case "step":
		l.toStep(d, a, name)
	case "tree":
		l.toTree(d, a, name)
	case "finding":
		l.toFinding(a, name)
	default:
		a.text.Report(l.r, CodeTarget, didYouMean(kind, []string{"step", "tree", "finding"}), "%q is no target", text)
	}
}

// under reports a problem with the caret under the last word of a target.
func (l *loader) under(v *source.Value, word, code, hint, format string, args ...any) {
	runes := len([]rune(v.Text)) - len([]rune(word))
	if pos, ok := v.At(runes); ok {
		l.r.AddSpan(pos, len([]rune(word)), code, hint, format, args...)
		return
	}
	v.Report(l.r, code, hint, format, args...)
}

func (l *loader) toStep(d *draft, a arrow, name string) {
	s := d.find(name)
	if s == nil {
		l.under(a.text, name, CodeNoStep, l.nearStep(d, name), "no step is called %q", name)
		return
	}
	a.into.Kind, a.into.Step = ToStep, s
}

func (l *loader) toTree(d *draft, a arrow, name string) {
	c, err := house.ParseComplaint(name)
	if err != nil {
		hint := ""
		if u, ok := err.(*house.UnknownWord); ok && u.Nearest != "" {
			hint = "did you mean " + u.Nearest + "?"
		}
		l.under(a.text, name, CodeNoTree, hint, "no tree is called %q", name)
		return
	}
	to := l.drafts[c]
	if to == nil {
		if _, there := l.files[name+".yaml"]; !there { // a file that is there was reported
			l.under(a.text, name, CodeNoTree, "add the file "+name+".yaml", "the tree %s has no file", name)
		}
		return
	}
	a.into.Kind, a.into.Tree = ToTree, to.tree
}

func (l *loader) toFinding(a arrow, name string) {
	f, err := house.ParseFinding(name)
	if err != nil {
		hint := ""
		if u, ok := err.(*house.UnknownWord); ok && u.Nearest != "" {
			hint = "did you mean " + u.Nearest + "?"
		}
		l.under(a.text, name, source.CodeUnknownWord, hint, "unknown finding %q", name)
		return
	}
	if l.lib.Findings[f] == nil && l.lib.texts.name != "" {
		l.under(a.text, name, CodeNoFinding, "add it to "+findingsFile, "the finding %s has no texts", name)
	}
	if a.ask {
		a.text.Report(l.r, CodeAskDecides, "go on to a step", "an answer about the house ends the call here")
	}
	a.into.Kind, a.into.Finding = ToFinding, f
}

// unreached reports the steps that no edge leads to.
func (l *loader) unreached(d *draft) {
	if d.tree.First == nil || d.torn {
		return
	}
	seen := map[*Step]bool{}
	for _, s := range d.tree.forwards() {
		seen[s] = true
	}
	for _, s := range d.steps {
		if !seen[s.step] {
			s.key.Report(l.r, CodeUnreachable, "lead a branch to it, or remove it", "no path from %q leads to step %q", d.tree.First.ID, s.step.ID)
		}
	}
}

// cycles reports, for each edge that closes one, the path over all trees that
// comes back to a step; true where there is none.
func (l *loader) cycles(all []*draft) bool {
	w := walk{l: l, done: map[*Step]bool{}, open: map[*Step]bool{}, text: map[*Target]*source.Value{}, sound: true}
	for _, d := range all {
		for _, a := range d.arrows {
			w.text[a.into] = a.text
		}
	}
	for _, d := range all {
		for _, s := range d.tree.Steps {
			w.visit(s)
		}
	}
	return w.sound
}

// walk goes depth first over every edge of every tree.
type walk struct {
	l          *loader
	done, open map[*Step]bool // open: on the path that is walked now
	path       []*Step
	text       map[*Target]*source.Value
	sound      bool
}

func (w *walk) visit(s *Step) {
	if w.done[s] {
		return
	}
	w.done[s], w.open[s] = true, true
	w.path = append(w.path, s)
	for _, to := range s.targets() {
		next := to.Next()
		switch {
		case next == nil:
		case !w.open[next]:
			w.visit(next)
		default:
			w.sound = false
			if w.l.r.Len() < hintsMax {
				w.text[to].Report(w.l.r, CodeCycle, "", "a path comes back here: %s", pathBack(w.path, next))
			}
		}
	}
	w.path = w.path[:len(w.path)-1]
	w.open[s] = false
}

// targets are the step's edges in place.
func (s *Step) targets() []*Target {
	var out []*Target
	for i := range s.Branches {
		out = append(out, &s.Branches[i].Then)
	}
	return append(out, &s.OL, &s.Unable)
}

// pathBack writes the part of a path from to on, back to it; a long one is
// cut in the middle.
func pathBack(path []*Step, to *Step) string {
	const most = 8
	var words []string
	for _, s := range path {
		if s == to || len(words) > 0 {
			words = append(words, s.String())
		}
	}
	if len(words) > most {
		words = append(append(words[:most/2:most/2], "..."), words[len(words)-most/2:]...)
	}
	return strings.Join(append(words, to.String()), " > ")
}

// needUnable reports a step that somebody may be cut from and that does not
// say where that leads.
func (l *loader) needUnable(sd *stepDraft) {
	s := sd.step
	if sd.torn || s.Unable.Kind != NoTarget || s.Kind == AskStep || l.hasArrow(s) {
		return
	}
	if cut, who := s.cut(); cut != house.NoCut {
		sd.key.Report(l.r, CodeUnable, "add unable: step ...", "step %q says nothing for one who is unable: %s (%s)", s.ID, cut, who)
	}
}

// hasArrow tells whether the file gives the step an unable edge, though one
// that could not be resolved.
func (l *loader) hasArrow(s *Step) bool {
	for _, a := range l.drafts[s.Tree.ID].arrows {
		if a.from == s && a.kind == ByUnable {
			return true
		}
	}
	return false
}

// cut finds an audience and a house of the tree's that cannot make one of the
// step's probes, and why.
func (s *Step) cut() (house.Cut, string) {
	setup := s.Resolve(house.DefaultSetup())
	for _, who := range house.Audiences() {
		for _, e := range s.Tree.Fits {
			houses := []house.Facts{
				{Equipment: e},
				{Equipment: e, Letters: e.Letters().Minus(e.SometimesLetters())},
				{Equipment: e, Base: house.BaseCovered},
				{Equipment: e, Meter: house.MeterNone},
			}
			for _, f := range houses {
				for _, p := range s.Probes() {
					if c := house.Reach(who, f, p.On(e), setup.On(e)); c != house.NoCut {
						return c, who.String() + ", " + e.String()
					}
				}
			}
		}
	}
	return house.NoCut, ""
}
