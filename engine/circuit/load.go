package circuit

import (
	"io/fs"
	"path"
	"slices"
	"sort"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// The codes of the problems Load reports beyond those of the YAML reader.
const (
	CodeUnknownPart  = "unknown-part"
	CodeWrongEnds    = "wrong-ends"
	CodeFloatingNode = "floating-node"
	CodeRange        = "value-range"
	CodeNegative     = "negative-value"
	CodeNoSource     = "missing-source"
	CodeNoValue      = "missing-value"
	CodeTwice        = "given-twice"
	CodeMissingPart  = "missing-part"
)

// valuesFile holds the numbers the equipment files share.
const valuesFile = "values.yaml"

// Must is the catalog of files that were checked before: a problem in them is
// a programming error and panics. It wraps a call of Load.
func Must(c *Catalog, problems source.Problems) *Catalog {
	if err := problems.Err(); err != nil {
		panic(err)
	}
	return c
}

// Load reads values.yaml and every other *.yaml in the root of fsys, one
// equipment each. Every problem is reported at once; the catalog holds the
// equipment that had none.
func Load(fsys fs.FS) (*Catalog, source.Problems) {
	l := loader{r: source.NewReporter(), groups: map[string][]Value{}}
	cat := &Catalog{byID: map[house.Equipment]*Equipment{}}
	names, err := fs.Glob(fsys, "*.yaml")
	if err != nil || len(names) == 0 {
		l.r.Add(source.Pos{File: "."}, source.CodeEmptyFile, "", "no equipment files")
		return cat, l.r.Problems()
	}
	sort.Strings(names)
	if v := l.parse(fsys, valuesFile); v != nil {
		l.values(v.Fields(l.r, "values").Need("values"))
	}
	for _, name := range names {
		if path.Base(name) == valuesFile {
			continue
		}
		before := l.r.Len()
		if v := l.parse(fsys, name); v != nil {
			e := l.equipment(v)
			if l.r.Len() == before {
				cat.byID[e.ID] = e
			}
		}
	}
	return cat, l.r.Problems()
}

type loader struct {
	r      *source.Reporter
	groups map[string][]Value
}

func (l *loader) parse(fsys fs.FS, name string) *source.Value {
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		l.r.Add(source.Pos{File: name}, source.CodeEmptyFile, "", "cannot read: %v", err)
		return nil
	}
	return source.Parse(name, data, l.r)
}

// values reads groups of values; a file's own come over the shared ones.
func (l *loader) values(v *source.Value) {
	for _, group := range v.Entries(l.r) {
		var list []Value
		for _, e := range group.Value.Entries(l.r) {
			list = append(list, l.value(group.Key.Text, e))
		}
		l.groups[group.Key.Text] = list
	}
}

func (l *loader) value(group string, e source.Entry) Value {
	f := e.Value.Fields(l.r, "nominal", "low", "high", "unit", "source", "known")
	before := l.r.Len()
	v := Value{Group: group, Key: e.Key.Text,
		Nominal: f.Need("nominal").Float(l.r), Low: f.Need("low").Float(l.r), High: f.Need("high").Float(l.r),
		Unit: f.Need("unit").String(l.r)}
	name, numbers := v.Name(), l.r.Len() == before
	if s := f.Get("source"); s == nil || strings.TrimSpace(s.Text) == "" {
		e.Key.Report(l.r, CodeNoSource, "add source: … and known: read, copy, memory, practice or computed", "value %s has no source", name)
	} else {
		v.Source = s.String(l.r)
		v.Known, _ = f.Need("known").OneOf(l.r, "way of knowing", "read", "copy", "memory", "practice", "computed")
	}
	for _, key := range []string{"nominal", "low", "high"} {
		number := f.Get(key)
		if number == nil || number.Kind != source.Scalar || !strings.HasPrefix(number.Text, "-") {
			continue
		}
		if v.Unit != "°C" {
			number.Report(l.r, CodeNegative, "no value of a part is under zero", "%s of %s is negative: %s", key, name, number.Text)
			return v
		}
	}
	if numbers && !(v.Low <= v.Nominal && v.Nominal <= v.High) {
		e.Key.Report(l.r, CodeRange, "order them low, nominal, high", "value %s: nominal %g is not between %g and %g", name, v.Nominal, v.Low, v.High)
	}
	if v.Low == 0 && strings.HasSuffix(v.Key, "ohms") {
		f.Get("low").Report(l.r, CodeNegative, "the least is above zero", "low of %s is zero: a short belongs to a fault", name)
	}
	return v
}

// equipment reads one file; its problems are in the reporter.
func (l *loader) equipment(v *source.Value) *Equipment {
	f := v.Fields(l.r, "equipment", "values", "drawn", "cables", "thermostat", "indoor", "outdoor")
	e := &Equipment{index: map[string]int{}}
	before := l.r.Len()
	if id := f.Need("equipment"); id != nil {
		var err error
		if e.ID, err = house.ParseEquipment(id.String(l.r)); err != nil {
			id.Report(l.r, source.CodeUnknownWord, "", "%v", err)
		}
	}
	shared := l.groups
	if own := f.Get("values"); own != nil {
		l.groups = map[string][]Value{}
		for name, list := range shared {
			l.groups[name] = list
		}
		l.values(own)
	}
	defer func() { l.groups = shared }()
	for group, keys := range alwaysUsed {
		l.use(e, v, group, keys)
	}
	l.drawn(e, f.Get("drawn"))
	l.cables(e, f.Need("cables"))
	l.calls(e, f.Need("thermostat"))
	n := l.cabinet(e, house.AtIndoor, f.Get("indoor"))
	n.merge(l.cabinet(e, house.AtOutdoor, f.Get("outdoor")))
	if l.r.Len() == before {
		l.complete(e, f.Get("equipment"), f.Get("thermostat"))
	}
	if l.r.Len() == before { // a word that was refused would float as well
		l.tied(e, n)
	}
	sortValues(e)
	return e
}

// use takes a group's values into the equipment, once.
func (l *loader) use(e *Equipment, at *source.Value, group string, keys []string) {
	list, known := l.groups[group]
	if !known {
		at.Report(l.r, CodeNoValue, didYouMean(group, l.groups), "no values are given for %q", group)
		return
	}
	for _, key := range keys {
		i := slices.IndexFunc(list, func(v Value) bool { return v.Key == key })
		if i < 0 {
			at.Report(l.r, CodeNoValue, "", "value %s.%s is missing", group, key)
			continue
		}
		if _, have := e.index[list[i].Name()]; !have {
			e.index[list[i].Name()] = len(e.values)
			e.values = append(e.values, list[i])
		}
	}
}

// sortValues puts the values in the order of their names, so that a seed draws
// the same house every time.
func sortValues(e *Equipment) {
	sort.Slice(e.values, func(i, j int) bool { return e.values[i].Name() < e.values[j].Name() })
	for i, v := range e.values {
		e.index[v.Name()] = i
	}
}

func (l *loader) drawn(e *Equipment, v *source.Value) {
	for c := range choiceRows {
		e.options[c] = []uint8{0}
		if choiceRows[c].always {
			for i := 1; i < len(choiceRows[c].options); i++ {
				e.options[c] = append(e.options[c], uint8(i))
			}
		}
	}
	if v == nil {
		return
	}
	ids := make([]string, 0, choiceCount)
	for _, row := range choiceRows {
		ids = append(ids, row.id)
	}
	for _, entry := range v.Entries(l.r) {
		id, ok := entry.Key.OneOf(l.r, "choice", ids...)
		if !ok {
			continue
		}
		c := slices.Index(ids, id)
		e.options[c] = nil
		for _, item := range entry.Value.Items(l.r) {
			if word, ok := item.OneOf(l.r, id, choiceRows[c].options...); ok {
				e.options[c] = append(e.options[c], uint8(slices.Index(choiceRows[c].options, word)))
			}
		}
		if len(e.options[c]) == 0 {
			e.options[c] = []uint8{0}
		}
	}
}
