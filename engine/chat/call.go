package chat

import (
	"time"

	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// Conversation is a call under way. Step takes what was said and gives what to
// show; the rest are questions about the state it holds.
type Conversation interface {
	Step(session.Event) []session.Effect
	// Open is the question that stands; ok is false where none does.
	Open() (question session.Effect, ok bool)
	// Why says why the open question is asked, a line each.
	Why() []string
	// Record is the call so far, a line each.
	Record() []string
	House() session.House
	Facts() house.Facts
	Audience() house.Audience
}

// Held is the conversation that a book holds, from a state on.
type Held struct {
	book  *session.Book
	state session.State
}

// Hold starts at state: the zero State for a new call, a replayed one to go on.
func Hold(book *session.Book, state session.State) *Held { return &Held{book, state} }

// State is the call as it stands.
func (h *Held) State() session.State { return h.state }

// Step implements Conversation, and so do the rest.
func (h *Held) Step(e session.Event) (effects []session.Effect) {
	h.state, effects = h.book.Step(h.state, e)
	return effects
}

func (h *Held) Open() (session.Effect, bool) {
	q := h.state.Pending()
	return q, q.Ask != nil || q.Do != nil || q.Caution != nil
}

func (h *Held) Why() []string            { return h.book.Why(h.state) }
func (h *Held) Record() []string         { return h.state.Record() }
func (h *Held) House() session.House     { return h.state.House() }
func (h *Held) Facts() house.Facts       { return h.state.Facts() }
func (h *Held) Audience() house.Audience { return h.state.Audience() }

// Recorder keeps events; a journal is one. Chat shows nothing that follows
// from an event before Append has returned.
type Recorder interface {
	Append(session.Event) error
}

// Hooks answer commands whose subject chat does not know. A nil one is not
// offered.
type Hooks struct {
	// Suspects gives what still explains what was seen; false where no circuit
	// model is attached.
	Suspects func() (session.Explanation, bool)
	// Expect gives what the terminals of the open question should read in a
	// healthy house, a line each.
	Expect func() []string
	// Landing starts the check of how a new thermostat's wires were landed.
	Landing func() (Aside, error)
	// Ladder gives the circuit drawn as a ladder, a line each, shown under the
	// picture of the leads.
	Ladder func() []string
	// Title is a fault in words.
	Title func(house.Fault) string
}

// Options are what a chat needs of the world.
type Options struct {
	Call    string // the call's name, to resume it by
	Version string
	Resumed bool

	Recorder Recorder         // nil keeps nothing
	Match    session.Matcher  // nil hears no emergency words
	Now      func() time.Time // nil stamps no event and counts no wait
	Hooks    Hooks
	Style    Style
}

// call is what both forms share: the conversation, its record and its end.
type call struct {
	Options
	talk    Conversation
	ended   bool
	exit    int
	found   house.Verdict // of the finding, once there is one
	unsaved bool          // the record failed; the call goes on in memory
}

// Ended says whether the call has ended or was left, and with which exit code.
func (c *call) Ended() (exit int, over bool) { return c.exit, c.ended }

// send steps the conversation and hands the event to the recorder before
// anything that follows from it can be shown. A reply that was not taken is no
// event. The error is the recorder's, given once.
func (c *call) send(e session.Event) ([]session.Effect, error) {
	if c.Now != nil && e.At.IsZero() {
		e.At = c.Now()
	}
	effects := c.talk.Step(e)
	for _, f := range effects {
		if f.Finding != nil {
			c.found = f.Finding.Verdict
		}
		if f.End != nil {
			c.ended, c.exit = true, f.End.Exit
		}
	}
	if refused(effects) || c.unsaved || c.Recorder == nil {
		return effects, nil
	}
	if err := c.Recorder.Append(e); err != nil {
		c.unsaved = true
		return effects, err
	}
	return effects, nil
}

// refused says whether a reply was turned down and nothing else happened.
func refused(effects []session.Effect) bool {
	for _, f := range effects {
		if f.Problem == nil {
			return false
		}
	}
	return len(effects) > 0
}

// open is the question that stands, the zero effect where none does.
func (c *call) open() session.Effect {
	q, ok := c.talk.Open()
	if !ok || c.ended {
		return session.Effect{}
	}
	return q
}

// title is a fault in words, its id where nobody gave any.
func (c *call) title(f house.Fault) string {
	if c.Hooks.Title != nil {
		if t := c.Hooks.Title(f); t != "" {
			return source.Clean(t)
		}
	}
	return f.String()
}

func (c *call) now() time.Time {
	if c.Now == nil {
		return time.Time{}
	}
	return c.Now()
}

// emergency is what sort of emergency words name, empty where none.
func (c *call) emergency(words string) string {
	if c.Match == nil {
		return ""
	}
	return c.Match.Match(words).Emergency
}
