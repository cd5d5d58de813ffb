package journal_test

import (
	"fmt"

	"stepdown/engine/journal"
	"stepdown/engine/session"
)

// counter is a conversation that only counts.
type counter struct{ events int }

func (c *counter) Step(s session.State, _ session.Event) (session.State, []session.Effect) {
	c.events++
	return s, nil
}

func Example() {
	disk := newMemory() // in the program, a folder
	j, err := journal.Create(disk, "call.jsonl", journal.Head{Version: "0.1.0"})
	if err != nil {
		fmt.Println(err)
		return
	}
	err = j.Append(session.Event{Kind: session.Answer, Reply: "lit"})
	fmt.Println(err, j.Close())

	j, call, err := journal.Resume(disk, "call.jsonl")
	past := &counter{}
	journal.Replay(past, call.Events)
	fmt.Println(past.events, call.Head.Version, err, j.Close())
	// Output:
	// <nil> <nil>
	// 1 0.1.0 <nil> <nil>
}
