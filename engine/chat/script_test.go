package chat_test

import (
	"strings"
	"time"

	"stepdown/engine/caution"
	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// script is a conversation that asks a fixed list of questions, whatever is
// answered, and keeps the events it was given.
type script struct {
	questions []session.Effect
	at        int
	events    []session.Event
	who       house.Audience
	facts     house.Facts
	house     *session.House // nil for one that stands as found
	ended     bool

	read  map[string]quantity.Reading // of the open batch so far
	order []string
	batch session.Event // the last batch that was whole
}

func (s *script) Step(e session.Event) []session.Effect {
	s.events = append(s.events, e)
	switch e.Kind {
	case session.Note:
		return nil
	case session.Quit:
		s.ended = true
		return []session.Effect{{End: &session.End{Kept: true}}}
	case session.Emergency:
		s.ended = true
		return []session.Effect{{Tell: &session.Tell{Text: "Leave the house: " + e.Reply + "."}}, {End: &session.End{}}}
	case session.Start, session.Resume:
		return s.ask(nil)
	case session.Back:
		if len(s.order) > 0 {
			last := len(s.order) - 1
			delete(s.read, s.order[last])
			s.order = s.order[:last]
			return s.ask(nil)
		}
		if s.at == 0 {
			return []session.Effect{{Problem: &session.Problem{Code: "back", Text: "There is no answer to take back."}}}
		}
		s.at--
		return s.ask(nil)
	case session.Volunteer:
		return s.ask([]session.Effect{{Tell: &session.Tell{Text: "Noted: " + e.Seen.String() + "."}}})
	}
	if !s.fits(e) {
		return []session.Effect{{Problem: &session.Problem{Code: "wanted", Text: "That does not answer the question."}}}
	}
	if e.Kind == session.Values && !s.whole(e) {
		return s.ask(nil)
	}
	s.at++
	s.read, s.order = nil, nil
	return s.ask(nil)
}

// whole takes readings of the open batch, and says whether all are there.
func (s *script) whole(e session.Event) bool {
	if s.read == nil {
		s.read = map[string]quantity.Reading{}
	}
	for name, r := range e.Read {
		if _, had := s.read[name]; !had {
			s.order = append(s.order, name)
		}
		s.read[name] = r
	}
	s.batch = session.Event{Kind: session.Values, Read: s.read}
	return len(s.read) == len(s.questions[s.at].Ask.Pairs)
}

// fits says whether an event is of the kind the open question takes.
func (s *script) fits(e session.Event) bool {
	q, _ := s.Open()
	switch e.Kind {
	case session.Unable:
		return true
	case session.Done:
		return q.Do != nil
	case session.Acknowledge:
		return q.Caution != nil && q.Caution.Passes(e.Reply)
	case session.Values:
		return q.Ask != nil && q.Ask.Kind == session.AskMeasure
	case session.Answer:
		return q.Ask != nil && (q.Ask.Kind == session.AskLook || q.Ask.Kind == session.AskChoose)
	case session.Text:
		return q.Ask != nil && (q.Ask.Early || q.Ask.Kind == session.AskText)
	}
	return false
}

func (s *script) ask(effects []session.Effect) []session.Effect {
	for ; s.at < len(s.questions); s.at++ {
		q, _ := s.Open()
		effects = append(effects, q)
		if q.Ask != nil || q.Do != nil || q.Caution != nil {
			return effects
		}
	}
	s.ended = true
	return append(effects, session.Effect{End: &session.End{}})
}

func (s *script) Open() (session.Effect, bool) {
	if s.ended || s.at >= len(s.questions) {
		return session.Effect{}, false
	}
	q := s.questions[s.at]
	if len(s.read) == 0 {
		return q, true
	}
	ask := *q.Ask
	ask.Pairs, ask.Given = nil, nil
	for _, p := range q.Ask.Pairs {
		if _, had := s.read[p.Name]; had {
			ask.Given = append(ask.Given, p)
		} else {
			ask.Pairs = append(ask.Pairs, p)
		}
	}
	return session.Effect{Ask: &ask}, true
}

func (s *script) Why() []string    { return []string{"Because it tells which way to go."} }
func (s *script) Record() []string { return []string{"opened as tech"} }
func (s *script) House() session.House {
	if s.house != nil {
		return *s.house
	}
	return standing
}
func (s *script) Facts() house.Facts       { return s.facts }
func (s *script) Audience() house.Audience { return s.who }

// last is the last event the conversation was given.
func (s *script) last() session.Event {
	if len(s.events) == 0 {
		return session.Event{}
	}
	return s.events[len(s.events)-1]
}

// The questions of a first call, as a session puts them.
var (
	standing  = session.House{Setup: house.DefaultSetup().With(house.CoolCall)}
	emergency = session.Effect{Ask: &session.Ask{Step: "emergency", Kind: session.AskChoose, Text: "First: is any of this happening now?",
		Answers: []session.Choice{{ID: "no", Text: "none of these"}, {ID: "gas", Text: "a smell of gas"}, {ID: "smoke", Text: "smoke or a burning smell"}}}}
	early = session.Effect{Ask: &session.Ask{Step: "emergency", Kind: session.AskChoose, Text: emergency.Ask.Text,
		Answers: emergency.Ask.Answers, Early: true}}
	words   = session.Effect{Ask: &session.Ask{Step: "words", Kind: session.AskText, Text: "What does the house not do? Say it in your own words."}}
	display = session.Effect{Ask: look(house.Display)}
	set     = session.Effect{Do: &session.Do{ID: "call-cooling", Text: "Set the thermostat to COOL, five degrees below the room.", House: standing}}
	wait    = session.Effect{Do: &session.Do{ID: "wait", Text: "Leave it calling while the compressor delay runs out.", WaitSeconds: 300, House: standing}}
	lockout = session.Effect{Caution: &session.CautionEffect{Caution: caution.Caution{ID: "lockout", Title: "Lock out before a cover comes off", Word: "locked",
		Text: []string{"Turn off every feed of this cabinet, lock it and tag it.", "Try the controls: nothing may start."}, Source: []string{"29 CFR 1910.147(d)"}}}}
	board = session.Effect{Ask: &session.Ask{Step: "call-at-board", Kind: session.AskMeasure, Quantity: quantity.ACVolts, At: house.AtIndoor, House: &standing,
		Text: "Volts AC at the furnace board, cooling called.", Pairs: []session.Pair{{Name: "yc", Red: house.Y, Black: house.C}, {Name: "rc", Red: house.R, Black: house.C}}}}
	coil = session.Effect{Ask: &session.Ask{Step: "coil-ohms", Kind: session.AskMeasure, Quantity: quantity.Resistance, At: house.AtOutdoor, House: &standing,
		Text: "Ohms at the outdoor unit, power locked out.", Pairs: []session.Pair{{Name: "coil", Red: house.Coil1, Black: house.Coil2}}}}
	openY = session.Effect{Finding: &session.FindingEffect{ID: "open-y", Title: "The Y conductor to the thermostat is open", Faults: []house.Fault{house.OpenY},
		Family: house.ConductorFamily, Verdict: house.VerdictRepair, Text: []string{"R has power at the board and Y does not get it, though the thermostat calls."},
		Evidence: []session.Seen{{Probe: house.Volts(house.Y, house.C, house.AtIndoor), Reading: quantity.Of(0.1)}},
		Do:       []string{"Use a spare conductor for Y, or pull a new cable.", "Land it at both ends."}, Confirm: "Y to C at the board reads what R to C reads on a call.",
		Commonly: "a staple through the cable", Parts: []string{"18 AWG thermostat cable"}, Skills: []string{"low-voltage wiring"}, Urgency: "routine"}}
)

func look(l house.Look) *session.Ask {
	a := &session.Ask{Step: l.String(), Kind: session.AskLook, Look: l, Text: l.Question(), House: &standing}
	for _, id := range l.Answers() {
		a.Answers = append(a.Answers, session.Choice{ID: l.AnswerID(id), Text: l.AnswerText(id)})
	}
	return a
}

// ears hears an emergency in the words that name one.
type ears struct{}

func (ears) Match(text string) session.Match {
	for _, word := range []string{"gas", "smoke", "burning smell", "shock"} {
		if strings.Contains(strings.ToLower(text), word) {
			return session.Match{Emergency: strings.Fields(word)[0]}
		}
	}
	return session.Match{}
}

// clock is a clock that stands until it is moved.
type clock struct{ at time.Time }

func newClock() *clock            { return &clock{time.Date(2024, 7, 1, 9, 0, 0, 0, time.UTC)} }
func (c *clock) now() time.Time   { return c.at }
func (c *clock) pass(seconds int) { c.at = c.at.Add(time.Duration(seconds) * time.Second) }
func cells(n int) func() int      { return func() int { return n } }
func start() session.Event        { return session.Event{Kind: session.Start, Open: &session.Opening{}} }
func asks(q ...session.Effect) *script {
	return &script{questions: q, facts: house.Facts{Equipment: house.CoolGas}}
}
func begun(s *script, o chat.Options) *chat.Chat {
	c := chat.New(s, o)
	c.Begin(start())
	return c
}
