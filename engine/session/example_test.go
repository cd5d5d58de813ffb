package session_test

import (
	"fmt"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

func Example() {
	book := &session.Book{}
	open := &session.Opening{Audience: house.Homeowner}
	state, effects := book.Step(session.State{}, session.Event{Kind: session.Start, Open: open})
	fmt.Println(effects[0].Ask.Text)
	state, _ = book.Step(state, session.Event{Kind: session.Answer, Reply: "no"})
	fmt.Println(state.Pending().Ask.Text)
	// Output:
	// First: is any of this happening now?
	// What does the house not do? Say it in your own words.
}
