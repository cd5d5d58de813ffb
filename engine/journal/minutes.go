package journal

import (
	"time"

	"stepdown/engine/session"
)

// Minutes is how long a call took, from event to event. What passed before a
// resume or a hand-over is a pause and does not count.
func (c Call) Minutes() float64 {
	var sum time.Duration
	var last time.Time
	for _, e := range c.Events {
		if e.At.IsZero() {
			continue
		}
		if d := e.At.Sub(last); !last.IsZero() && d > 0 && e.Kind != session.Resume && e.Kind != session.Handover {
			sum += d
		}
		last = e.At
	}
	return float64(sum.Round(time.Second)) / float64(time.Minute)
}
