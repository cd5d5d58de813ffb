package journal

import "stepdown/engine/session"

// Stepper is the conversation that a call is replayed through;
// *session.Book is one.
type Stepper interface {
	Step(session.State, session.Event) (session.State, []session.Effect)
}

// Replayed is where a replay arrives.
type Replayed struct {
	State session.State
	// Effects are what the last event brought: the open question among them.
	Effects []session.Effect
	// Refused are the indexes of the events that the conversation did not
	// take, as it once did or did not; with other trees there may be more.
	Refused []int
}

// Replay steps from the zero state through events.
func Replay(s Stepper, events []session.Event) Replayed {
	var r Replayed
	for i, e := range events {
		r.State, r.Effects = s.Step(r.State, e)
		for _, effect := range r.Effects {
			if effect.Problem != nil {
				r.Refused = append(r.Refused, i)
				break
			}
		}
	}
	return r
}
