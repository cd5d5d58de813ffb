// Package journal keeps a call on disk: one line of JSON for each event, each
// written whole and synced before the next question shows. The journal is the
// call: replaying its events gives the same conversation.
//
//	j, err := journal.Create(disk, "call.jsonl", head)
//	err = j.Append(event)                              // write, sync, then show
//	j, call, err := journal.Resume(disk, "call.jsonl") // another day
//	past := journal.Replay(book, call.Events)
//
// Every line carries its number and a checksum of the line before it. A last
// line that was never finished is cut off and its bytes kept aside; anything
// wrong before that is refused with its place. After one failed write or sync
// a journal writes no more and says so.
//
// The first line is the head: the format and the version. Another line says
// which trees the call draws on, once they were read. A call that came to its
// end has a line that says how; what it turned out to be may follow it.
//
// May import: session.
package journal
