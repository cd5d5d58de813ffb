package prove

import (
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
	Corners    int                    // as the options say: 0 is all
	Hidden     map[house.Fault]string // as the options say
	Treeless   []house.Complaint      // complaints without a tree, where all trees were proven
	Edges      int                    // of the trees walked
	EdgesTwice int                    // … taken only by calls with two things wrong
	Untaken    []Untaken              // edges no simulated call takes, by step
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
