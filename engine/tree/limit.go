package tree

import (
	"sort"

	"stepdown/engine/source"
)

// Limit is a named constant of conditions.
type Limit struct {
	Name   string // control_min
	Value  float64
	Unit   string // V, ohm or A
	Source string
	Known  string // how the value is known: read, copy, memory, computed or practice
	Pos    source.Pos
}

// needed are the limits the engine itself relies on.
var needed = []string{"control_min", "control_max"}

func (l *loader) limits(v *source.Value) {
	before := l.r.Len()
	all := v.Fields(l.r, "limits").Need("limits")
	for _, e := range all.Entries(l.r) {
		f := e.Value.Fields(l.r, "value", "unit", "source", "known", "note")
		got := Limit{Name: expressionName(e.Key.Text), Pos: e.Key.Pos}
		got.Value = f.Need("value").Float(l.r)
		got.Unit, _ = f.Need("unit").OneOf(l.r, "unit", "V", "ohm", "A")
		got.Source = f.Need("source").String(l.r)
		got.Known, _ = f.Need("known").OneOf(l.r, "way to know it", "read", "copy", "memory", "computed", "practice")
		if f.Has("note") {
			f.Get("note").String(l.r)
		}
		if !l.legalName(e.Key, "limit") {
			continue
		}
		if first, dup := l.lib.Limits[got.Name]; dup {
			e.Key.Report(l.r, CodeDuplicateName, "", "limit %q is already given on line %d", got.Name, first.Pos.Line)
			continue
		}
		l.lib.Limits[got.Name] = got
	}
	if v == nil || l.r.Len() > before {
		return
	}
	for _, name := range needed {
		switch got, ok := l.lib.Limits[name]; {
		case ok && got.Unit != "V":
			l.r.Add(got.Pos, CodeUnit, "give it in V", "limit %q is a voltage", name)
		case !ok:
			l.r.Add(v.Pos, CodeLimit, "add "+name+": {value: ..., unit: V, source: ..., known: ...}", "limit %q is missing", name)
		}
	}
}

// limitNames lists the limits for a suggestion.
func (l *Library) limitNames() []string {
	out := make([]string, 0, len(l.Limits))
	for name := range l.Limits {
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}
