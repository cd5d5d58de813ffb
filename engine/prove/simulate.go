package prove

import (
	"fmt"

	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/tree"
)

// Trail is one simulated call: what was asked and answered, every event that
// replays it, and where it came to.
type Trail struct {
	Opening session.Opening
	Asked   []Asked
	Events  []session.Event // after the opening
	End     *session.FindingEffect
}

// callEventsMax bounds a call: the longest walk of the trees is far shorter.
const callEventsMax = 2000

// Simulate holds a whole conversation about complaint c as audience who, the
// caller answering. The history of the house is the symptom: it is played
// first. The book's own matcher is not asked.
func Simulate(b *session.Book, who house.Audience, caller *Caller) (*Trail, error) {
	book := *b
	book.Match = only{caller.Complaint}
	t := book.Trees.Trees[caller.Complaint]
	if t == nil {
		return nil, fmt.Errorf("there is no tree %s", caller.Complaint)
	}
	for _, setup := range symptomSetups(t) {
		for _, h := range []House{caller.House, caller.Later} {
			if h == nil {
				continue
			}
			if err := h.Play(caller.Slip.bend(setup)); err != nil {
				return nil, fmt.Errorf("the symptom of %s: %w", t.ID, err)
			}
		}
	}
	trail := &Trail{Opening: session.Opening{Audience: who, Complaint: t.Title}}
	if len(t.Complaints) > 0 {
		trail.Opening.Complaint = t.Complaints[0]
	}
	caller.asked, caller.waited = nil, false
	state, _ := book.Step(session.State{}, session.Event{Kind: session.Start, Open: &trail.Opening})
	for !state.Ended() {
		if len(trail.Events) == callEventsMax {
			return trail, fmt.Errorf("the call does not end within %d events", callEventsMax)
		}
		e := caller.Reply(state.Pending())
		trail.Events = append(trail.Events, e)
		next, effects := book.Step(state, e)
		for _, x := range effects {
			if x.Problem != nil {
				return trail, fmt.Errorf("the conversation did not take %s: %s", e.Kind, x.Problem.Text)
			}
		}
		state = next
	}
	trail.Asked, trail.End = caller.asked, state.Finding()
	return trail, nil
}

// only matches every word to one complaint.
type only struct{ complaint house.Complaint }

func (o only) Match(string) session.Match {
	return session.Match{Trees: []house.Complaint{o.complaint}, Sure: true}
}

// Shows reports whether the house shows a complaint: its look, in its setup,
// answers one of what it shows. A tree without a look is entered from others
// only and is shown by nothing.
func Shows(b *session.Book, c house.Complaint, h House) bool {
	t := b.Trees.Trees[c]
	if t == nil {
		return false
	}
	for _, symptom := range t.Symptoms {
		if symptom.Look == house.NoLook {
			continue
		}
		setup := symptom.Setup.Over(house.DefaultSetup())
		if h.Play(setup) != nil {
			continue
		}
		a, err := h.Look(setup, symptom.Look)
		for _, shown := range symptom.Shows {
			if err == nil && a == shown {
				return true
			}
		}
	}
	return false
}

// symptomSetups are the setups a complaint is seen in, in order; playing them
// is the history of a house.
func symptomSetups(t *tree.Tree) []house.Setup {
	var out []house.Setup
	for _, s := range t.Symptoms {
		out = append(out, s.Setup.Over(house.DefaultSetup()))
	}
	return out
}
