package session

import (
	"stepdown/engine/caution"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Effect is one thing to show: exactly one field is set.
type Effect struct {
	Ask      *Ask
	Do       *Do
	Caution  *CautionEffect
	Tell     *Tell
	Suspects *Explanation
	Finding  *FindingEffect
	Problem  *Problem
	End      *End
}

// AskKind is how a question is answered.
type AskKind string

// A measure is answered by Values, a look or choose by Answer, text by Text.
const (
	AskMeasure AskKind = "measure"
	AskLook    AskKind = "look"
	AskChoose  AskKind = "choose"
	AskText    AskKind = "text"
)

// Ask is one question; Step names it: a tree's step, a house fact or one of
// the reserved steps emergency, people, temperature, complaint, retake.
type Ask struct {
	Step     string
	Kind     AskKind
	Text     string
	Why      string
	Quantity quantity.Quantity
	At       house.Place
	Pairs    []Pair // still to be read
	Given    []Pair // of the same batch, already read or said to be unreadable
	Look     house.Look
	Answers  []Choice
	Early    bool // the complaint may be said here, ahead of its question, as Text
	// House is the state the probe is made in, for looks and readings.
	House *House
}

// Pair is one reading of a batch. Amps name Conductor; red and black are then
// its screw.
type Pair struct {
	Name       string
	Red, Black house.Terminal
	Conductor  house.Conductor
}

// Choice is one answer.
type Choice struct{ ID, Text string }

// House is the setup, the places proven dead, and what of the setup nobody in
// this sitting has set or vouched for.
type House struct {
	Setup  house.Setup
	Dead   []house.Place
	Unset  bool          // the thermostat is as its people left it
	Unsure []house.Place // whose power nobody vouched for
}

// Do is an instruction for the hands; WaitSeconds is a counted wait, 0 where
// none. House is the state after it.
type Do struct {
	ID          string
	Text        string
	WaitSeconds int
	House       House
}

// CautionEffect must be acknowledged by typing Word.
type CautionEffect struct{ caution.Caution }

// Tell is one line to show; Tree is set once the complaint is matched.
type Tell struct {
	Text string
	Tree house.Complaint
}

// FindingEffect is what the call ends with.
type FindingEffect struct {
	ID          house.Finding
	Title       string
	Faults      []house.Fault // most likely first
	Family      house.Family  // NoFamily unless all faults share it
	Condemns    bool
	Probability float64 // 0 while no model is attached
	Verdict     house.Verdict
	Text        []string // what it is and the readings that prove it
	Evidence    []Seen
	Do          []string // the repair in order, or the safe thing to do
	Tell        []string // what to tell a technician
	Hazards     []string // what can hurt whoever does the work, in a few words each
	Confirm     string
	Commonly    string
	Parts       []string
	Skills      []string
	Urgency     string // empty for a technician
	// Settles is the probe that would tell apart what an undecided call leaves,
	// and who can make it; empty where none would.
	Settles string
	// Partly is set where Settles tells most of all that could be read next, and
	// still may leave more than one cause.
	Partly bool
	// Again is what to look at or read, in this order, when a house that works
	// now fails again, before anything is touched.
	Again []string
}

// Problem says why a reply was not taken; the open question stands.
type Problem struct{ Code, Text string }

// End closes the call. Kept calls can be resumed; a blank one holds nothing
// yet.
type End struct {
	Exit  int
	Kept  bool
	Blank bool
}

// Explainer knows which faults still explain what was seen. The session holds
// only this much of the circuit model; it must not know the true fault.
type Explainer interface {
	Explain(f house.Facts, c house.Complaint, seen []Seen) Explanation
}

// Explanation is the faults consistent with everything seen, most likely
// first, with their probabilities, and how many were ruled out.
type Explanation struct {
	Left     []Suspect
	RuledOut int
	// Doubt is set where what was seen last fits no single fault with the rest.
	Doubt *Doubt
	Ruled []Ruled // in a full account only
}

// Suspect is one fault and its probability.
type Suspect struct {
	Fault       house.Fault
	Probability float64
	// With is a second fault, where only two at once explain what was seen.
	With house.Fault
	// For and Against are what speaks most for it and against it beside the
	// others left, in a full account only.
	For, Against []Seen
}

// Matcher finds the trees that a person's own words may mean.
type Matcher interface {
	Match(text string) Match
}

// Match is what words were understood as: an emergency, something outside
// this circuit, equipment that is never metered, or trees, best first. Sure is
// set where the first stands alone.
type Match struct {
	Emergency string          // what it was: gas, smoke …; empty where none
	Outside   string          // what it was: noise, water …; empty where none
	Equipment house.Equipment // declined or stopped; NoEquipment as a rule
	Trees     []house.Complaint
	Sure      bool
}
