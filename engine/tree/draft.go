package tree

import (
	"strings"

	"github.com/expr-lang/expr/conf"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// draft is a tree as its file gives it, before its targets and conditions are
// looked at.
type draft struct {
	tree   *Tree
	first  *source.Value
	steps  []*stepDraft
	byName map[string]*Step
	arrows []arrow
	config *conf.Config
	torn   bool // an edge is missing or leads nowhere, which is reported
}

type stepDraft struct {
	step     *Step
	key      *source.Value
	pairKeys []*source.Value
	whens    []*source.Value // by branch
	torn     bool            // what it asks for is not known, which is reported
}

// arrow is a target still in words.
type arrow struct {
	from *Step
	kind EdgeKind
	text *source.Value
	into *Target
	ask  bool
}

// tree gives the tree an arrow names, "" for another target.
func (a arrow) tree() string {
	if a.text == nil {
		return ""
	}
	word, name, _ := strings.Cut(a.text.Text, " ")
	if word != "tree" {
		return ""
	}
	return strings.TrimSpace(name)
}

// treeKeys are the keys of a tree's file.
var treeKeys = []string{"tree", "title", "complaints", "symptom", "fits", "first", "steps"}

func (l *loader) tree(name string, v *source.Value) *draft {
	f := v.Fields(l.r, treeKeys...)
	d := l.heading(name, f)
	if d == nil {
		return nil
	}
	l.drafts[d.tree.ID] = d
	l.lib.Trees[d.tree.ID] = d.tree
	d.first = f.Need("first")
	d.first.String(l.r)
	steps := f.Need("steps")
	entries := steps.Entries(l.r)
	for _, e := range entries {
		l.step(d, e.Key, e.Value)
	}
	if steps != nil && steps.Kind == source.Map && len(entries) == 0 {
		steps.Report(l.r, source.CodeEmpty, "", "the tree has no step")
	}
	return d
}

// heading reads everything of a tree but its steps.
func (l *loader) heading(name string, f source.Fields) *draft {
	id := f.Need("tree")
	word := id.String(l.r)
	if word == "" {
		return nil
	}
	c, err := house.ParseComplaint(word)
	if err != nil {
		l.word(id, "", err)
		return nil
	}
	if name != word+".yaml" {
		id.Report(l.r, CodeFileName, "call the file "+word+".yaml", "the tree %s is in the file %s", word, name)
		return nil
	}
	d := &draft{tree: &Tree{ID: c, Pos: id.Pos}, byName: map[string]*Step{}}
	d.tree.Title = f.Need("title").String(l.r)
	l.head(d, f)
	return d
}

// head reads what a tree says of itself.
func (l *loader) head(d *draft, f source.Fields) {
	t := d.tree
	for _, v := range f.Need("fits").Items(l.r) {
		e, err := house.ParseEquipment(v.String(l.r))
		switch {
		case v.Kind != source.Scalar || v.Text == "":
		case err != nil:
			l.word(v, "", err)
		case e.Handling() != house.Modelled:
			v.Report(l.r, CodeFits, "", "%s is never metered, so no tree fits it", e)
		default:
			t.Fits = append(t.Fits, e)
		}
	}
	complaints, symptom := f.Get("complaints"), f.Get("symptom")
	if !t.ID.Entered() {
		complaints, symptom = f.Need("complaints"), f.Need("symptom")
	}
	t.Complaints = complaints.Strings(l.r)
	if complaints != nil && len(t.Complaints) == 0 && !t.ID.Entered() {
		complaints.Report(l.r, source.CodeEmpty, "write it as people say it: [the ac is not cooling]", "no complaint is given")
	}
	if symptom != nil && symptom.Kind == source.List {
		for _, v := range symptom.Items(l.r) {
			l.symptom(t, v)
		}
		if len(symptom.Items(l.r)) == 0 {
			symptom.Report(l.r, source.CodeEmpty, "", "no symptom is given")
		}
		return
	}
	if symptom != nil {
		l.symptom(t, symptom)
	}
}

func (l *loader) symptom(t *Tree, v *source.Value) {
	f := v.Fields(l.r, "setup", "look", "shows")
	s := Symptom{Setup: l.setup(t, f.Get("setup"))}
	if !f.Has("look") && !f.Has("shows") && t.ID.Entered() {
		t.Symptoms = append(t.Symptoms, s)
		return
	}
	look := f.Need("look")
	var err error
	if s.Look, err = house.ParseLook(look.String(l.r)); err != nil && look != nil && look.Text != "" {
		l.word(look, "", err, ids(house.Looks())...)
	}
	l.haveLook(t, s.Look, look)
	shows := f.Need("shows")
	for _, a := range shows.Items(l.r) {
		if s.Look == house.NoLook || a.String(l.r) == "" {
			continue
		}
		answer, err := s.Look.ParseAnswer(a.Text)
		if err != nil {
			l.word(a, "", err)
			continue
		}
		s.Shows = append(s.Shows, answer)
	}
	if shows != nil && shows.Kind == source.List && len(shows.Items(l.r)) == 0 {
		shows.Report(l.r, source.CodeEmpty, "", "no answer is given that shows the complaint")
	}
	t.Symptoms = append(t.Symptoms, s)
}
