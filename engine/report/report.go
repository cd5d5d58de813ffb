package report

import (
	"fmt"
	"strings"
	"time"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// Format is the number of the JSON form.
const Format = 1

// Options are what a report needs beside the journal.
type Options struct {
	// Who and Where are free text; where empty, notes that begin with
	// "who:" and "where:" tell.
	Who, Where string
	// Equipment is drawn; nil draws nothing.
	Equipment *circuit.Equipment
	// Explain says what each probe ruled out; nil says nothing of it.
	Explain session.Explainer
}

// Report is a call as it is handed on. All text in it is safe to show: control
// characters are visible escapes.
type Report struct {
	Format    int       `json:"report"`
	Call      string    `json:"call"`
	Version   string    `json:"version"`
	Trees     string    `json:"trees"`
	Started   time.Time `json:"started"`
	Minutes   float64   `json:"minutes"` // from the first to the last event, without pauses
	Ended     bool      `json:"ended"`
	Who       string    `json:"who"`
	Where     string    `json:"where"`
	Audience  string    `json:"audience"`
	Complaint Complaint `json:"complaint"`
	Equipment Equipment `json:"equipment"`
	Facts     []Fact    `json:"facts"`
	Probes    []Probe   `json:"probes"`
	Cautions  []Event   `json:"cautions"`
	Done      []Event   `json:"done"`
	Unable    []Event   `json:"unable"`
	Notes     []Event   `json:"notes"`
	Passed    []Event   `json:"passed-on"` // hand-overs and pauses
	Finding   *Finding  `json:"finding"`   // null while the call is open
	Closed    *Closed   `json:"closed"`    // null where nobody said what it turned out to be
	// Unfit counts the kept answers that the trees of now do not take.
	Unfit int `json:"unfit"`

	ladder *ladder
}

// Complaint is what the house does not do: in the person's words, and as it
// was taken.
type Complaint struct {
	Words string `json:"words"`
	ID    string `json:"id"`
	Title string `json:"title"`
}

// Equipment is the kind of system; its id is "unknown" where nobody knew.
type Equipment struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// Fact is one thing known of the house.
type Fact struct {
	ID     string `json:"id"`
	Answer string `json:"answer"`
}

// Probe is one look or reading. A look has Look, Answer and Shown; a reading
// has its quantity, its leads (a clamp its conductor), Value and Shown.
type Probe struct {
	No        int       `json:"no"`
	At        time.Time `json:"at,omitzero"`
	What      string    `json:"what"`
	Shown     string    `json:"shown"`
	Look      string    `json:"look,omitempty"`
	Answer    string    `json:"answer,omitempty"`
	Quantity  string    `json:"quantity,omitempty"`
	Place     string    `json:"place,omitempty"`
	Red       string    `json:"red,omitempty"`
	Black     string    `json:"black,omitempty"`
	Conductor string    `json:"conductor,omitempty"`
	// Value is in V rms, V DC, ohm or A, as the meter showed it.
	Value    *quantity.Reading `json:"value,omitempty"`
	Unit     string            `json:"unit,omitempty"`
	Setup    house.Setup       `json:"setup"`
	House    string            `json:"house"`     // the setup in words
	RuledOut []Fault           `json:"ruled-out"` // by this probe
	Left     int               `json:"left"`      // suspects left after it; 0 without a model

	seen session.Seen
}

// Fault is a fault and its words.
type Fault struct {
	ID    string `json:"id"`
	Title string `json:"title"`
}

// Event is one line of what was done, read or said.
type Event struct {
	At   time.Time `json:"at,omitzero"`
	ID   string    `json:"id,omitempty"` // a caution's
	Text string    `json:"text"`
}

// Finding is what the call ended with.
type Finding struct {
	ID          string   `json:"id"`
	Title       string   `json:"title"`
	Verdict     string   `json:"verdict"`
	Faults      []Fault  `json:"faults"`
	Family      string   `json:"family"`
	Condemns    bool     `json:"condemns"`              // it replaces a thermostat
	Probability float64  `json:"probability,omitempty"` // of these faults together, 0 to 1
	What        []string `json:"what"`
	Evidence    []int    `json:"evidence"` // numbers of probes
	Do          []string `json:"do"`
	Tell        []string `json:"tell"`
	Confirm     string   `json:"confirm"`
	Commonly    string   `json:"commonly"`
	Parts       []string `json:"parts"`
	Skills      []string `json:"skills"`
	Urgency     string   `json:"urgency"`
	Again       []string `json:"again,omitempty"` // what to look at when a house that works now fails again
}

// Closed is what the call turned out to be.
type Closed struct {
	At    time.Time `json:"at"`
	Fault Fault     `json:"fault"`
	Note  string    `json:"note,omitempty"`
}

// Of replays a call through the book it was held with.
func Of(b *session.Book, name string, call journal.Call, o Options) (*Report, error) {
	if len(call.Events) == 0 {
		return nil, fmt.Errorf("call %s holds nothing yet", source.Clean(name))
	}
	w := &writer{book: b, options: o}
	for _, e := range call.Events {
		w.step(e)
	}
	r := &Report{
		Format: Format, Call: source.Clean(name), Version: source.Clean(call.Head.Version), Trees: source.Clean(call.Trees),
		Started: call.Head.Started, Minutes: call.Minutes(), Ended: call.End != nil || w.state.Ended(), Unfit: w.unfit,
	}
	w.fill(r)
	if c := call.Closed; c != nil {
		r.Closed = &Closed{At: c.At, Fault: w.fault(c.Fault), Note: source.Clean(c.Note)}
	}
	if o.Equipment != nil && o.Equipment.ID == w.state.Facts().Equipment {
		r.ladder = draw(o.Equipment, r)
	}
	return r, nil
}

// titled cuts "who: Sam" into its text where a note tells that.
func titled(note, what string) (string, bool) {
	head, text, ok := strings.Cut(note, ":")
	if !ok || !strings.EqualFold(strings.TrimSpace(head), what) {
		return "", false
	}
	return strings.TrimSpace(text), true
}
