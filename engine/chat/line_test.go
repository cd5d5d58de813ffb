package chat_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// said is an event in short: its kind and what it holds.
func said(e session.Event) string {
	switch {
	case e.Seen != nil:
		given, _ := e.Seen.Given.MarshalJSON()
		return fmt.Sprintf("volunteer %s %s", e.Seen, given)
	case e.Read != nil:
		var parts []string
		for _, n := range []string{"yc", "rc", "coil"} {
			if r, ok := e.Read[n]; ok {
				parts = append(parts, n+"="+strings.ReplaceAll(quantity.FormatASCII(r, quantity.Resistance), " ohm", ""))
			}
		}
		return "values " + strings.Join(parts, " ")
	}
	return strings.TrimSpace(string(e.Kind) + " " + e.Reply)
}

// Each line against the question it is typed at: the event it becomes, or, in
// quotes, a part of the one line that turns it down.
func TestLineToEvent(t *testing.T) {
	for _, c := range []struct {
		question session.Effect
		line     string
		want     string
	}{
		// An answer by id, number, words, or a start that fits one answer only.
		{display, "lit", "answer lit"}, {display, " LIT. ", "answer lit"}, {display, "2", "answer blank"},
		{display, "blank, nothing on it", "answer blank"}, {display, "low battery", "answer low-battery"},
		{display, "w", "answer waiting"}, {display, "display blank", "answer blank"}, {display, "the display is blank", "answer blank"},
		{display, "l", `"could be lit or low-battery"`}, {display, "9", `"9 is not a number of the list: type 1 to 4"`},
		{display, "litt", `"did you mean lit?"`}, {display, "it is lit", "answer lit"},
		{display, "purple", `"no answer here: type one of lit, blank, low-battery, waiting"`}, {display, "26.8", `"no answer here"`},
		{emergency, "n", "answer no"}, {emergency, "gas", "answer gas"}, {emergency, "none of these", "answer no"},

		// Other words people use, and words of one answer only.
		{display, "it's dark", "answer blank"}, {display, "nothing", "answer blank"}, {display, "delay", "answer waiting"},
		{display, "battery sign", "answer low-battery"}, {display, "usual", "answer lit"}, {display, "yes", `"no answer here"`},
		{display, "the display is off", "answer blank"}, {display, "as usual or a sign", `"no answer here"`},
		{display, "not blinking at all", `"no answer here"`},
		{emergency, "none", "answer no"}, {emergency, "No, none of these", "answer no"}, {emergency, "nope", "answer no"},
		{emergency, "purple haze", `"no answer here"`}, {early, "the ac is dead", "text the ac is dead"}, {early, "ac", `"no answer here"`},
		{early, "no heat", "text no heat"}, {early, "I smell gas", "emergency gas"},

		// Readings.
		{coil, "12.5", "values coil=12.5"}, {coil, "coil 1.2k", "values coil=1.2 kohm"}, {coil, "OL", "values coil=OL"}, {coil, "open", "values coil=OL"},
		{coil, "12 V", `"is in volts; ohms are wanted"`}, {coil, "-3", `"is negative"`}, {coil, "warm", `"a reading is wanted for coil: ohms, such as 12.5 or OL"`},
		{coil, "R to C at the outdoor unit is 24.3 V", `volunteer volts R-C at outdoor: 24.3 V {}`},
		{coil, "coil-2 to coil-1 at outdoor is 12", "values coil=12"},
		{board, "yc 0.1 rc 26.8", "values yc=0.1 rc=26.8"}, {board, "0.1 26.8", "values yc=0.1 rc=26.8"},
		{board, "rc 26.8, yc -", "values yc=not read rc=26.8"}, {board, "0.1 26.8 3", `"2 readings are wanted"`},
		{board, "yc", `"yc has no reading"`}, {board, "yc 1e400", `"over the most taken"`}, {board, "yc nan", `"is not a number"`},

		// What is asked to be done, and a caution's word.
		{set, "done", "done"}, {set, "Y", "done"}, {set, "ok", "done"}, {set, "dnoe", `"did you mean done?"`}, {set, "later", `"type done when it is done"`},
		{lockout, "locked", "acknowledge locked"}, {lockout, "LOCKED", "acknowledge locked"},
		{lockout, "lock", `"type locked to go on"`}, {lockout, "yes", `"type locked to go on"`}, {lockout, "done", `"type locked to go on"`},

		// Cannot, in the ways it is said.
		{display, "unable", "unable"}, {display, "I can't", "unable"}, {display, "can’t", "unable"}, {set, "cannot", "unable"},
		{lockout, "I cannot.", "unable"}, {coil, "unable", "unable"}, {coil, "skip", "unable"}, {display, "don't know", "unable"},

		// The rest of the commands that are events.
		{board, "back", `"There is no answer to take back."`}, {set, "note bird nest", "note bird nest"}, {set, "Note: bird nest", "note bird nest"},
		{set, "note", `"note what?"`}, {set, "quit", "quit"}, {lockout, "exit", "quit"},
		{set, "whyy", `"did you mean why?"`}, {set, "recrod", `"did you mean record?"`}, {set, "ntoe bird nest", `"did you mean note TEXT?"`},

		// Emergency words, at any prompt, but not an answer that holds them.
		{display, "I smell gas", "emergency gas"}, {board, "there is smoke", "emergency smoke"}, {board, "2 people got a shock", "emergency shock"},
		{set, "burning smell!", "emergency burning"}, {lockout, "smoke", "emergency smoke"}, {words, "smell of gas", "emergency gas"},

		// Words.
		{words, "the ac is dead", "text the ac is dead"}, {words, "26.8", "text 26.8"},

		// Nobody asked for these.
		{set, "R to G at the thermostat is 0", "volunteer volts R-G at thermostat: 0 V {}"},
		{set, "volts R C at indoor 26.8", "volunteer volts R-C at indoor: 26.8 V {}"},
		{set, "r-c at the board 26.8v", "volunteer volts R-C at indoor: 26.8 V {}"},
		{set, "ohms coil-1 to coil-2 at outdoor is OL", "volunteer ohms coil-1-coil-2 at outdoor: OL {}"},
		{set, "coil-1 coil-2 at the outdoor board 12 ohms", "volunteer ohms coil-1-coil-2 at outdoor: 12 Ω {}"},
		{set, "low-impedance volts R Y at the thermostat 0.2", "volunteer volts-lowz R-Y at thermostat: 0.2 V {}"},
		{set, "amps Y@indoor>outdoor 0.4", "volunteer amps Y@indoor>outdoor: 0.4 A {}"},
		{set, "amps on Y at outdoor is 0.4", `"two conductors share that screw; say which: Y@outdoor or Y@outdoor>thermostat"`},
		{set, "R to Y at the thermostat is 0 mode=off", `volunteer volts R-Y at thermostat: 0 V {"mode":"off"}`},
		{set, "R to Y at the thermostat is 0 mode=of", `"did you mean "off"?"`},
		{set, "display blank", "volunteer display: blank {}"}, {set, "the indoor fan is running", "volunteer indoor-fan: running {}"},
		{board, "contactor pulled in", "volunteer contactor: pulled-in {}"},
		{set, "R to C is 26.8", `"say where it was read"`}, {set, "R to C at the thermostat", `"no reading"`},
		{set, "R to R at indoor is 3", `"both leads are on R"`}, {set, "R to C at indoor is 26.8 ohm dc", `"is no resistance"`},
	} {
		s := asks(c.question, display)
		talk := begun(s, chat.Options{Match: ears{}})
		before := len(s.events)
		text := talk.OneShot(c.line)
		if want, isProblem := strings.CutPrefix(c.want, `"`); isProblem {
			flat := strings.Join(strings.Fields(text), " ")
			if want = strings.TrimSuffix(want, `"`); !strings.Contains(flat, "? ") || !strings.Contains(flat, want) {
				t.Errorf("%q at %s shows\n%s\nwant a problem with %q", c.line, name(c.question), text, want)
			}
			continue
		}
		if len(s.events) != before+1 || said(s.last()) != c.want {
			t.Errorf("%q at %s becomes %q, shows\n%s\nwant %q", c.line, name(c.question), said(s.last()), text, c.want)
		}
	}
}

func name(q session.Effect) string {
	switch {
	case q.Ask != nil:
		return q.Ask.Step
	case q.Do != nil:
		return q.Do.ID
	}
	return q.Caution.ID
}

// A line that says nothing says nothing.
func TestEmptyLine(t *testing.T) {
	for _, q := range []session.Effect{display, board, set, lockout, words} {
		s := asks(q)
		c := begun(s, chat.Options{})
		if text := c.OneShot("  \t "); text != "" || len(s.events) != 1 {
			t.Errorf("an empty line at %s shows %q", name(q), text)
		}
	}
}

// A batch is taken one reading at a time, all at once, or in any mixture; back
// and unable speak of the reading at the prompt.
func TestBatch(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{[]string{"0.1", "26.8"}, "values yc=0.1 rc=26.8"},
		{[]string{"rc 26.8", "0.1"}, "values yc=0.1 rc=26.8"},
		{[]string{"0.1", "yc 0.3", "26.8"}, "values yc=0.3 rc=26.8"},
		{[]string{"0.1", "back", "0.3", "26.8"}, "values yc=0.3 rc=26.8"},
		{[]string{"unable", "26.8"}, "values yc=not read rc=26.8"},
		{[]string{"0.1", "I can't"}, "values yc=0.1 rc=not read"},
		{[]string{"cannot", "-"}, "values yc=not read rc=not read"},
		{[]string{"0.1", "why", "R to C at indoor is 26.8"}, "values yc=0.1 rc=26.8"},
		{[]string{"0.1", "note bird nest", "26.8"}, "values yc=0.1 rc=26.8"},
		{[]string{"0.1", "27 ohm", "26.8"}, "values yc=0.1 rc=26.8"},
	} {
		s := asks(board, display)
		talk := begun(s, chat.Options{})
		for _, l := range c.lines {
			talk.OneShot(l)
		}
		if got := said(s.batch); got != c.want {
			t.Errorf("%q become %q, want %q", c.lines, got, c.want)
		}
	}
}

// Each reading is an event of its own as soon as it is typed, and back takes
// back the last one.
func TestReadingsAreKeptAsTyped(t *testing.T) {
	s := asks(display, board, board, display)
	c := begun(s, chat.Options{})
	for _, l := range []string{"lit", "yc 5", "back", "back", "lit", "0.1 26.8", "0.2 26.9"} {
		c.OneShot(l)
	}
	want := []string{"start", "answer lit", "values yc=5", "back", "back", "answer lit", "values yc=0.1 rc=26.8", "values yc=0.2 rc=26.9"}
	var got []string
	for _, e := range s.events {
		got = append(got, said(e))
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("events %q\nwant   %q", got, want)
	}
}

// A clamp's conductor is named; where a screw holds one only, its letter will
// do.
func TestVolunteeredCurrent(t *testing.T) {
	s := asks(set)
	c := begun(s, chat.Options{})
	c.OneShot("amps on coil-1 at outdoor is 0.4")
	want := house.Clamp(house.Conductor{Terminal: house.Coil1, At: house.AtOutdoor})
	if got := s.last().Seen; got == nil || got.Probe != want || got.Reading != quantity.Of(0.4) {
		t.Errorf("got %v, want %v at 0.4 A", got, want)
	}
}

// One word of a person's own answers a question of urgency as a sentence does.
func TestUrgencyInOwnWords(t *testing.T) {
	people := session.Ask{Step: "people", Kind: session.AskChoose, Text: "Is anyone there at risk?",
		Answers: []session.Choice{{ID: "no", Text: "no"}, {ID: "frail", Text: "yes: somebody frail"}, {ID: "ill", Text: "yes: somebody ill"}}}
	early := people
	early.Early = true
	for _, c := range []struct {
		ask  session.Ask
		want session.Event
	}{
		{people, session.Event{Kind: session.Answer, Reply: "no"}},
		{early, session.Event{Kind: session.Text, Reply: "nobody"}},
	} {
		s := asks(session.Effect{Ask: &c.ask})
		begun(s, chat.Options{}).OneShot("nobody")
		if got := s.last(); got.Kind != c.want.Kind || got.Reply != c.want.Reply {
			t.Errorf("%+v", got)
		}
	}
}
