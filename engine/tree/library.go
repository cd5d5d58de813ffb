package tree

import (
	"stepdown/engine/house"
	"stepdown/engine/source"
)

// Library is the trees that were loaded, with the limits their conditions use
// and the texts of their findings. It is not changed after loading and safe
// for several goroutines.
type Library struct {
	Trees    map[house.Complaint]*Tree
	Findings map[house.Finding]*Finding
	Limits   map[string]Limit // by name

	reach map[*Step]findingSet
	texts file // findings.yaml, for checks made after loading
}

// Finding gives the texts of a finding, nil where there are none.
func (l *Library) Finding(id house.Finding) *Finding { return l.Findings[id] }

// InOrder lists the trees in the order of the closed list of complaints.
func (l *Library) InOrder() []*Tree {
	var out []*Tree
	for _, c := range house.Complaints() {
		if t := l.Trees[c]; t != nil {
			out = append(out, t)
		}
	}
	return out
}

// Reachable lists the findings that a call at step s can still end with, over
// every edge, `unable` too.
func (l *Library) Reachable(s *Step) []house.Finding { return l.reach[s].list() }

// CheckCautions reports each caution id of a finding that is none of known.
func (l *Library) CheckCautions(known ...string) source.Problems {
	r := source.NewReporter()
	r.AddFile(l.texts.name, l.texts.data)
	for _, id := range house.Findings() {
		f := l.Findings[id]
		if f == nil {
			continue
		}
		for _, v := range f.cautions {
			if !contains(known, v.Text) {
				v.Report(r, CodeCaution, didYouMean(v.Text, known), "no caution is called %q", v.Text)
			}
		}
	}
	return r.Problems()
}
