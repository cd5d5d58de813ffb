package session

import (
	"fmt"

	"stepdown/engine/caution"
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/tree"
)

// Book is what a conversation draws on. It does not change during a call.
type Book struct {
	Trees    *tree.Library
	Cautions caution.Set
	Match    Matcher
	Explain  Explainer // nil until a model is attached
	Guide    Guide     // nil: a call ends where its tree has no way on
}

// Step applies one event. Where the event does not fit, the state comes back
// as it was, with a Problem; the open question stands.
func (b *Book) Step(s State, e Event) (State, []Effect) {
	if e.Kind == Handover {
		return b.handover(s, e)
	}
	if s.phase == unopened {
		return b.open(s, e)
	}
	if s.phase == ended {
		return s, problem("ended", "This call has ended. Start a new one.")
	}
	switch e.Kind {
	case Note:
		return s.logged(e, EntryNote, e.Reply), nil
	case Back:
		return b.back(s, e)
	case Quit:
		return b.quit(s)
	case Resume:
		return b.resume(s, e)
	case Emergency:
		return b.emergency(s, e)
	case Volunteer:
		return b.volunteer(s, e)
	case Unable:
		return b.unable(s, e)
	}
	next, effects, ok := b.reply(s, e)
	if !ok {
		return s, effects
	}
	return b.advance(next, effects)
}

// reply gives an event to the open question; ok is false where it does not fit.
func (b *Book) reply(s State, e Event) (State, []Effect, bool) {
	switch {
	case s.pending.Do != nil && e.Kind == Done:
		return s.planned(e, EntryDone, s.pending.Do.Text), nil, true
	case s.pending.Caution != nil && e.Kind == Acknowledge:
		if !s.pending.Caution.Passes(e.Reply) {
			return s, problem("word", fmt.Sprintf("Type the word %q to go on, or `unable`.", s.pending.Caution.Word)), false
		}
		return s.planned(e, EntryCaution, s.pending.Caution.ID), nil, true
	case s.pending.Ask != nil:
		return b.answer(s, e)
	}
	return s, s.unfit(), false
}

// planned takes the planner's action as carried out.
func (s State) planned(e Event, kind EntryKind, text string) State {
	s = s.logged(e, kind, text)
	s.home = s.next.After
	return s
}

// unfit says what the open question wants.
func (s State) unfit() []Effect {
	switch {
	case s.pending.Do != nil:
		return problem("wanted-done", "Say `done` when it is done, or `unable`.")
	case s.pending.Caution != nil:
		return problem("word", fmt.Sprintf("Type the word %q to go on, or `unable`.", s.pending.Caution.Word))
	case s.pending.Ask != nil && s.pending.Ask.Kind == AskMeasure:
		return problem("wanted-reading", "A reading is wanted here: a number, or `unable`.")
	case s.pending.Ask != nil && s.pending.Ask.Kind == AskText:
		return problem("wanted-text", "A few words are wanted here.")
	}
	return problem("wanted-answer", "One of the answers is wanted here, or `unable`.")
}

// open starts a call.
func (b *Book) open(s State, e Event) (State, []Effect) {
	if e.Kind != Start || e.Open == nil {
		return s, problem("not-started", "The call has not started.")
	}
	s.phase, s.who = opening, e.Open.Audience
	s.home = planner.Start()
	var err error
	if e.Open.Equipment != "" {
		s.facts, err = s.facts.Set(house.FactEquipment, e.Open.Equipment)
	}
	if err == nil && e.Open.Meter != "" {
		s.facts, err = s.facts.Set(house.FactMeter, e.Open.Meter)
	}
	if err != nil {
		return State{}, problem("start", err.Error())
	}
	if s.who == house.Tech {
		s.gates.emergency = "no"
	}
	s = s.logged(e, EntryOpened, s.who.String())
	var effects []Effect
	for _, seen := range e.Open.Known {
		s.gates.known = push(s.gates.known, seen)
		effects = append(effects, noted(seen, s.facts.Equipment))
	}
	if e.Open.Complaint == "" {
		return b.advance(s, effects)
	}
	s, said := b.said(s, e.Open.Complaint)
	return b.advance(s, append(effects, said...))
}

// back undoes the last answer, never the house.
func (b *Book) back(s State, e Event) (State, []Effect) {
	if s.last == nil {
		return s, problem("back", "There is no answer to take back.")
	}
	before := *s.last
	before.home = s.home.Forget(before.home)
	before.log = s.log
	before.safing = false
	return b.advance(before.logged(e, EntryBack, "took back the last answer"), nil)
}

// quit keeps the call and says what the house needs meanwhile.
func (b *Book) quit(s State) (State, []Effect) {
	var out []Effect
	if lines := planner.Warn(s.home); len(lines) > 0 {
		for _, line := range lines {
			out = append(out, tell(line))
		}
	}
	return s, append(out, Effect{End: &End{Exit: 0, Kept: true, Blank: s.Blank()}})
}

// resume goes on after a pause: nothing counts as proven any more.
func (b *Book) resume(s State, e Event) (State, []Effect) {
	s.home, s.declined = planner.Resume(s.home), nil
	s.told = false // who was told what was found may be gone
	return b.advance(s.logged(e, EntryResumed, "the call goes on; nothing counts as proven dead"), b.recap(s))
}

// emergency ends the call at once.
func (b *Book) emergency(s State, e Event) (State, []Effect) {
	s.gates.emergency, s.phase = e.Reply, walking
	return b.advance(s.logged(e, EntryAnswer, "emergency: "+e.Reply), nil)
}

// logged adds a line to the record.
func (s State) logged(e Event, kind EntryKind, text string) State {
	s.log = push(s.log, Entry{At: e.At, Kind: kind, Text: text})
	return s
}

// remember keeps the state before an answer, for back.
func (s State) remember() State {
	before := s
	s.last = &before
	return s
}

func problem(code, text string) []Effect {
	return []Effect{{Problem: &Problem{Code: code, Text: text}}}
}

func tell(text string) Effect { return Effect{Tell: &Tell{Text: text}} }
