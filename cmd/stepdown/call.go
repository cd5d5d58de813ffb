package main

import (
	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/journal"
	"stepdown/engine/session"
)

// conversation is a call whose trees are read when they are first needed: a
// start asks its first question without them.
type conversation struct {
	*chat.Held
	guide  *guide
	fill   func() error // nil once done
	failed error
}

// Step implements chat.Conversation.
func (c *conversation) Step(e session.Event) []session.Effect {
	if err := c.ready(e); err != nil {
		c.failed = err
		return []session.Effect{{End: &session.End{Exit: exitUsage, Kept: true}}}
	}
	effects := c.Held.Step(e)
	c.guide.ahead(c.State())
	return effects
}

// ready fills the book unless the event needs none of it: the start of a call
// that says nothing yet, and leaving it again.
func (c *conversation) ready(e session.Event) error {
	silent := e.Kind == session.Start && e.Open != nil && e.Open.Complaint == ""
	if c.fill == nil || silent || e.Kind == session.Quit {
		return nil
	}
	if err := c.fill(); err != nil {
		return err
	}
	c.fill = nil
	return nil
}

// start begins a new call, or goes on with one that was left where somebody
// who gave no flags says so.
func (w world) start(l look, open session.Opening, bare bool) error {
	lib, book := library{l.trees}, &session.Book{}
	fill := func() error { return lib.fill(book) }
	if l.trees != "" { // somebody's own files are checked before anything is asked
		if err := fill(); err != nil {
			return err
		}
		fill = func() error { return nil }
	}
	d, err := w.openDesk(l)
	if err != nil {
		return err
	}
	defer d.close()
	if bare {
		name, words := w.offer(d)
		if name != "" {
			return w.goOn(l, name, d)
		}
		open.Complaint = words
	}
	started := w.now()
	rec := w.newRecord(journal.Head{Version: version, Started: started})
	talk := &conversation{Held: chat.Hold(book, session.State{}), guide: w.attach(book, started), fill: rec.named(lib, fill)}
	return w.hold(l, d, talk, book, rec, session.Event{Kind: session.Start, Open: &open})
}

// goOn resumes a call.
func (w world) goOn(l look, name string, d *desk) error {
	lib, book := library{l.trees}, &session.Book{}
	dir, err := w.openFolder()
	if err != nil {
		return err
	}
	rec, call, err := dir.resumeRecord(name)
	if err != nil {
		return err
	}
	if call.End != nil {
		rec.close(session.State{})
		return usage("stepdown starts a new call; stepdown calls lists them", "call %s has ended", name)
	}
	if err := lib.fill(book); err != nil {
		rec.close(session.State{})
		return err
	}
	book.Match = &words{book: book}
	guide := w.attach(book, call.Head.Started)
	past := journal.Replay(book, call.Events)
	w.tellPast(l, name, call, past)
	if past.State.Ended() || len(call.Events) == 0 {
		rec.close(past.State)
		return usage("stepdown starts a new call", "call %s was at its end: nothing is left to ask", name)
	}
	talk := &conversation{Held: chat.Hold(book, past.State), guide: guide}
	if err := rec.drawn(lib); err != nil {
		return err
	}
	return w.hold(l, d, talk, book, rec, session.Event{Kind: session.Resume})
}

// tellPast says on stderr what a resumed call has lost or may have.
func (w world) tellPast(l look, name string, call journal.Call, past journal.Replayed) {
	if n := len(call.Torn); n > 0 {
		w.say("note: the last line of call %s was never finished; its %s are kept in %s.torn, and its answer is asked again", name, count(n, "byte"), name+callEnding)
	}
	if print, err := (library{l.trees}).fingerprint(); err == nil && call.Trees != "" && print != call.Trees {
		w.say("note: call %s was held on other trees (%s, now %s): what was answered is held against the trees of now", name, call.Trees, print)
	}
	if n := len(past.Refused); n > 0 {
		w.say("note: %s of call %s no longer fit and are left out", count(n, "answer"), name)
	}
}

// hold holds a conversation to its end or until it is left.
func (w world) hold(l look, d *desk, talk *conversation, book *session.Book, rec *record, first session.Event) error {
	if book.Match == nil {
		book.Match = &words{book: book}
	}
	defer func() {
		if !l.json && talk.State().Blank() {
			rec.drop()
			return
		}
		rec.close(talk.State())
	}()
	w.onSignal(d, rec.name)
	o := chat.Options{
		Call: rec.name, Version: version, Resumed: first.Kind != session.Start,
		Recorder: rec, Match: book.Match, Now: w.now, Style: d.style,
	}
	o.Hooks.Suspects = func() (session.Explanation, bool) {
		x := book.Account(talk.State())
		return x, len(x.Left)+x.RuledOut > 0
	}
	o.Hooks.Landing = func() (chat.Aside, error) { return w.landing(d, talk.State()) }
	o.Hooks.Expect = func() []string { return expectHere(talk) }
	var exit int
	var err error
	if l.json {
		exit, err = chat.NewWire(talk, o).Serve(first, w.stdin, w.stdout)
	} else {
		o.Hooks.Title = func(f house.Fault) string { return book.Title(f, talk.Facts().Equipment) }
		exit, err = chat.New(talk, o).Loop(first, d.lines, d.out)
	}
	switch {
	case talk.failed != nil:
		return talk.failed
	case err != nil:
		return err
	}
	return ended(exit)
}
