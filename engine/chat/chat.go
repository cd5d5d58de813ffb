package chat

import (
	"fmt"
	"strings"
	"time"

	"stepdown/engine/session"
	"stepdown/engine/source"
)

// Chat is a call in text. Begin opens it, then OneShot takes a line at a time.
type Chat struct {
	call
	paint paint
	marks marks

	aside   Aside           // another conversation within the call, nil as a rule
	sourced map[string]bool // cautions whose source was shown, by id
	shown   time.Time       // when the open question was shown
	headed  string          // the step whose headline was shown last
	count   int             // of the suspects left, as last shown; 0 before
	nothing bool            // what was shown last of them is that nothing more was ruled out
	hurried bool            // a done before its wait was over has been questioned
}

// New makes a chat over a conversation.
func New(talk Conversation, o Options) *Chat {
	return &Chat{call: call{Options: o, talk: talk}, paint: o.Style.paint(), marks: o.Style.marks(), sourced: map[string]bool{}}
}

// Begin sends the first event, a Start or a Resume, and gives what to show.
func (c *Chat) Begin(first session.Event) string {
	first, lost := c.opened(first)
	return joinLines(append(append(c.untaken(lost), c.did(first)...), c.above()...))
}

// OneShot takes one line and gives what to show for it: text of whole lines,
// nothing for an empty line.
func (c *Chat) OneShot(line string) string {
	if c.ended {
		return ""
	}
	if c.aside != nil {
		return joinLines(append(c.toAside(source.Clean(line)), c.above()...))
	}
	return joinLines(append(c.take(c.understand(line)), c.above()...))
}

// take carries an intent out.
func (c *Chat) take(in intent) []string {
	q := c.open()
	switch {
	case in.problem != "":
		return append(c.problem(in.problem), c.again(q)...)
	case in.given != nil:
		return c.did(session.Event{Kind: session.Values, Read: in.given})
	case in.event != nil && in.event.Kind == session.Done:
		return c.done(q.Do)
	case in.event != nil:
		return append(append(c.volunteer(in.known), c.untaken(in.lost)...), c.did(*in.event)...)
	case len(in.known) > 0:
		last := len(in.known) - 1
		out := append(c.volunteer(in.known[:last]), c.untaken(in.lost)...)
		return append(out, c.did(session.Event{Kind: session.Volunteer, Seen: &in.known[last]})...)
	case in.command == cmdNote:
		return c.note(in.rest)
	case in.command != cmdNone:
		return c.show(in.command)
	}
	return nil
}

// did sends an event and gives its effects as lines.
func (c *Chat) did(e session.Event) []string {
	effects, failed := c.send(e)
	turnedDown := refused(effects)
	out := c.lost(failed)
	for _, f := range effects {
		out = append(out, c.effect(f)...)
	}
	if turnedDown {
		out = append(out, c.again(c.open())...)
	} else if e.Kind != session.Note {
		c.shown, c.hurried = c.now(), false
	}
	return out
}

// volunteer sends what was seen before the question is answered, and says how
// each was taken; the question itself, and what is left, follow later.
func (c *Chat) volunteer(list []session.Seen) []string {
	var out []string
	for i := range list {
		effects, failed := c.send(session.Event{Kind: session.Volunteer, Seen: &list[i]})
		out = append(out, c.lost(failed)...)
		for _, f := range effects {
			if f.Ask == nil && f.Do == nil && f.Caution == nil && f.Suspects == nil {
				out = append(out, c.effect(f)...)
			}
		}
	}
	return out
}

// untaken says what sounds like a reading and was taken for none: nobody is left
// to think it counts.
func (c *Chat) untaken(list []string) []string {
	var out []string
	for _, words := range list {
		out = append(out, c.problem("not taken as a reading: "+quoted(words)+"; say it like: R to C at the board is 26.8")...)
	}
	return out
}

// lost says once that the record cannot be written.
func (c *Chat) lost(err error) []string {
	if err == nil {
		return nil
	}
	return c.alarm("The record cannot be written: " + err.Error() +
		". The call goes on in memory only: what follows is lost when it ends.")
}

// note keeps a remark. A remark that names an emergency is not taken for one,
// since it may tell of the past; but that is said.
func (c *Chat) note(text string) []string {
	out := append(c.did(session.Event{Kind: session.Note, Reply: text}), c.say("Noted.")...)
	if c.emergency(text) != "" {
		out = append(out, c.alarm("If that is so now, say it again without note.")...)
	}
	return out
}

// done takes an instruction as carried out. A counted wait that is not over is
// questioned once where a person sees the prompts; then, and always in a pipe,
// it is taken, said and kept in the record.
func (c *Chat) done(do *session.Do) []string {
	left := c.waitLeft()
	if left <= 0 {
		return c.did(session.Event{Kind: session.Done})
	}
	waited := time.Duration(do.WaitSeconds)*time.Second - left
	if c.Style.Prompts && !c.hurried {
		c.hurried = true
		return c.problem(clock(left) + " left to wait. It protects the compressor, and a reading before it tells nothing. " +
			"Type done again to go on without it.")
	}
	said := fmt.Sprintf("not waited: %s of %s had passed", clock(waited), clock(left+waited))
	out := c.did(session.Event{Kind: session.Note, Reply: said})
	return append(append(out, c.say(upper(said)+". Kept in the record.")...), c.did(session.Event{Kind: session.Done})...)
}

// waitLeft is what is left of the open instruction's counted wait; 0 where it
// has none, or no clock counts it.
func (c *Chat) waitLeft() time.Duration {
	q := c.open()
	if q.Do == nil || q.Do.WaitSeconds <= 0 || c.Now == nil {
		return 0
	}
	return max(0, time.Duration(q.Do.WaitSeconds)*time.Second-c.Now().Sub(c.shown))
}

// clock shows a duration as minutes and seconds, a started second as whole.
func clock(d time.Duration) string {
	s := int((d + time.Second - 1) / time.Second)
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

// show answers a command that asks for something.
func (c *Chat) show(name command) []string {
	switch name {
	case cmdWhy:
		return c.listed(c.talk.Why(), "There is nothing asked now.")
	case cmdRecord:
		return c.listed(c.talk.Record(), "The record is empty so far.")
	case cmdPicture:
		return c.picture()
	case cmdLanding:
		return c.landing()
	case cmdSuspects:
		return c.suspectsNow()
	case cmdExpect:
		if c.Hooks.Expect == nil {
			return c.say("No circuit model is attached to this call, so nothing can be expected.")
		}
		return c.listed(c.Hooks.Expect(), "Nothing is measured here.")
	}
	return c.help()
}

func (c *Chat) suspectsNow() []string {
	if c.Hooks.Suspects != nil {
		if x, ok := c.Hooks.Suspects(); ok {
			return c.account(x)
		}
	}
	if c.Hooks.Suspects != nil {
		return c.say("Nothing was seen yet that rules anything out.")
	}
	return c.say("No circuit model is attached to this call, so suspects are not ranked.")
}

func (c *Chat) listed(lines []string, none string) []string {
	if len(lines) == 0 {
		return c.say(none)
	}
	return c.say(lines...)
}

// say gives lines of text, indented and wrapped.
func (c *Chat) say(lines ...string) []string {
	var out []string
	for _, l := range lines {
		out = append(out, wrap(l, "  ", c.Style.column())...)
	}
	return out
}

// problem gives a line that was not taken.
func (c *Chat) problem(text string) []string {
	return c.marked("? ", source.Clean(text), c.paint.warn)
}

// alarm gives a line nobody may miss.
func (c *Chat) alarm(text string) []string {
	return c.marked(c.marks.caution+" ", source.Clean(text), c.paint.bad)
}

func (c *Chat) marked(mark, text string, paint func(...any) string) []string {
	lines := wrap(text, "  "+mark, c.Style.column())
	lines[0] = strings.Replace(lines[0], mark, paint(mark), 1)
	return lines
}

// gap is the blank line before something new; linear text has none.
func (c *Chat) gap() []string {
	if c.Style.Plain {
		return nil
	}
	return []string{""}
}

func upper(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
