package suspects

import (
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Seen is one probe made, the setup it was made in and what it showed.
type Seen struct {
	Probe   house.Probe
	Setup   house.Setup
	Reading quantity.Reading
	Answer  house.Answer // of a look
	// Rested is set where the call had run through a counted five minutes, so
	// that no compressor delay is running any more.
	Rested bool
	// Confirmed is set once the probe was made again and showed the same.
	Confirmed bool
}

func (s Seen) goal() forecast.Goal { return forecast.Goal{Setup: s.Setup, Probe: s.Probe} }

// at is where it lies on the forecast's axis.
func (s Seen) at() float64 {
	if s.Probe.IsLook() {
		return forecast.AtAnswer(s.Answer)
	}
	return forecast.At(s.Probe.Quantity, s.Reading)
}

// same reports whether two are the same probe in the same setup, so that the
// later one is a retake.
func (s Seen) same(o Seen) bool {
	return s.Rested == o.Rested && s.goal().Key() == o.goal().Key()
}

// agrees reports whether a retake shows the same as before, within what a meter
// and a hand may change.
func (s Seen) agrees(o Seen) bool {
	x, y := s.at(), o.at()
	return x == y || !s.Probe.IsLook() && x-y <= tolerance(s.Probe, x) && y-x <= tolerance(s.Probe, x)
}

// Symptom is how a complaint shows: one look in one setup, and the answers
// that mean it.
type Symptom struct {
	Setup house.Setup
	Look  house.Look
	Shows []house.Answer
}

func (s Symptom) goal() forecast.Goal {
	return forecast.Goal{Setup: s.Setup, Probe: house.LookAt(s.Look)}
}

// share is how much of what pieces may show is the symptom.
func (s Symptom) share(pieces []forecast.Piece) float64 {
	var sum float64
	for _, p := range pieces {
		for _, a := range s.Shows {
			if p.Holds(forecast.AtAnswer(a)) {
				sum += p.Share
			}
		}
	}
	return sum
}
