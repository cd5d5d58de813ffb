package prove

import (
	"fmt"

	"stepdown/engine/house"
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
	Facts     house.Facts // what the person knows of the house
	Complaint house.Complaint
	Slip      Slip

	asked []Asked
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
	a.Answer, err = c.see(q.Step, a.Setup, q.Look)
	a.Unable = err != nil
	c.asked = append(c.asked, a)
	if err != nil {
		return session.Event{Kind: session.Unable}
	}
	return session.Event{Kind: session.Answer, Reply: q.Look.AnswerID(a.Answer)}
}

func (c *Caller) see(step string, s house.Setup, l house.Look) (house.Answer, error) {
	if c.Slip.Kind == SlipUnable && c.Slip.Step == step {
		return house.NoAnswer, fmt.Errorf("cannot")
	}
	if c.Slip.Kind == SlipWrong && c.Slip.Step == step {
		return c.Slip.Answer, nil
	}
	return c.House.Look(c.Slip.bend(s), l)
}

func (c *Caller) measure(q *session.Ask) session.Event {
	a := Asked{Step: q.Step, Setup: q.House.Setup, Unable: true}
	read := make(map[string]quantity.Reading, len(q.Pairs))
	for i, pair := range q.Pairs {
		p := house.Measure(q.Quantity, pair.Red, pair.Black, q.At)
		if q.Quantity == quantity.Current {
			p = house.Clamp(pair.Conductor)
		}
		r := c.read(q.Step, i, a.Setup, p)
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

func (c *Caller) read(step string, pair int, s house.Setup, p house.Probe) quantity.Reading {
	if c.Slip.Kind == SlipUnable && c.Slip.Step == step {
		return quantity.Reading{Missing: true}
	}
	if c.Slip.Kind == SlipWrong && c.Slip.Step == step && c.Slip.Pair == pair {
		return c.Slip.Reading
	}
	r, err := c.House.Read(c.Slip.bend(s), p)
	if err != nil {
		return quantity.Reading{Missing: true}
	}
	return c.Slip.misread(p.Quantity, r)
}
