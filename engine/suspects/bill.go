package suspects

import (
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// Bill adds up the minutes of a whole call: each probe's own, and each visit,
// setup and wait once.
type Bill struct {
	price prices
	total float64
}

// Bill starts one at a house as it stands.
func (m Minutes) Bill(at house.Setup) *Bill { return &Bill{price: newPrices(m, at, false)} }

// Add counts a probe and gives the minutes it added; rested is set where the
// call ran for a counted five minutes first.
func (b *Bill) Add(g forecast.Goal, rested bool) float64 {
	minutes, needs := b.price.of(g, rested)
	for bit, visit := range b.price.visits {
		if needs&(1<<bit)&^b.price.paid != 0 {
			minutes += visit
		}
	}
	b.price.paid |= needs
	b.total += minutes
	return minutes
}

// Total is the minutes so far.
func (b *Bill) Total() float64 { return b.total }
