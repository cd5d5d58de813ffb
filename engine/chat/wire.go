package chat

import (
	"bufio"
	"errors"
	"io"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// Wire is a call as lines of JSON, for a program. Begin opens it, then OneShot
// takes a line at a time; every line that comes in brings at least one out.
type Wire struct {
	call
	seq     int
	openSeq int // the line of the open question
	out     []byte
}

// NewWire makes the JSON form over a conversation.
func NewWire(talk Conversation, o Options) *Wire {
	return &Wire{call: call{Options: o, talk: talk}}
}

// wireBytesMax is the longest line of JSON taken.
const wireBytesMax = 64 << 10

// Serve begins a call with its first event and answers lines until it ends, is
// left, or the input ends, which keeps it. It gives the exit code; the error
// is the reader's or the writer's.
func (w *Wire) Serve(first session.Event, in io.Reader, out io.Writer) (exit int, err error) {
	lines := bufio.NewReader(in)
	text := w.Begin(first)
	for {
		if _, err := out.Write(text); err != nil {
			return w.exit, err
		}
		if w.ended {
			return w.exit, nil
		}
		line, err := readLine(lines, wireBytesMax)
		switch {
		case errors.Is(err, io.EOF):
			text = w.quit()
		case errors.Is(err, ErrLongLine):
			w.problem("too-long", "a line is at most 64 KiB")
			text = w.flush()
		case err != nil:
			return w.exit, err
		default:
			text = w.OneShot(line)
		}
	}
}

// Begin says hello, sends the first event and gives the lines to write.
func (w *Wire) Begin(first session.Event) []byte {
	w.seq++
	w.out = append(w.out, encode(helloLine{"hello", w.seq, Protocol, w.Version, w.Call, w.Resumed})...)
	first, lost := w.opened(first)
	w.untaken(lost)
	w.did(first)
	return w.flush()
}

// OneShot takes one line and gives the lines to write; nothing for an empty
// one.
func (w *Wire) OneShot(line string) []byte {
	if w.ended || strings.TrimSpace(line) == "" {
		return nil
	}
	r, refusal := readReply(line)
	switch {
	case refusal != nil:
		w.problem(refusal.Code, refusal.Text)
	case r.re != 0 && r.re != w.openSeq:
		w.problem("stale", "re is not the seq of the open question")
	case r.command != cmdNone:
		w.commanded(r.command)
	default:
		w.reply(r.event)
	}
	return w.flush()
}

func (w *Wire) quit() []byte {
	w.did(session.Event{Kind: session.Quit})
	if !w.ended {
		w.ended = true
		w.emit(session.Effect{End: &session.End{Kept: true}})
	}
	return w.flush()
}

// reply sends an event. Words that name an emergency are one wherever text is
// asked for.
func (w *Wire) reply(e session.Event) {
	if e.Kind == session.Text {
		if what := w.emergency(e.Reply); what != "" {
			e = session.Event{Kind: session.Emergency, Reply: what}
		}
	}
	before := w.seq
	w.did(w.complained(e))
	if e.Kind == session.Note && w.emergency(e.Reply) != "" {
		w.tell("Noted. If that is so now, say it as an answer.")
	} else if w.seq == before {
		w.tell("Noted.")
	}
}

// complained puts what is known already, said with the complaint, ahead of it;
// any other event stays as it is. The questions between are not put out.
func (w *Wire) complained(e session.Event) session.Event {
	ask := w.open().Ask
	if e.Kind != session.Text || ask == nil || ask.Kind != session.AskText && !ask.Early || ask.Step == house.FactLetters.String() {
		return e
	}
	h := w.known(e.Reply)
	w.untaken(h.lost)
	last := session.Event{Kind: session.Text, Reply: h.words}
	if n := len(h.seen) - 1; h.words == "" && n >= 0 {
		last, h.seen = session.Event{Kind: session.Volunteer, Seen: &h.seen[n]}, h.seen[:n]
	}
	for i := range h.seen {
		w.take(session.Event{Kind: session.Volunteer, Seen: &h.seen[i]}, func(f session.Effect) bool { return f.Tell != nil || f.Problem != nil })
	}
	return last
}

// untaken says what sounds like a reading and was taken for none.
func (w *Wire) untaken(list []string) {
	for _, words := range list {
		w.tell("Not taken as a reading: " + quoted(words) + ". Send it as a measure.")
	}
}

// did sends an event and puts its effects out.
func (w *Wire) did(e session.Event) { w.take(e, func(session.Effect) bool { return true }) }

// take sends an event and puts out those of its effects that are wanted.
func (w *Wire) take(e session.Event, wanted func(session.Effect) bool) {
	effects, failed := w.send(e)
	if failed != nil {
		w.problem("record", "the record cannot be written: "+failed.Error()+"; the call goes on in memory only")
	}
	for _, f := range effects {
		if wanted(f) {
			w.emit(f)
		}
	}
}

func (w *Wire) emit(f session.Effect) {
	w.seq++
	if f.Ask != nil || f.Do != nil || f.Caution != nil {
		w.openSeq = w.seq
	}
	w.out = append(w.out, encode(line(f, w.seq))...)
}

func (w *Wire) tell(text string) { w.emit(session.Effect{Tell: &session.Tell{Text: text}}) }

func (w *Wire) problem(code, text string) {
	w.emit(session.Effect{Problem: &session.Problem{Code: code, Text: source.Clean(text)}})
}

func (w *Wire) flush() []byte {
	out := w.out
	w.out = nil
	return out
}

// commanded answers a command; the open question stands.
func (w *Wire) commanded(name command) {
	switch name {
	case cmdQuit:
		w.reply(session.Event{Kind: session.Quit})
	case cmdBack:
		w.reply(session.Event{Kind: session.Back})
	case cmdWhy:
		w.tell(strings.Join(w.talk.Why(), "\n"))
	case cmdRecord:
		w.tell(strings.Join(w.talk.Record(), "\n"))
	case cmdExpect:
		if w.Hooks.Expect == nil {
			w.problem("no-model", "no circuit model is attached to this call")
			return
		}
		w.tell(strings.Join(w.Hooks.Expect(), "\n"))
	case cmdSuspects:
		if w.Hooks.Suspects == nil {
			w.problem("no-model", "no circuit model is attached to this call")
			return
		}
		x, ok := w.Hooks.Suspects()
		if !ok {
			w.problem("nothing-seen", "nothing was seen yet that rules anything out")
			return
		}
		w.emit(session.Effect{Suspects: &x})
	}
}
