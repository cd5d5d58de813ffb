// Package session is the conversation itself: a pure function from a state
// and an event to the next state and its effects. It knows trees, cautions and
// the planner; it knows nothing of screens, files, clocks or the circuit.
//
//	book := session.Book{Trees: library, Cautions: cautions, Match: matcher}
//	state, effects := book.Step(session.State{}, session.Event{Kind: session.Start})
//
// Replaying the same events gives the same state, so a journal of events is
// the call. `back` undoes answers, never the house: covers, power and jumpers
// stay as they are and the planner works from there.
//
// May import: tree, planner, caution, house, quantity.
package session
