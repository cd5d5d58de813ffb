package tree

import (
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

// The keys a step may have, by what it asks for.
var (
	commonKeys  = []string{"why", "because", "branches"}
	lookKeys    = append([]string{"look", "setup", "unable"}, commonKeys...)
	measureKeys = append([]string{"at", "setup", "unable"}, commonKeys...)
	ohmsKeys    = append([]string{"ohms", "ol"}, measureKeys...)
	askKeys     = append([]string{"ask", "then"}, commonKeys...)
)

// kindKeys are the keys that say what a step asks for.
func kindKeys() []string {
	keys := []string{"look", "ask"}
	for _, q := range quantity.All() {
		keys = append(keys, q.String())
	}
	return keys
}

func (l *loader) step(d *draft, key, v *source.Value) {
	if !stepForm.MatchString(key.Text) {
		key.Report(l.r, CodeStepName, "as in call-at-board", "%q is no name for a step", key.Text)
	}
	sd := &stepDraft{step: &Step{ID: key.Text, Tree: d.tree, Pos: key.Pos}, key: key}
	d.steps = append(d.steps, sd)
	d.byName[sd.step.ID] = sd.step
	d.tree.Steps = append(d.tree.Steps, sd.step)
	kind := l.stepKind(key, v)
	switch kind {
	case "":
		d.torn, sd.torn = true, true
	case "look":
		l.lookStep(d, sd, v)
	case "ask":
		l.askStep(d, sd, v)
	default:
		l.measureStep(d, sd, v, kind)
	}
}

// stepKind finds the one key that says what the step asks for; "" is reported.
func (l *loader) stepKind(key, v *source.Value) string {
	kinds := kindKeys()
	found := ""
	for _, e := range v.Entries(l.r) {
		if !contains(kinds, e.Key.Text) {
			continue
		}
		if found != "" {
			e.Key.Report(l.r, CodeStepKind, "make it a step of its own", "step %q asks for %s and %s", key.Text, found, e.Key.Text)
			return ""
		}
		found = e.Key.Text
	}
	if found == "" && v.Kind == source.Map {
		before := l.r.Len()
		v.Fields(l.r, append(append(kinds, ohmsKeys...), "then")...)
		if l.r.Len() == before {
			key.Report(l.r, CodeStepKind, "add one of "+strings.Join(kinds, ", "), "step %q asks for nothing", key.Text)
		}
	}
	return found
}

// common reads what every step has.
func (l *loader) common(d *draft, sd *stepDraft, f source.Fields) {
	sd.step.Why = f.Need("why").String(l.r)
	if b := f.Get("because"); b != nil {
		sd.step.Because = b.String(l.r)
	}
	sd.step.Setup = l.setup(d.tree, f.Get("setup"))
	d.aim(sd.step, ByUnable, f.Get("unable"), &sd.step.Unable)
}

// aim notes a target to be resolved once every step is known.
func (d *draft) aim(from *Step, kind EdgeKind, text *source.Value, into *Target) {
	if text == nil {
		d.torn = d.torn || kind == ByBranch
	} else {
		d.arrows = append(d.arrows, arrow{from: from, kind: kind, text: text, into: into, ask: from.Kind == AskStep})
	}
}

func (l *loader) lookStep(d *draft, sd *stepDraft, v *source.Value) {
	s := sd.step
	s.Kind = LookStep
	f := v.Fields(l.r, lookKeys...)
	look := f.Need("look")
	var err error
	s.Look, err = house.ParseLook(look.String(l.r))
	if err != nil && look.Kind == source.Scalar && look.Text != "" {
		l.word(look, "", err, ids(house.Looks())...)
	}
	s.At = s.Look.At()
	l.common(d, sd, f)
	var ids []string
	for _, a := range s.Look.Answers() {
		ids = append(ids, s.Look.AnswerID(a))
	}
	l.outcomes(d, sd, f.Need("branches"), s.Look.String()+" answer", ids)
	for i := range s.Branches {
		s.Branches[i].Answer, _ = s.Look.ParseAnswer(s.Branches[i].Choice)
		s.Branches[i].Choice = ""
	}
	l.haveLook(d.tree, s.Look, look)
}

// haveLook reports a look at a thing that no equipment of the tree has.
func (l *loader) haveLook(t *Tree, look house.Look, at *source.Value) {
	if look != house.NoLook && !l.someFit(t, func(e house.Equipment) bool { return e.HasLook(look) }) {
		at.Report(l.r, CodeNoLook, "", "no equipment of this tree has a %s to look at", look)
	}
}

// outcomes reads a map from each of ids to a target.
func (l *loader) outcomes(d *draft, sd *stepDraft, v *source.Value, what string, ids []string) {
	s, seen := sd.step, map[string]bool{}
	if v == nil || v.Kind != source.Map {
		v.Entries(l.r)
		d.torn = true
		return
	}
	entries := v.Entries(l.r)
	s.Branches = make([]Branch, 0, len(entries))
	for _, e := range entries {
		if len(ids) == 0 {
			d.torn = true
			return // the look or fact is unknown, and reported
		}
		if _, ok := e.Key.OneOf(l.r, what, ids...); !ok {
			d.torn = true
			continue
		}
		seen[e.Key.Text] = true
		s.Branches = append(s.Branches, Branch{Pos: e.Key.Pos, Choice: e.Key.Text})
		d.aim(s, ByBranch, e.Value, &s.Branches[len(s.Branches)-1].Then)
	}
	for _, id := range ids {
		if !seen[id] {
			sd.key.Report(l.r, CodeAnswers, "add "+id+": to its branches", "step %q has no branch for the %s %q", s.ID, what, id)
		}
	}
}

func (l *loader) askStep(d *draft, sd *stepDraft, v *source.Value) {
	s := sd.step
	s.Kind = AskStep
	f := v.Fields(l.r, askKeys...)
	ask := f.Need("ask")
	var err error
	s.Fact, err = house.ParseFact(ask.String(l.r))
	if err != nil && ask.Kind == source.Scalar && ask.Text != "" {
		l.word(ask, "", err, ids(house.FactKinds())...)
	}
	l.common(d, sd, f)
	switch then := f.Get("then"); {
	case then != nil && f.Has("branches"):
		then.Report(l.r, CodeStepKind, "keep one of the two", "step %q has both then and branches", s.ID)
	case then != nil:
		s.Branches = []Branch{{Pos: then.Pos}}
		d.aim(s, ByBranch, then, &s.Branches[0].Then)
	case s.Fact == house.FactLetters && f.Has("branches"):
		f.Get("branches").Report(l.r, CodeStepKind, "write then: step ...", "letters have no fixed answers to branch on")
	default:
		l.outcomes(d, sd, f.Need("branches"), s.Fact.String()+" answer", d.choices(s.Fact))
	}
}

// choices are the answers an ask can branch on.
func (d *draft) choices(k house.Fact) []string {
	var ids []string
	if k == house.FactEquipment {
		for _, e := range d.tree.Fits {
			ids = append(ids, e.String())
		}
		return append(ids, "unknown")
	}
	for _, a := range k.Answers() {
		ids = append(ids, a[0])
	}
	return ids
}

func (l *loader) someFit(t *Tree, has func(house.Equipment) bool) bool {
	for _, e := range t.Fits {
		if has(e) {
			return true
		}
	}
	return len(t.Fits) == 0 // reported already
}
