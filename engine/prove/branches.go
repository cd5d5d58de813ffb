package prove

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// BranchCount is what the branch proof went over.
type BranchCount struct {
	Steps    int // with conditions
	Branches int
	Cells    int // in which every condition has one value
}

// ProveBranches shows that for every possible reading exactly one branch of
// each step holds. The constants a name is compared with cut its range into
// points and the open gaps between them. No comparison changes within a cell,
// so one witness stands for all of it, and it is run on the very program that
// will execute.
func ProveBranches(t *tree.Tree, to *source.Reporter) BranchCount {
	var n BranchCount
	env := t.NewEnv()
	for _, s := range t.Steps {
		n.Branches += len(s.Branches)
		if s.Kind != tree.MeasureStep || len(s.Branches) == 0 {
			continue
		}
		g := newGrid(s, env)
		n.Steps++
		n.Cells += g.cells
		g.prove(to)
	}
	return n
}

// grid is the cells of one step, and for each condition the cells of its own
// names on which it holds.
type grid struct {
	step  *tree.Step
	env   *tree.Env
	axes  []gridAxis
	cells int
	conds []gridCondition
}

// gridAxis is one name with its witnesses; stride is how far apart two
// neighbours of it lie among the cells.
type gridAxis struct {
	name    *tree.Name
	numbers []float64
	answers []house.Answer
	stride  int
}

func (a *gridAxis) size() int { return len(a.numbers) + len(a.answers) }

// gridCondition holds for each cell of the axes it reads whether it holds.
type gridCondition struct {
	axes  []int // of the grid
	holds []bool
}

func newGrid(s *tree.Step, env *tree.Env) *grid {
	g := &grid{step: s, cells: 1, env: env}
	for _, b := range s.Branches {
		for _, n := range b.When.Names() {
			g.axis(n)
		}
	}
	for i := len(g.axes) - 1; i >= 0; i-- {
		g.axes[i].stride = g.cells
		g.cells *= g.axes[i].size()
	}
	for _, b := range s.Branches {
		g.conds = append(g.conds, g.condition(b.When))
	}
	return g
}

// axis adds a name, once.
func (g *grid) axis(n *tree.Name) {
	for i := range g.axes {
		if g.axes[i].name == n {
			return
		}
	}
	if n.IsLook() {
		g.axes = append(g.axes, gridAxis{name: n, answers: n.Look().Answers()})
		return
	}
	var cuts []float64
	for _, b := range g.step.Branches {
		cuts = append(cuts, b.When.Cuts(n)...)
	}
	slices.Sort(cuts)
	g.axes = append(g.axes, gridAxis{name: n, numbers: witnesses(slices.Compact(cuts), n.Quantity())})
}

// witnesses gives one number for each point and each open gap of the range of
// q that the cuts make, ascending.
func witnesses(cuts []float64, q quantity.Quantity) []float64 {
	low, high := least(q), q.Max()
	ends := []float64{low}
	for _, x := range cuts {
		if x > low && x < high {
			ends = append(ends, x)
		}
	}
	ends = append(ends, high)
	var out []float64
	for i, x := range ends {
		if i > 0 {
			out = append(out, between(ends[i-1], x)...)
		}
		out = append(out, x)
	}
	return out
}

// least is the smallest reading of a quantity: nothing but DC is negative.
func least(q quantity.Quantity) float64 {
	if q == quantity.DCVolts {
		return -q.Max()
	}
	return 0
}

// between is a number strictly inside a gap; none where the ends are
// neighbouring numbers, since then no reading lies inside.
func between(a, b float64) []float64 {
	if m := a + (b-a)/2; m > a && m < b {
		return []float64{m}
	}
	return nil
}

// condition runs one condition on every cell of the names it compares.
func (g *grid) condition(c *tree.Condition) gridCondition {
	out := gridCondition{}
	size := 1
	for _, n := range c.Names() {
		for i := range g.axes {
			if g.axes[i].name == n {
				out.axes = append(out.axes, i)
				size *= g.axes[i].size()
			}
		}
	}
	out.holds = make([]bool, size)
	for cell := range out.holds {
		at := cell
		for k := len(out.axes) - 1; k >= 0; k-- {
			a := &g.axes[out.axes[k]]
			a.put(g.env, at%a.size())
			at /= a.size()
		}
		holds, err := c.Holds(g.env)
		out.holds[cell] = holds && err == nil
	}
	return out
}

// put reads witness i of the axis into env.
func (a *gridAxis) put(env *tree.Env, i int) {
	if a.name.IsLook() {
		_ = env.See(a.name.Step, a.answers[i])
		return
	}
	_ = env.ReadPair(a.name.Step, a.name.Pair, quantity.Of(a.numbers[i]))
}

// holdsAt looks a condition up in a cell of the whole grid.
func (g *grid) holdsAt(c *gridCondition, cell int) bool {
	at := 0
	for _, i := range c.axes {
		a := &g.axes[i]
		at = at*a.size() + cell/a.stride%a.size()
	}
	return c.holds[at]
}

// prove goes over every cell and reports the first of each kind of fault.
func (g *grid) prove(to *source.Reporter) {
	type pair struct{ a, b int }
	gap, gaps := -1, 0
	overlaps, first := map[pair]int{}, map[pair]int{}
	used := make([]bool, len(g.conds))
	for cell := range g.cells {
		found := -1
		for i := range g.conds {
			if !g.holdsAt(&g.conds[i], cell) {
				continue
			}
			used[i] = true
			if found < 0 {
				found = i
				continue
			}
			p := pair{found, i}
			if overlaps[p] == 0 {
				first[p] = cell
			}
			overlaps[p]++
		}
		if found < 0 {
			if gaps == 0 {
				gap = cell
			}
			gaps++
		}
	}
	if gaps > 0 {
		branchGap.report(to, g.step.Pos, len(g.step.ID), "add a branch for it, or widen one",
			"step %q has no branch for %s%s", g.step.ID, g.witness(gap), cellsMore(gaps))
	}
	for p, n := range overlaps {
		a, b := g.step.Branches[p.a].When, g.step.Branches[p.b].When
		branchOverlap.report(to, b.Pos, len([]rune(b.Text)), "change one so that they never meet",
			"both %q and %q hold for %s%s", a.Text, b.Text, g.witness(first[p]), cellsMore(n))
	}
	for i, hit := range used {
		if c := g.step.Branches[i].When; !hit {
			branchNever.report(to, c.Pos, len([]rune(c.Text)), "", "no reading makes %q hold", c.Text)
		}
	}
}

func cellsMore(n int) string {
	if n == 1 {
		return ""
	}
	return fmt.Sprintf(", and in %d more places", n-1)
}

// witness writes the readings of a cell as a person would.
func (g *grid) witness(cell int) string {
	var out []string
	for i := range g.axes {
		a := &g.axes[i]
		k := cell / a.stride % a.size()
		if a.name.IsLook() {
			out = append(out, a.name.ID+" "+a.name.Look().AnswerID(a.answers[k]))
			continue
		}
		out = append(out, fmt.Sprintf("%s %s %s", a.name.ID, round(a.numbers, k), a.name.Quantity().Unit()))
	}
	sort.Strings(out)
	return strings.Join(out, ", ")
}

// round writes witness k with as few digits as still lie in its own cell.
func round(numbers []float64, k int) string {
	x := numbers[k]
	low, high := math.Inf(-1), math.Inf(1)
	if k > 0 {
		low = numbers[k-1]
	}
	if k+1 < len(numbers) {
		high = numbers[k+1]
	}
	for digits := 0; digits < 17; digits++ {
		scale := math.Pow(10, float64(digits))
		if y := math.Round(x*scale) / scale; y == x || k%2 == 1 && y > low && y < high {
			return fmt.Sprintf("%.*f", digits, y)
		}
	}
	return fmt.Sprint(x)
}
