package suspects

import (
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/policy"
)

// Bill adds up the minutes of a whole call: each probe's own, and each visit,
// setup and wait once.
type Bill struct {
	price *policy.Till
	total float64
}

// Bill starts one at a house as it stands.
func (m Minutes) Bill(at house.Setup) *Bill {
	return &Bill{price: policy.NewTill(policy.Minutes(m), at, false)}
}

// Add counts a probe and gives the minutes it added; rested is set where the
// call ran for a counted five minutes first.
func (b *Bill) Add(g forecast.Goal, rested bool) float64 {
	minutes := b.price.Pay(g.Setup, g.Probe, rested)
	b.total += minutes
	return minutes
}

// Total is the minutes so far.
func (b *Bill) Total() float64 { return b.total }
