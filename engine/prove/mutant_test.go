package prove

import (
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"regexp"
	"sort"
	"strings"
	"testing"
	"testing/fstest"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// change is one place where a tree can be changed: the edits, all in one file.
type change struct {
	step  *tree.Step
	what  string
	edits []edit
	// moved is the constant a condition compared with, before and after.
	name        string
	moved       bool
	from, until float64
}

// edit puts new in the place of old, at a position.
type edit struct {
	pos      source.Pos
	old, new string
}

// operator makes every change of one kind of change.
type operator struct {
	name  string
	sites func(*laboratory, *tree.Step) []change
}

var operators = []operator{
	{"< for <=", func(l *laboratory, s *tree.Step) []change { return comparisons(s) }},
	{"one ulp", func(l *laboratory, s *tree.Step) []change {
		return thresholds(l, s, func(x float64) float64 { return math.Nextafter(x, 1e9) })
	}},
	{"threshold 5 %", func(l *laboratory, s *tree.Step) []change {
		return append(thresholds(l, s, times(1.05)), thresholds(l, s, times(0.95))...)
	}},
	{"threshold 20 %", func(l *laboratory, s *tree.Step) []change {
		return append(thresholds(l, s, times(1.2)), thresholds(l, s, times(0.8))...)
	}},
	{"branch dropped", func(l *laboratory, s *tree.Step) []change { return drops(s) }},
	{"targets exchanged", func(l *laboratory, s *tree.Step) []change { return exchanges(l, s) }},
	{"finding exchanged", func(l *laboratory, s *tree.Step) []change { return findings(l, s) }},
}

func times(k float64) func(float64) float64 { return func(x float64) float64 { return x * k } }

// mutantsEach is how many changes of each kind are tried.
const mutantsEach = 15

// laboratory proves the embedded trees and changed copies of them on a few
// houses of one equipment.
type laboratory struct {
	t      *testing.T
	files  fstest.MapFS
	book   *session.Book
	f      *forecast.Forecast
	rng    *rand.Rand
	judged map[string]uint64              // edges taken by calls that are judged
	read   map[string][]quantity.Reading  // by step and pair
	whole  map[house.Complaint]*signature // of the unchanged trees
}

// signature is what a proof found.
type signature struct {
	problems map[string]bool
	counts   [6]int
}

func newLaboratory(t *testing.T, seed uint64) *laboratory {
	l := &laboratory{t: t, book: embedded(t), files: fstest.MapFS{}, rng: rand.New(rand.NewPCG(seed, 1)),
		judged: map[string]uint64{}, read: map[string][]quantity.Reading{}, whole: map[house.Complaint]*signature{}}
	names, err := fs.Glob(trees.FS, "*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		data, err := fs.ReadFile(trees.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		l.files[name] = &fstest.MapFile{Data: data}
	}
	l.f = forecast.New(catalog(t), forecast.Options{Draws: 16, Seed: 1, Workers: 2})
	return l
}

const mutantEquipment = house.CoolGas

// owners are the complaints whose calls can come to a tree, itself first.
func (l *laboratory) owner(of *tree.Tree) house.Complaint {
	for _, t := range append([]*tree.Tree{of}, l.book.Trees.InOrder()...) {
		if !startsCalls(t) || !fitsEquipment(t, mutantEquipment) {
			continue
		}
		for _, s := range reachable(t) {
			if s.Tree == of {
				return t.ID
			}
		}
	}
	return house.NoComplaint
}

// prove runs the branch and physics proofs of one complaint.
func (l *laboratory) prove(lib *tree.Library, c house.Complaint, watch bool) (*signature, error) {
	to := source.NewReporter()
	for _, t := range lib.InOrder() {
		ProveBranches(t, to)
	}
	book := &session.Book{Trees: lib, Cautions: l.book.Cautions}
	p := newPhysics(book, l.f, Options{Complaints: []house.Complaint{c}, Equipment: mutantEquipment, Houses: 3, Workers: 1})
	if watch {
		p.watch = l.watch
	}
	sum, err := p.run()
	if err != nil {
		return nil, err
	}
	s := &signature{problems: map[string]bool{}}
	for _, x := range to.Problems() {
		s.problems[fmt.Sprint(x.Code, x.Pos.File, x.Pos.Line)] = true
	}
	for k := range sum.misses {
		s.problems[fmt.Sprint(k.rule.Code, k.pos.File, k.pos.Line, k.finding)] = true
	}
	s.counts = [6]int{sum.Missed, sum.Condemned, sum.Blamed, sum.Wider, sum.Thin, len(to.Problems())}
	return s, nil
}

// watch notes what the judged calls of the unchanged trees read, and where they
// went.
func (l *laboratory) watch(w *worker) {
	for _, k := range w.walkers {
		k.probed = func(s *tree.Step, pair int, x shows, side SlipKind) {
			if s.Kind == tree.MeasureStep && !x.unable {
				key := fmt.Sprint(s, " ", pair)
				l.read[key] = append(l.read[key], x.reading)
			}
		}
		k.edged = func(s *tree.Step, edge int, side SlipKind) {
			if side == NoSlip || side == SlipUnable {
				l.judged[s.String()] |= 1 << edge
			}
		}
	}
}

// worse reports whether a proof found something the unchanged trees do not have.
func (s *signature) worse(whole *signature) bool {
	for p := range s.problems {
		if !whole.problems[p] {
			return true
		}
	}
	for i := range s.counts {
		if s.counts[i] > whole.counts[i] {
			return true
		}
	}
	return false
}

// verdictOf is how one changed tree fares.
func (l *laboratory) verdictOf(c house.Complaint, m change) string {
	lib, problems := tree.Load(l.mutate(m))
	if len(problems) > 0 {
		return "caught"
	}
	if sameCells(m.step, stepNamed(lib, m.step)) {
		return "equivalent"
	}
	got, err := l.prove(lib, c, false)
	if err != nil {
		l.t.Fatal(err)
	}
	switch {
	case got.worse(l.whole[c]):
		return "caught"
	case m.moved && !l.between(m):
		return "within margin"
	case l.judged[m.step.String()] == 0:
		return "never asked"
	}
	return "as right"
}

func stepNamed(lib *tree.Library, s *tree.Step) *tree.Step {
	for _, x := range lib.Trees[s.Tree.ID].Steps {
		if x.ID == s.ID {
			return x
		}
	}
	return nil
}

// sameCells reports whether two versions of a step have the same target in
// every cell that the constants of both cut.
func sameCells(a, b *tree.Step) bool {
	if b == nil || len(a.Branches) != len(b.Branches) || a.Kind != tree.MeasureStep {
		return false
	}
	ga, gb := newGrid(a, a.Tree.NewEnv()), newGrid(b, b.Tree.NewEnv())
	if len(ga.axes) != len(gb.axes) {
		return false
	}
	for i := range ga.axes {
		both := ga.axes[i].numbers
		for _, x := range gb.axes[i].numbers {
			both = insert(append([]float64(nil), both...), x)
		}
		ga.axes[i].numbers, gb.axes[i].numbers = both, both
	}
	ga.restride()
	gb.restride()
	for cell := range ga.cells {
		for i := range ga.conds {
			same := a.Branches[i].Then.String() == b.Branches[i].Then.String()
			if ga.holdsAt(&ga.conds[i], cell) != gb.holdsAt(&gb.conds[i], cell) || !same {
				return false
			}
		}
	}
	return true
}

// restride numbers the cells anew and runs every condition on them.
func (g *grid) restride() {
	g.cells = 1
	for i := len(g.axes) - 1; i >= 0; i-- {
		g.axes[i].stride = g.cells
		g.cells *= g.axes[i].size()
	}
	for i, b := range g.step.Branches {
		g.conds[i] = g.condition(b.When)
	}
}

// between reports whether any simulated reading lies between the old constant
// and the new.
func (l *laboratory) between(m change) bool {
	low, high := min(m.from, m.until), max(m.from, m.until)
	for i, p := range m.step.Pairs {
		if p.Name != m.name && strings.ReplaceAll(p.Name, "-", "_") != m.name {
			continue
		}
		for _, r := range l.read[fmt.Sprint(m.step, " ", i)] {
			if !r.OL && r.Value >= low && r.Value <= high {
				return true
			}
		}
	}
	return false
}

// mutate is the trees with one change changed.
func (l *laboratory) mutate(m change) fs.FS {
	out := fstest.MapFS{}
	for name, f := range l.files {
		out[name] = f
	}
	file := m.edits[0].pos.File
	lines := strings.Split(string(l.files[file].Data), "\n")
	sort.Slice(m.edits, func(i, j int) bool { return m.edits[j].pos.Before(m.edits[i].pos) }) // from the back
	for _, e := range m.edits {
		line := []rune(lines[e.pos.Line-1])
		at := min(len(line), e.pos.Col-1)
		head, tail := string(line[:at]), string(line[at:])
		if !strings.Contains(tail, e.old) {
			l.t.Fatalf("%s: no %q in %q", e.pos, e.old, tail)
		}
		lines[e.pos.Line-1] = head + strings.Replace(tail, e.old, e.new, 1)
	}
	out[file] = &fstest.MapFile{Data: []byte(strings.Join(lines, "\n"))}
	return out
}

var inequality = regexp.MustCompile(`[<>]=?`)

// comparisons takes < for <=, and the other way about, in one condition.
func comparisons(s *tree.Step) []change {
	var out []change
	for _, b := range s.Branches {
		if b.When == nil || b.When.Pos.Line == 0 {
			continue
		}
		for _, at := range inequality.FindAllStringIndex(b.When.Text, -1) {
			op := b.When.Text[at[0]:at[1]]
			other := map[string]string{"<": "<=", "<=": "<", ">": ">=", ">=": ">"}[op]
			text := b.When.Text[:at[0]] + other + b.When.Text[at[1]:]
			out = append(out, change{step: s, what: b.When.Text + " -> " + text, edits: []edit{{b.When.Pos, b.When.Text, text}}})
		}
	}
	return out
}

// thresholds moves one limit in every condition of a step.
func thresholds(l *laboratory, s *tree.Step, move func(float64) float64) []change {
	var out []change
	for _, n := range s.Names() {
		for word, limit := range l.book.Trees.Limits {
			if n.IsLook() {
				continue
			}
			if m, ok := moveLimit(s, n, word, limit.Value, move(limit.Value)); ok {
				out = append(out, m)
			}
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].what < out[j].what })
	return out
}

func moveLimit(s *tree.Step, n *tree.Name, word string, from, to float64) (change, bool) {
	m := change{step: s, name: n.ID, moved: true, from: from, until: to, what: fmt.Sprintf("%s against %s %v -> %v", n.ID, word, from, to)}
	beside := regexp.MustCompile(`\b` + n.ID + ` *([<>]=?) *` + word + `\b|\b` + word + ` *([<>]=?) *` + n.ID + `\b`)
	for _, b := range s.Branches {
		if b.When == nil || !beside.MatchString(b.When.Text) {
			continue
		}
		text := beside.ReplaceAllStringFunc(b.When.Text, func(x string) string {
			return regexp.MustCompile(`\b`+word+`\b`).ReplaceAllString(x, fmt.Sprintf("%.17g", to))
		})
		if b.Because == "" {
			m.edits = append(m.edits, edit{b.When.Pos, b.When.Text, text + ", because: a mutant"})
		} else {
			m.edits = append(m.edits, edit{b.When.Pos, b.When.Text, text})
		}
	}
	return m, len(m.edits) > 0
}

// drops takes a whole branch line out.
func drops(s *tree.Step) []change {
	var out []change
	for _, b := range s.Branches {
		if b.When != nil && len(s.Branches) > 1 {
			out = append(out, change{step: s, what: "without " + b.When.Text, edits: []edit{{source.Pos{File: b.When.Pos.File, Line: b.When.Pos.Line, Col: 1}, "- {when:", "# - {when:"}}})
		}
	}
	return out
}

// taken reports whether a judged call takes a branch: what none takes is listed
// by the proof itself, and nothing can be learnt from changing it.
func (l *laboratory) taken(s *tree.Step, branch int) bool {
	return l.judged[s.String()]&(1<<branch) != 0
}

// exchanges lets two branches of a step change places.
func exchanges(l *laboratory, s *tree.Step) []change {
	var out []change
	for i, a := range s.Branches {
		for k, b := range s.Branches[:i] {
			if !l.taken(s, i) || !l.taken(s, k) {
				continue
			}
			if a.Then.String() != b.Then.String() && a.Choice == "" && b.Choice == "" {
				out = append(out, change{step: s, what: a.Then.String() + " <-> " + b.Then.String(),
					edits: []edit{{a.Then.Pos, a.Then.String(), b.Then.String()}, {b.Then.Pos, b.Then.String(), a.Then.String()}}})
			}
		}
	}
	return out
}

// findings names another part at the end of a branch.
func findings(l *laboratory, s *tree.Step) []change {
	var out []change
	for i, b := range s.Branches {
		if b.Then.Kind != tree.ToFinding || len(b.Then.Finding.Faults()) == 0 || !l.taken(s, i) {
			continue
		}
		others := []house.Finding{"fuse-blown", "open-y", "contactor-coil-open", "float-open", "stat-y-open"}
		other := others[l.rng.IntN(len(others))]
		if other != b.Then.Finding {
			out = append(out, change{step: s, what: string(b.Then.Finding) + " -> " + string(other), edits: []edit{{b.Then.Pos, b.Then.String(), "finding " + string(other)}}})
		}
	}
	return out
}

// TestMutants changes the embedded trees in each way of the operators, at sites
// drawn by a printed seed from the steps that judged calls come to, and counts
// what the proofs make of it: caught; equivalent, with the same target in every
// cell; within margin, where no simulated reading lies between the old constant
// and the new; or another tree that is as right.
func TestMutants(t *testing.T) {
	if testing.Short() {
		t.Skip("a proof a mutant")
	}
	const seed = 11
	l := newLaboratory(t, seed)
	steps := l.wholeTrees()
	t.Logf("seed %d", seed)
	for _, op := range operators {
		var sites []change
		for _, s := range steps {
			sites = append(sites, op.sites(l, s)...)
		}
		l.rng.Shuffle(len(sites), func(i, j int) { sites[i], sites[j] = sites[j], sites[i] })
		if len(sites) < mutantsEach {
			t.Errorf("%s: only %d sites", op.name, len(sites))
		}
		count := map[string]int{}
		for _, m := range sites[:min(mutantsEach, len(sites))] {
			v := l.verdictOf(l.owner(m.step.Tree), m)
			count[v]++
			if v == "as right" {
				t.Logf("  as right: %s: %s", m.step, m.what)
			}
		}
		t.Logf("%-18s of %3d sites: %v", op.name, len(sites), count)
		if count["caught"]+count["equivalent"]+count["within margin"]+count["as right"] < min(mutantsEach, len(sites)) {
			t.Errorf("%s: %v", op.name, count)
		}
		if op.name == "branch dropped" && count["caught"] != mutantsEach {
			t.Errorf("a dropped branch is a gap, always: %v", count)
		}
		if count["as right"] > mutantsEach/3 {
			t.Errorf("%s: too many pass for right: %v", op.name, count)
		}
	}
}

// wholeTrees proves the unchanged trees and gives the steps that judged calls
// come to.
func (l *laboratory) wholeTrees() []*tree.Step {
	seen := map[*tree.Step]bool{}
	var steps []*tree.Step
	for _, t := range l.book.Trees.InOrder() {
		c := l.owner(t)
		if c == house.NoComplaint || l.whole[c] != nil {
			continue
		}
		got, err := l.prove(l.book.Trees, c, true)
		if err != nil {
			l.t.Fatal(err)
		}
		l.whole[c] = got
	}
	for _, t := range l.book.Trees.InOrder() {
		for _, s := range t.Steps {
			if l.judged[s.String()] != 0 && !seen[s] && s.Pos.File == t.ID.String()+".yaml" {
				seen[s] = true
				steps = append(steps, s)
			}
		}
	}
	return steps
}
