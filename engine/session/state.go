package session

import (
	"time"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/tree"
)

// phase is where the conversation stands.
type phase uint8

// A call is not open yet, opens with its gates, walks a tree, leaves the house
// safe and ends.
const (
	unopened phase = iota
	opening
	walking
	leaving
	ended
)

// State is a call at one moment. The zero State is a call not yet opened. A
// State is a value: Step never changes the one it is given.
type State struct {
	phase   phase
	who     house.Audience
	facts   house.Facts
	home    planner.State
	gates   gates
	step    *tree.Step
	pending Effect // the open question, do or caution; empty after the end
	asked   asked  // what pending is about

	seen []Seen // every probe made, in order
	// shown is what the steps of the present tree showed, in order.
	shown []shown
	// cannot are the pairs of the open batch that cannot be read, by name.
	cannot []string
	// openFrom is the first step of the trailing run of steps that could not
	// be made: what is reachable from it is still undecided.
	openFrom *tree.Step
	// safing is set while an `unable` to a do or caution is made safe, before
	// the step's unable edge is taken.
	safing bool
	// declined are the planner's actions that cannot be done, by id: they are
	// not asked for again.
	declined []string
	high     house.Finding // set by a control reading that is too high
	// outside is set once the complaint is not about this circuit.
	outside bool
	fact    house.Fact // the house fact asked for
	// spelling is set while the letters are typed rather than chosen.
	spelling bool
	next     planner.Action // what a pending do, caution or look carries out

	led        *led         // the open step where no tree asks it
	ledCount   int          // probes a guide has asked for
	barred     []Proposal   // probes it proposed that cannot be made
	cuts       []*tree.Step // steps somebody said cannot be made
	blind      []house.Look // looks somebody said cannot be made
	doubt      *Doubt       // a reading offered to be made again
	stood      []Proposal   // readings that were offered so before
	doubtCount int
	left       []house.Fault // what a guide leaves at the end
	notice     string        // to be told before the next question

	found  *FindingEffect
	told   bool // the finding was shown
	ending planner.Ending

	last *State // before the last answer, for back
	log  []Entry
}

// gates holds the answers to the opening questions.
type gates struct {
	emergency   string // "" unasked, "no", or what it is
	words       string // the complaint as it was said
	early       string // the same, said before it was asked for
	saidWords   bool
	known       []Seen // what was seen, said before the complaint was known
	candidates  []house.Complaint
	fewer       bool // candidates are those the words sound like, not all
	complaint   house.Complaint
	people      string // dispatcher: who is at risk
	temperature string // dispatcher: how it is indoors
}

// asked tells what the open question is about.
type asked uint8

const (
	askedNothing asked = iota
	askedEmergency
	askedWords
	askedComplaint
	askedEquipment
	askedPeople
	askedTemperature
	askedFact
	askedLetters
	askedStep
	askedPlanner
	askedRetake
)

// Entry is one line of the record.
type Entry struct {
	At   time.Time
	Kind EntryKind
	Text string
	Seen *Seen
}

// EntryKind sorts the record's lines.
type EntryKind string

// The kinds of entry.
const (
	EntryOpened   EntryKind = "opened"
	EntryAnswer   EntryKind = "answer"
	EntryRead     EntryKind = "read"
	EntryDone     EntryKind = "done"
	EntryCaution  EntryKind = "caution"
	EntryUnable   EntryKind = "unable"
	EntryBack     EntryKind = "back"
	EntryNote     EntryKind = "note"
	EntryResumed  EntryKind = "resumed"
	EntryFinding  EntryKind = "finding"
	EntryHandover EntryKind = "handover"
)

// Audience is who the call is for.
func (s State) Audience() house.Audience { return s.who }

// Facts is what is known of the house.
func (s State) Facts() house.Facts { return s.facts }

// House is the setup and what is proven dead.
func (s State) House() House { return houseOf(s.home) }

// Complaint is the tree the call was matched to, NoComplaint before.
func (s State) Complaint() house.Complaint { return s.gates.complaint }

// Words is the complaint in the person's own words.
func (s State) Words() string { return s.gates.words }

// Seen is every probe made so far, in order.
func (s State) Seen() []Seen { return append([]Seen(nil), s.seen...) }

// Log is the record, in order.
func (s State) Log() []Entry { return append([]Entry(nil), s.log...) }

// Pending is the open question, do or caution; its fields are all nil once the
// call has ended.
func (s State) Pending() Effect { return s.pending }

// Finding is what the call ended with, nil before.
func (s State) Finding() *FindingEffect { return s.found }

// Ended reports whether the call has come to its end.
func (s State) Ended() bool { return s.phase == ended }

// Blank reports whether the call has begun and nothing was said in it.
func (s State) Blank() bool { return s.Opened() && len(s.log) == 1 && !s.gates.saidWords }

// Opened reports whether the call has begun.
func (s State) Opened() bool { return s.phase != unopened }

func houseOf(p planner.State) House {
	return House{Setup: p.Setup, Dead: p.Dead.List(), Unset: p.StatUnknown, Unsure: p.Unknown.List()}
}

// push adds to a slice without touching what an older state sees.
func push[T any](list []T, v T) []T {
	return append(list[:len(list):len(list)], v)
}
