package session

import (
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Guide leads a call on where its tree has no way, and tells what a probe would
// leave. Like an Explainer it holds the circuit model, and must not know the
// true fault. The same query gives the same answer, so that a call can be
// replayed.
type Guide interface {
	Explainer
	// Next is the probe best made next among those allowed, and the bits it is
	// expected to tell about what is wrong; false where none of them tells apart
	// what is left.
	Next(q Query, allowed func(Proposal) bool) (p Proposal, bits float64, ok bool)
	// Settle is the probe among those allowed that best tells apart what a call
	// leaves open, however many readings in a row told nothing; false where none
	// does.
	Settle(q Query, allowed func(Proposal) bool) (p Proposal, ok bool)
	// Verdict is what a call led by the model alone may end with, most likely
	// first; sure is set where each of them explains everything seen.
	Verdict(q Query) (faults []house.Fault, sure bool)
	// Outcomes is what a probe may show, and what of the suspects that leaves.
	Outcomes(q Query, p Proposal) []Outcome
	// Card is what to look at or read, in this order, the next time a house
	// fails like that: of the probes allowed, those that best split what it may
	// be then.
	Card(f house.Facts, c house.Complaint, at house.Setup, allowed func(Proposal) bool) []Proposal
	// Account is the explanation in full: which readings speak for each suspect,
	// and which ruled out the others.
	Account(q Query) Explanation
}

// Query is a call as a Guide is told it.
type Query struct {
	Facts     house.Facts
	Complaint house.Complaint
	Seen      []Seen
	At        house.Setup // the house as it stands
	Rested    bool        // its call has run through a counted five minutes
}

// Proposal is a probe and the setup to make it in; Rested asks for the call to
// have run through a counted five minutes.
type Proposal struct {
	Probe  house.Probe
	Setup  house.Setup
	Rested bool
}

// Outcome is one thing a probe may show and the suspects that may show it. A
// look has Answer; a reading lies from Lo to Hi.
type Outcome struct {
	Faults []house.Fault
	Answer house.Answer
	Lo, Hi quantity.Reading
}

// Doubt is what was seen last and no single fault explains: the reading best
// made again, and the likely slip.
type Doubt struct {
	Proposal
	Slip string
}

// Ruled is what one probe ruled out that none before it had.
type Ruled struct {
	Seen   Seen
	Faults []house.Fault
}

// query is the call as a guide is told it.
func (s State) query() Query {
	return Query{Facts: s.facts, Complaint: s.gates.complaint, Seen: s.seen, At: s.home.Setup, Rested: s.home.Ran}
}

// guided reports whether the model can be asked about the call: from its
// complaint on, which is the first thing seen.
func (b *Book) guided(s State) bool {
	return b.Guide != nil && s.phase > opening && b.Trees.Trees[s.gates.complaint] != nil
}

// Account is what still explains everything seen, in full; empty where the
// model cannot be asked.
func (b *Book) Account(s State) Explanation {
	if !b.guided(s) {
		return b.Suspects(s)
	}
	return b.Guide.Account(s.query())
}
