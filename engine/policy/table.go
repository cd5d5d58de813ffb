package policy

// Table is what every state shows on every test.
type Table struct {
	// Prior is the weight of each state; it need not sum to 1.
	Prior []float64
	// Class is the finding of each state: states of one class need not be told
	// apart. Classes count from 0.
	Class []int
	Tests []Test
	// Visits are the minutes of what several tests share and is paid once, such
	// as a cover opened safely; a test names its own by bit.
	Visits []float64
	// Least is the probability under which an outcome is not followed when
	// looking ahead; 0 follows all, and the optimum is exact.
	Least float64
}

// Test is one probe.
type Test struct {
	// Shows holds, by state, what it may show.
	Shows [][]Piece
	// Minutes is its own cost; Needs are the visits it needs, by bit.
	Minutes float64
	Needs   uint64
}

// Piece is a share of what a state may show: spread evenly from Lo to Hi, or
// all at Lo where Hi equals it. A state's shares sum to 1.
type Piece struct{ Lo, Hi, Share float64 }

// Answers is a test whose states each give one certain answer.
func Answers(minutes float64, answers ...float64) Test {
	t := Test{Minutes: minutes, Shows: make([][]Piece, len(answers))}
	for s, a := range answers {
		t.Shows[s] = []Piece{{a, a, 1}}
	}
	return t
}

// Spreads is a test whose states each show an even spread.
func Spreads(minutes float64, spreads ...[2]float64) Test {
	t := Test{Minutes: minutes, Shows: make([][]Piece, len(spreads))}
	for s, r := range spreads {
		t.Shows[s] = []Piece{{r[0], r[1], 1}}
	}
	return t
}

// Belief is what is thought at one point of a call. It is a value: a test made
// gives new beliefs and leaves the old one alone.
type Belief struct {
	Weight []float64 // by state, sums to 1; 0 is ruled out
	Made   []bool    // by test
	Paid   uint64    // visits already paid
}

// Start is the belief before any test.
func (t *Table) Start() Belief {
	b := Belief{Weight: make([]float64, len(t.Prior)), Made: make([]bool, len(t.Tests))}
	var sum float64
	for _, p := range t.Prior {
		sum += p
	}
	for s, p := range t.Prior {
		b.Weight[s] = p / sum
	}
	return b
}

// Live counts the states not ruled out.
func (b *Belief) Live() int {
	n := 0
	for _, w := range b.Weight {
		if w > 0 {
			n++
		}
	}
	return n
}

// Cost is the minutes test i takes now.
func (t *Table) Cost(b *Belief, i int) float64 {
	cost := t.Tests[i].Minutes
	for v, minutes := range t.Visits {
		if bit := uint64(1) << v; t.Tests[i].Needs&bit != 0 && b.Paid&bit == 0 {
			cost += minutes
		}
	}
	return cost
}

// classes is one more than the largest class.
func (t *Table) classes() int {
	n := 0
	for _, c := range t.Class {
		n = max(n, c+1)
	}
	return n
}

// settled reports whether all live states are of one class.
func (t *Table) settled(b *Belief) bool {
	class := -1
	for s, w := range b.Weight {
		if w <= 0 {
			continue
		}
		if class >= 0 && t.Class[s] != class {
			return false
		}
		class = t.Class[s]
	}
	return true
}

// ClassesLeft counts the classes of the live states.
func (t *Table) ClassesLeft(b *Belief) int {
	seen := make([]bool, t.classes())
	n := 0
	for s, w := range b.Weight {
		if w > 0 && !seen[t.Class[s]] {
			seen[t.Class[s]] = true
			n++
		}
	}
	return n
}

// alike reports whether two states can show the very same things on test i.
func (t *Table) alike(i, a, b int) bool {
	p, q := t.Tests[i].Shows[a], t.Tests[i].Shows[b]
	if len(p) != len(q) {
		return false
	}
	for k := range p {
		if p[k].Lo != q[k].Lo || p[k].Hi != q[k].Hi {
			return false
		}
	}
	return true
}

// Useful lists the tests still worth thinking of: those not made that tell
// live states apart, while some test not made tells two live classes apart.
// Where there is none the call has come as far as it can.
func (t *Table) Useful(b *Belief) []int {
	if t.settled(b) {
		return nil
	}
	var live []int
	for s, w := range b.Weight {
		if w > 0 {
			live = append(live, s)
		}
	}
	var useful []int
	across := false
	for i := range t.Tests {
		if b.Made[i] {
			continue
		}
		splits, crosses := t.splits(i, live)
		if splits {
			useful = append(useful, i)
		}
		across = across || crosses
	}
	if !across {
		return nil
	}
	return useful
}

// splits reports whether test i tells any two live states apart, and whether
// two of different class.
func (t *Table) splits(i int, live []int) (splits, crosses bool) {
	for k, a := range live {
		for _, b := range live[k+1:] {
			if t.alike(i, a, b) {
				continue
			}
			splits = true
			if t.Class[a] != t.Class[b] {
				return true, true
			}
		}
	}
	return splits, false
}
