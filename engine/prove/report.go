package prove

import (
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/source"
)

// Report is what was proven, and what was found wrong.
type Report struct {
	Problems source.Problems
	Calls    []Counterexample

	Trees      int
	Steps      int
	Branches   BranchCount
	Safety     *SafetyReport
	Physics    *Tally
	Cost       []CostRow
	Matrix     []MatrixRow
	Unfinished []house.Equipment // as the options say
	Treeless   []house.Complaint // complaints without a tree, where all trees were proven
	Edges      int               // of the trees walked
	Untaken    []Untaken         // edges no simulated call takes, by step
}

// Untaken is the edges of one step that no simulated call takes.
type Untaken struct {
	Step     string // tree/step
	Asked    bool   // some call comes to the step
	Straight bool   // … one that goes as asked; else only calls with a slip do
	Edges    []string
}

// String says it in a line.
func (u Untaken) String() string {
	if !u.Asked {
		return u.Step + ": no call comes to it"
	}
	text := u.Step + ": " + strings.Join(u.Edges, "; ")
	if !u.Straight {
		text += " (asked only after a slip)"
	}
	return text
}

func (r *Report) untakenEdges() int {
	n := 0
	for _, u := range r.Untaken {
		n += len(u.Edges)
	}
	return n
}

// Counterexample is a call that ended where it should not have.
type Counterexample struct {
	Problem   source.Problem
	Code      string
	Equipment house.Equipment
	House     int // 0 is the nominal one, then the corners, then the seeded draws
	Fault     house.Fault
	Complaint house.Complaint
	Audience  house.Audience
	Slip      string
	Finding   house.Finding
	Best      []house.Fault // what every allowed probe together leaves
	Left      []house.Fault // what the call left, where it stayed open
	Count     int           // calls of this kind
	Faults    []house.Fault // they were on
	Replay    Replay
}

// MatrixRow is the complaints one fault shows on one equipment, on some house
// at least.
type MatrixRow struct {
	Equipment  house.Equipment
	Fault      house.Fault
	Complaints []house.Complaint
}
