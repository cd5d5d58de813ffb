package suspects

import (
	"io/fs"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// Weights is what is assumed before anything is seen, and what probes cost.
type Weights struct {
	// Fault is each fault's share; shares count against one another only.
	Fault map[house.Fault]float64
	// Slip is the share of probes that go wrong, Intermittent the share of
	// faults that come and go, Pair the share of houses with two faults.
	Slip, Intermittent, Pair float64
	// Fresh is how much of a reading is news after the others of one house.
	Fresh   float64
	Minutes Minutes
	// Strength is how many closed calls weigh as much as the assumption.
	Strength float64
	// Source tells, by fault id or key, where a number is from.
	Source map[string]string
}

// Minutes is what things take. A visit is paid once.
type Minutes struct {
	Look, Reading               float64
	Call, Face                  float64
	CoverIndoor, CoverOutdoor   float64
	Jumper, Lift, Lockout, Fuse float64
	Wait                        float64
}

// CodeWeight is the code of a number in the weights file that is out of range.
const CodeWeight = "weight-range"

// LoadWeights reads a weights file. Every fault needs a weight, and every
// number a source.
func LoadWeights(fsys fs.FS, name string) (Weights, source.Problems) {
	l := weightLoader{r: source.NewReporter(), w: Weights{Fault: map[house.Fault]float64{}, Source: map[string]string{}}}
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		l.r.Add(source.Pos{File: name}, source.CodeEmptyFile, "", "cannot read: %v", err)
		return l.w, l.r.Problems()
	}
	if v := source.Parse(name, data, l.r); v != nil {
		f := v.Fields(l.r, "weights", "shares", "minutes", "learning")
		l.faults(f.Need("weights"))
		l.shares(f.Need("shares"))
		l.minutes(f.Need("minutes"))
		g := f.Need("learning").Fields(l.r, "strength")
		l.w.Strength = l.number("strength", g.Need("strength"), "calls", 1e6)
	}
	return l.w, l.r.Problems()
}

type weightLoader struct {
	r *source.Reporter
	w Weights
}

func (l *weightLoader) faults(v *source.Value) {
	for _, e := range v.Entries(l.r) {
		f, err := house.ParseFault(e.Key.Text)
		if err != nil {
			e.Key.Report(l.r, source.CodeUnknownWord, "", "%v", err)
			continue
		}
		l.w.Fault[f] = l.number(f.String(), e.Value, "weight", 1e6)
	}
	if v == nil {
		return
	}
	for _, f := range house.Faults() {
		if _, ok := l.w.Fault[f]; !ok {
			l.r.Add(v.Pos, source.CodeMissingKey, "add "+f.String()+": {weight: 1, source: assumption}", "fault %q has no weight", f.String())
		}
	}
}

func (l *weightLoader) shares(v *source.Value) {
	f := v.Fields(l.r, "slip", "intermittent", "pair", "fresh")
	l.w.Slip = l.number("slip", f.Need("slip"), "share", 0.5)
	l.w.Intermittent = l.number("intermittent", f.Need("intermittent"), "share", 0.5)
	l.w.Pair = l.number("pair", f.Need("pair"), "share", 0.5)
	l.w.Fresh = l.number("fresh", f.Need("fresh"), "share", 1)
}

func (l *weightLoader) minutes(v *source.Value) {
	m := &l.w.Minutes
	keys := []struct {
		key string
		to  *float64
	}{
		{"look", &m.Look}, {"reading", &m.Reading}, {"call", &m.Call}, {"face", &m.Face},
		{"cover-indoor", &m.CoverIndoor}, {"cover-outdoor", &m.CoverOutdoor}, {"jumper", &m.Jumper},
		{"lift", &m.Lift}, {"lockout", &m.Lockout}, {"fuse", &m.Fuse}, {"wait", &m.Wait},
	}
	var words []string
	for _, k := range keys {
		words = append(words, k.key)
	}
	f := v.Fields(l.r, words...)
	for _, k := range keys {
		*k.to = l.number(k.key, f.Need(k.key), "minutes", 120)
	}
}

// number reads {key: x, source: where} with 0 < x <= most.
func (l *weightLoader) number(name string, v *source.Value, key string, most float64) float64 {
	if v == nil {
		return 0
	}
	f := v.Fields(l.r, key, "source")
	x := f.Need(key).Float(l.r)
	if n := f.Get(key); n != nil && (x <= 0 || x > most) {
		n.Report(l.r, CodeWeight, "", "%s is %g; more than 0 and at most %g is wanted", name, x, most)
	}
	if s := f.Need("source"); s != nil {
		l.w.Source[name] = strings.TrimSpace(s.String(l.r))
	}
	return x
}

// Share is a fault's share of all.
func (w Weights) Share(f house.Fault) float64 {
	var sum float64
	for _, x := range w.Fault {
		sum += x
	}
	return w.Fault[f] / sum
}

// Learned is w after closed calls of one's own: each counts as one, over the
// assumption counted as Strength calls (Dirichlet counts).
func (w Weights) Learned(closed map[house.Fault]int) Weights {
	if len(closed) == 0 {
		return w
	}
	var sum float64
	for _, x := range w.Fault {
		sum += x
	}
	out := w
	out.Fault = make(map[house.Fault]float64, len(w.Fault))
	for f, x := range w.Fault {
		out.Fault[f] = w.Strength*x/sum + float64(closed[f])
	}
	return out
}
