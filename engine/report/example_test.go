package report_test

import (
	"fmt"
	"os"
	"testing/fstest"

	"stepdown/engine/journal"
	"stepdown/engine/report"
	"stepdown/engine/session"
	"stepdown/engine/tree"
)

func Example() {
	lib, _ := tree.Load(fstest.MapFS{"limits.yaml": small["limits.yaml"], "findings.yaml": small["findings.yaml"], "no-cooling.yaml": small["no-cooling.yaml"]})
	book := &session.Book{Trees: lib, Match: sure(1)}
	call := journal.Call{Events: []session.Event{
		{Kind: session.Start, Open: &session.Opening{Equipment: "cool-gas", Complaint: "it blows warm"}},
		{Kind: session.Note, Reply: "where: 12 Invented Road"},
	}}
	r, err := report.Of(book, "k3", call, report.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	_ = r.Text(os.Stdout)
	// Output:
	// Call
	//   Call           k3
	//   Where          12 Invented Road
	//   Held as        tech
	//   Complaint      “it blows warm”, taken as: The house does not cool
	//   System         air conditioner with a gas furnace
	//
	// Finding
	//   None yet: the call is open.
}
