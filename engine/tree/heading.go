package tree

import (
	"bytes"
	"io/fs"
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// Heading is what a tree says of itself: enough to match a complaint.
type Heading struct {
	ID         house.Complaint
	Title      string
	Complaints []string // as people say it; none for a tree entered from others only
	Fits       []house.Equipment
}

// Heading is what the tree says of itself.
func (t *Tree) Heading() Heading {
	return Heading{ID: t.ID, Title: t.Title, Complaints: t.Complaints, Fits: t.Fits}
}

// Headings reads the trees' headings and leaves their steps unread, which
// takes a fraction of the time of Load. They are in the order of the closed
// list of complaints.
func Headings(base fs.FS, overlays ...fs.FS) ([]Heading, source.Problems) {
	l := newLoader(base, overlays)
	var out []Heading
	for _, name := range l.treeFiles() {
		f, ok := l.read(name)
		if !ok {
			continue
		}
		if i := bytes.Index(f.data, []byte("\nsteps:")); i >= 0 {
			f.data = f.data[:i+1]
		}
		v := source.Parse(f.name, f.data, l.r)
		if d := l.heading(name, v.Fields(l.r, treeKeys...)); d != nil {
			out = append(out, d.tree.Heading())
		}
	}
	slices.SortFunc(out, func(a, b Heading) int { return int(a.ID) - int(b.ID) })
	return out, l.r.Problems()
}
