package prove

import (
	"fmt"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// House is what stands behind a conversation: it shows what every probe would
// show. Play moves its history on; what cannot be read or seen is an error.
type House interface {
	Play(house.Setup) error
	Read(house.Setup, house.Probe) (quantity.Reading, error)
	Look(house.Setup, house.Look) (house.Answer, error)
}

// Caller is the person at the house: it answers whatever a conversation asks
// from what the house shows, with at most one kind of mistake.
type Caller struct {
	House     House
	Later     House       // the house once five minutes were counted; nil where it is the same
	Facts     house.Facts // what the person knows of the house
	Complaint house.Complaint
	Slip      Slip

	asked  []Asked
	waited bool
}

// now is the house as it is by now: a compressor delay has run out once the
// minutes were counted.
func (c *Caller) now() House {
	if c.waited && c.Later != nil {
		return c.Later
	}
	return c.House
}

// Asked is one step as the caller met it.
type Asked struct {
	Step     string
	Setup    house.Setup
	Probes   []house.Probe
	Readings []quantity.Reading // of a measure, Missing where it cannot be made
	Answer   house.Answer       // of a look
	Unable   bool
}

// Reply is what the caller says to an open question.
func (c *Caller) Reply(q session.Effect) session.Event {
	switch {
	case q.Do != nil:
		c.waited = c.waited || q.Do.ID == planner.CountCall
		return session.Event{Kind: session.Done}
	case q.Caution != nil:
		return session.Event{Kind: session.Acknowledge, Reply: q.Caution.Word}
	case q.Ask == nil:
		return session.Event{Kind: session.Quit}
	}
	switch q.Ask.Kind {
	case session.AskLook:
		return c.look(q.Ask)
	case session.AskMeasure:
		return c.measure(q.Ask)
	case session.AskText:
		return session.Event{Kind: session.Text, Reply: c.Facts.Letters.String()}
	}
	if c.Slip.Fact != house.NoFact && q.Ask.Step == c.Slip.Fact.String() {
		return session.Event{Kind: session.Unable}
	}
	return session.Event{Kind: session.Answer, Reply: c.choose(q.Ask)}
}

// choose answers an opening question or a house fact.
func (c *Caller) choose(q *session.Ask) string {
	switch q.Step {
	case "emergency", "people":
		return "no"
	case "temperature":
		return "comfortable"
	case "complaint":
		return c.Complaint.String()
	case "retake":
		return "no"
	}
	f, err := house.ParseFact(q.Step)
	if err != nil {
		return q.Answers[0].ID
	}
	id := c.Facts.Answer(f)
	for _, a := range q.Answers {
		if a.ID == id {
			return id
		}
	}
	return "other"
}

func (c *Caller) look(q *session.Ask) session.Event {
	a := Asked{Step: q.Step, Setup: q.House.Setup, Probes: []house.Probe{house.LookAt(q.Look)}}
	var err error
	a.Answer, err = c.see(c.slips(q.Step), a.Setup, q.Look)
	a.Unable = err != nil
	c.asked = append(c.asked, a)
	if err != nil {
		return session.Event{Kind: session.Unable}
	}
	return session.Event{Kind: session.Answer, Reply: q.Look.AnswerID(a.Answer)}
}

// slips reports whether the question now asked at a step is the one the caller
// gets wrong.
func (c *Caller) slips(step string) bool {
	if c.Slip.Step != step || c.Slip.Fact != house.NoFact {
		return false
	}
	n := 0
	for _, a := range c.asked {
		if a.Step == step {
			n++
		}
	}
	return n == c.Slip.Nth
}

func (c *Caller) see(slips bool, s house.Setup, l house.Look) (house.Answer, error) {
	if slips && c.Slip.Kind == SlipUnable {
		return house.NoAnswer, fmt.Errorf("cannot")
	}
	if slips && c.Slip.Kind == SlipWrong {
		return c.Slip.Answer, nil
	}
	return c.now().Look(c.Slip.bend(s), l)
}

func (c *Caller) measure(q *session.Ask) session.Event {
	a := Asked{Step: q.Step, Setup: q.House.Setup, Unable: true}
	read := make(map[string]quantity.Reading, len(q.Pairs))
	slips := c.slips(q.Step)
	for _, pair := range q.Pairs {
		p := house.Measure(q.Quantity, pair.Red, pair.Black, q.At)
		if q.Quantity == quantity.Current {
			p = house.Clamp(pair.Conductor)
		}
		r := c.read(slips && c.Slip.Pair == pair.Name, slips, a.Setup, p)
		a.Unable = a.Unable && r.Missing
		a.Probes, a.Readings = append(a.Probes, p), append(a.Readings, r)
		read[pair.Name] = r
	}
	c.asked = append(c.asked, a)
	if a.Unable {
		return session.Event{Kind: session.Unable}
	}
	return session.Event{Kind: session.Values, Read: read}
}

func (c *Caller) read(wrong, slips bool, s house.Setup, p house.Probe) quantity.Reading {
	if slips && c.Slip.Kind == SlipUnable {
		return quantity.Reading{Missing: true}
	}
	if wrong && c.Slip.Kind == SlipWrong {
		return c.Slip.Reading
	}
	r, err := c.now().Read(c.Slip.bend(s), p)
	if err != nil {
		return quantity.Reading{Missing: true}
	}
	return c.Slip.misread(p.Quantity, r)
}
