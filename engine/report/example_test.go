package report_test

import (
	"fmt"
	"time"

	"stepdown/engine/report"
	"stepdown/engine/session"
)

func Example() {
	at := time.Date(2026, 7, 14, 15, 0, 0, 0, time.UTC)
	fmt.Println(report.Minutes([]session.Event{
		{Kind: session.Start, At: at},
		{Kind: session.Quit, At: at.Add(3 * time.Minute)},
		{Kind: session.Resume, At: at.Add(2 * time.Hour)}, // a pause is no work
		{Kind: session.Done, At: at.Add(2*time.Hour + time.Minute)},
	}))
	// Output: 4
}
