// Package chat is the conversation as people and programs see it: a typed line
// becomes an event, effects become text or JSON. It decides nothing about the
// circuit, the order of work or safety; it neither opens a file nor a terminal.
//
//	c := chat.New(conversation, chat.Options{Call: "k3", Now: clock})
//	fmt.Print(c.Begin(session.Event{Kind: session.Start, Open: &opening}))
//	fmt.Print(c.OneShot("the ac is not cooling"))
//
// Rules of the text: plain words, short lines, one thing at a time; a word or
// a mark always carries what a colour says; nothing typed or read from a file
// reaches the screen with its control characters.
//
// May import: session, house, quantity, source; suspects, journal, report,
// complaint, drill, rewire, worksheet.
package chat
