package chat_test

import (
	"fmt"

	"stepdown/engine/chat"
	"stepdown/engine/session"
)

func Example() {
	c := chat.New(asks(emergency, display), chat.Options{Style: chat.Style{Plain: true}})
	fmt.Print(c.Begin(session.Event{Kind: session.Start, Open: &session.Opening{}}))
	fmt.Print(c.OneShot("no"))
	// Output:
	//   First: is any of this happening now?
	//     1 no     none of these
	//     2 gas    a smell of gas
	//     3 smoke  smoke or a burning smell
	//   What does the thermostat's display show?
	//     1 lit          lit, as usual
	//     2 blank        blank, nothing on it
	//     3 low-battery  a low-battery sign
	//     4 waiting      lit, and it says wait or delay, or COOL or HEAT flashes
}
