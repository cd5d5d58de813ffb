package session

import (
	"encoding/json"
	"fmt"
	"time"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// EventKind names what happened.
type EventKind string

// The events. Start opens a call; Answer, Values, Done and Acknowledge reply
// to the open question; the rest may come at any time.
const (
	Start       EventKind = "start"
	Answer      EventKind = "answer"      // a look or a choice: Answer holds the id
	Text        EventKind = "text"        // free text asked for
	Values      EventKind = "values"      // readings, by pair name
	Done        EventKind = "done"        // a do was carried out
	Acknowledge EventKind = "acknowledge" // a caution's word was typed
	Unable      EventKind = "unable"      // cannot do, read or see what was asked
	Back        EventKind = "back"        // undo the last answer
	Note        EventKind = "note"        // free text for the record
	Volunteer   EventKind = "volunteer"   // a reading or look nobody asked for
	Emergency   EventKind = "emergency"   // somebody says gas, smoke, shock …
	Resume      EventKind = "resume"      // the call goes on after a pause
	Quit        EventKind = "quit"        // the call is kept
	Handover    EventKind = "handover"    // Open says who goes on with the call
)

// Event is one thing a person or a program said. It is what the journal
// keeps; its JSON form is the journal's.
type Event struct {
	Kind  EventKind                   `json:"event"`
	At    time.Time                   `json:"at,omitzero"`
	Open  *Opening                    `json:"open,omitempty"`
	Reply string                      `json:"reply,omitempty"` // Answer's id, Text's and Note's text, Acknowledge's word
	Read  map[string]quantity.Reading `json:"read,omitempty"`  // Values, by pair name
	Seen  *Seen                       `json:"seen,omitempty"`  // Volunteer
	// Handed is the call so far, of a Handover that opens one.
	Handed *Handed `json:"handed,omitempty"`
}

// Opening is what a call starts with.
type Opening struct {
	Audience  house.Audience `json:"audience"`
	Equipment string         `json:"equipment,omitempty"` // an id, empty to ask
	Meter     string         `json:"meter,omitempty"`     // an id, empty to ask
	Complaint string         `json:"complaint,omitempty"` // the person's own words, empty to ask
	Known     []Seen         `json:"known,omitempty"`     // what was seen already, said with the complaint
}

// Seen is one probe made, the setup it was made in and what it showed.
type Seen struct {
	Probe   house.Probe
	Setup   house.Setup
	Reading quantity.Reading
	Answer  house.Answer // of a look
	// Rested is set where the call had run through a counted five minutes.
	Rested bool
	// Given is what a volunteer said of the setup; the rest was the state of
	// the house. Empty for a probe that was asked for.
	Given house.Partial
	// Assumed is set for a volunteer of whose setup nobody said anything, while
	// nobody had set the thermostat: it is taken as seen in the complaint's call.
	Assumed bool
}

func (s Seen) String() string {
	if s.Probe.IsLook() {
		return fmt.Sprintf("%s: %s", s.Probe.Look, s.Probe.Look.AnswerID(s.Answer))
	}
	return fmt.Sprintf("%s: %s", s.Probe, quantity.Format(s.Reading, s.Probe.Quantity))
}

// seenJSON is the journal's form of a volunteered probe, in the vocabulary's
// own words.
type seenJSON struct {
	Look      string            `json:"look,omitempty"`
	Answer    string            `json:"answer,omitempty"`
	Quantity  string            `json:"quantity,omitempty"`
	Red       string            `json:"red,omitempty"`
	Black     string            `json:"black,omitempty"`
	Conductor string            `json:"conductor,omitempty"`
	At        string            `json:"at,omitempty"`
	Value     *quantity.Reading `json:"value,omitempty"`
	Given     *house.Partial    `json:"setup,omitempty"`
}

// MarshalJSON writes the probe in words.
func (s Seen) MarshalJSON() ([]byte, error) {
	var j seenJSON
	if !s.Given.Empty() {
		j.Given = &s.Given
	}
	p := s.Probe
	switch {
	case p.IsLook():
		j.Look, j.Answer = p.Look.String(), p.Look.AnswerID(s.Answer)
		return json.Marshal(j)
	case p.Quantity == quantity.Current:
		j.Conductor = p.Conductor.String()
	default:
		j.Red, j.Black = p.Red.String(), p.Black.String()
	}
	j.Quantity, j.At, j.Value = p.Quantity.String(), p.At.String(), &s.Reading
	return json.Marshal(j)
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (s *Seen) UnmarshalJSON(data []byte) error {
	var j seenJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	*s = Seen{}
	if j.Given != nil {
		s.Given = *j.Given
	}
	if j.Look != "" {
		return s.readLook(j)
	}
	return s.readMeasure(j)
}

func (s *Seen) readLook(j seenJSON) error {
	look, err := house.ParseLook(j.Look)
	if err != nil {
		return err
	}
	s.Probe = house.LookAt(look)
	s.Answer, err = look.ParseAnswer(j.Answer)
	return err
}

func (s *Seen) readMeasure(j seenJSON) error {
	q, err := quantity.OfID(j.Quantity)
	if err != nil {
		return err
	}
	if j.Value == nil {
		return fmt.Errorf("a volunteered reading has no value")
	}
	s.Reading = *j.Value
	if q == quantity.Current {
		c, err := house.ParseConductor(j.Conductor)
		s.Probe = house.Clamp(c)
		return err
	}
	at, err := house.ParsePlace(j.At)
	if err != nil {
		return err
	}
	red, err := house.ParseTerminal(j.Red)
	if err != nil {
		return err
	}
	black, err := house.ParseTerminal(j.Black)
	s.Probe = house.Measure(q, red, black, at)
	return err
}
