package chat_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/session"
)

const setupJSON = `{"power-indoor":"on","power-outdoor":"on","thermostat":"mounted","mode":"cool","calling":"yes","fan":"auto",` +
	`"jumper":[],"jumper-at":"thermostat","lifted":[],"fuse":"as-found","cover-indoor":"closed","cover-outdoor":"closed","proven-dead":[]}`

// serve holds a call over lines of JSON.
func serve(t *testing.T, s *script, o chat.Options, lines ...string) string {
	t.Helper()
	var out strings.Builder
	exit, err := chat.NewWire(s, o).Serve(start(), strings.NewReader(strings.Join(lines, "\n")+"\n"), &out)
	if exit != 0 || err != nil {
		t.Fatalf("exit %d, %v", exit, err)
	}
	return out.String()
}

// A whole call, to the letter: the fields and their order are the protocol.
func TestWireCall(t *testing.T) {
	told := session.Effect{Tell: &session.Tell{Text: "Taken as: The house does not cool.", Tree: house.NoCooling}}
	left := session.Effect{Suspects: &session.Explanation{RuledOut: 14, Left: []session.Suspect{{Fault: house.OpenY, Probability: 0.75}}}}
	s := asks(emergency, words, told, display, set, lockout, board, left, coil, openY)
	got := serve(t, s, chat.Options{Version: "0.1.0", Call: "k3"},
		`{"answer":"no"}`, `{"text":"the ac is <dead>"}`, `{"answer":"lit","re":5}`, `{"done":true}`, `{"acknowledge":"locked"}`,
		`{"values":{"yc":0.1,"rc":null}}`, `{"values":{"coil":"OL"}}`)
	want := `{"type":"hello","seq":1,"protocol":1,"version":"0.1.0","call":"k3","resumed":false}
{"type":"ask","seq":2,"step":"emergency","kind":"choose","answers":[{"id":"no","text":"none of these"},{"id":"gas","text":"a smell of gas"},{"id":"smoke","text":"smoke or a burning smell"}],"text":"First: is any of this happening now?"}
{"type":"ask","seq":3,"step":"words","kind":"text","text":"What does the house not do? Say it in your own words."}
{"type":"tell","seq":4,"text":"Taken as: The house does not cool.","tree":"no-cooling"}
{"type":"ask","seq":5,"step":"display","kind":"look","look":"display","answers":[{"id":"lit","text":"lit, as usual"},{"id":"blank","text":"blank, nothing on it"},{"id":"low-battery","text":"a low-battery sign"},{"id":"waiting","text":"lit, and it says wait or delay, or COOL or HEAT flashes"}],"setup":` + setupJSON + `,"text":"What does the thermostat's display show?"}
{"type":"do","seq":6,"text":"Set the thermostat to COOL, five degrees below the room.","setup":` + setupJSON + `,"wait-s":0}
{"type":"caution","seq":7,"id":"lockout","text":"Lock out before a cover comes off\nTurn off every feed of this cabinet, lock it and tag it.\nTry the controls: nothing may start.","source":"29 CFR 1910.147(d)","acknowledge":"locked"}
{"type":"ask","seq":8,"step":"call-at-board","kind":"measure","quantity":"volts","at":"indoor","pairs":[{"name":"yc","red":"Y","black":"C"},{"name":"rc","red":"R","black":"C"}],"setup":` + setupJSON + `,"text":"Volts AC at the furnace board, cooling called."}
{"type":"suspects","seq":9,"list":[{"fault":"open-y","probability":0.75}],"ruled-out":14,"left":1}
{"type":"ask","seq":10,"step":"coil-ohms","kind":"measure","quantity":"ohms","at":"outdoor","pairs":[{"name":"coil","red":"coil-1","black":"coil-2"}],"setup":` + setupJSON + `,"text":"Ohms at the outdoor unit, power locked out."}
{"type":"finding","seq":11,"finding":"open-y","faults":["open-y"],"family":"conductor","condemns":false,"verdict":"repair","text":"The Y conductor to the thermostat is open\nR has power at the board and Y does not get it, though the thermostat calls.\nThe thermostat is not the failed part: do not replace it.\nUse a spare conductor for Y, or pull a new cable.\nLand it at both ends.\nCommonly from: a staple through the cable","confirm":"Y to C at the board reads what R to C reads on a call.","parts":["18 AWG thermostat cable"],"urgency":"routine"}
{"type":"end","seq":12,"exit":0}
`
	same(t, got, want)
	var events []string
	for _, e := range s.events {
		events = append(events, said(e))
	}
	wantEvents := "start|answer no|text the ac is <dead>|answer lit|done|acknowledge locked|values yc=0.1 rc=not read|values coil=OL"
	if got := strings.Join(events, "|"); got != wantEvents {
		t.Errorf("events %s\nwant   %s", got, wantEvents)
	}
}

// The clamp's conductor stands for both leads; a place proven dead is told; a
// wait is given in seconds and nobody is held up.
func TestWireDetails(t *testing.T) {
	h := standing
	h.Dead = []house.Place{house.AtOutdoor}
	clamp := *board.Ask
	clamp.Quantity, clamp.House = 5, &h
	clamp.Pairs = []session.Pair{{Name: "y", Conductor: house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor}}}
	got := serve(t, asks(session.Effect{Ask: &clamp}, wait), chat.Options{Now: newClock().now, Resumed: true}, `{"values":{"y":0.4}}`, `{"done":true}`)
	for _, want := range []string{`"resumed":true`, `"pairs":[{"name":"y","red":"Y@indoor>outdoor","black":"Y@indoor>outdoor"}]`,
		`"proven-dead":["outdoor"]`, `"quantity":"amps"`, `"wait-s":300}` + "\n" + `{"type":"end","seq":4,"exit":0}`} {
		if !strings.Contains(got, want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
}

// Any question may be answered with these; each brings a line.
func TestWireAside(t *testing.T) {
	for _, c := range []struct{ line, event, out string }{
		{`{"unable":true}`, "unable", `{"type":"end"`},
		{`{"command":"back"}`, "back", `"code":"back","text":"There is no answer to take back."`},
		{`{"command":"why"}`, "start", `{"type":"tell","seq":3,"text":"Because it tells which way to go."}`},
		{`{"command":"record"}`, "start", `{"type":"tell","seq":3,"text":"opened as tech"}`},
		{`{"command":"suspects"}`, "start", `"code":"no-model"`}, {`{"command":"expect"}`, "start", `"code":"no-model"`},
		{`{"command":"quit"}`, "quit", `{"type":"end","seq":3,"exit":0}`},
		{`{"note":"bird nest \u001b[2J"}`, `note bird nest \x1b[2J`, `{"type":"tell","seq":3,"text":"Noted."}`},
		{`{"note":"smoke an hour ago"}`, "note smoke an hour ago", `"Noted. If that is so now, say it as an answer."`},
		{`{"measure":{"quantity":"volts","red":"R","black":"G","at":"thermostat"},"value":0}`, "volunteer volts R-G at thermostat: 0 V {}", `"Noted: volts`},
		{`{"measure":{"quantity":"ohms","red":"coil-1","black":"coil-2","at":"outdoor"},"setup":{"power-indoor":"locked-out","proven-dead":["outdoor"]},"value":"OL"}`,
			`volunteer ohms coil-1-coil-2 at outdoor: OL {"power-indoor":"locked-out"}`, `"Noted: ohms`},
		{`{"measure":{"quantity":"amps","red":"Y@indoor>outdoor","black":"Y@indoor>outdoor","at":"indoor"},"value":0.4}`, "volunteer amps Y@indoor>outdoor: 0.4 A {}", `"Noted: amps`},
		{`{"look":"display","answer":"blank","setup":{"mode":"heat"}}`, `volunteer display: blank {"mode":"heat"}`, `"Noted: display: blank.`},
		{` {"re":2, "done":true} `, "done", `{"type":"end"`},
	} {
		s := asks(set)
		w := chat.NewWire(s, chat.Options{Match: ears{}})
		w.Begin(start())
		out := string(w.OneShot(c.line))
		if said(s.last()) != c.event || !strings.Contains(out, c.out) {
			t.Errorf("%s becomes %q and brings\n%swant %q and %s", c.line, said(s.last()), out, c.event, c.out)
		}
	}
	s := asks(words)
	serve(t, s, chat.Options{Match: ears{}}, `{"text":"I smell gas"}`)
	if got := said(s.last()); got != "emergency gas" {
		t.Errorf("emergency words in a text become %q", got)
	}
	bare := chat.NewWire(asks(set), chat.Options{Hooks: chat.Hooks{Suspects: func() (session.Explanation, bool) { return session.Explanation{RuledOut: 3}, true }}})
	bare.Begin(start())
	if got := string(bare.OneShot(`{"command":"suspects"}`)); got != `{"type":"suspects","seq":3,"list":[],"ruled-out":3,"left":0}`+"\n" {
		t.Errorf("suspects bring %s", got)
	}
}

// Each bad line brings one problem; the open question stands.
func TestWireProblems(t *testing.T) {
	for _, c := range []struct{ line, code, text string }{
		{`lit`, "json", "one JSON object"}, {`[1]`, "json", "one JSON object"}, {`"lit"`, "json", "one JSON object"}, {`null`, "json", "one JSON object"},
		{`{"answer":"lit"`, "json", "not JSON"}, {`{"answer":}`, "json", "not JSON"}, {`{"answer":"lit"} {}`, "json", "nothing after it"},
		{`{"answer":"lit"}x`, "json", "nothing after it"},
		{`{"answer":"lit","answer":"blank"}`, "json", "given twice"},
		{`{"answr":"lit"}`, "unknown-field", "did you mean answer?"}, {`{"Answer":"lit"}`, "unknown-field", "did you mean answer?"},
		{`{"answer":"lit","x":1}`, "unknown-field", "unknown field"},
		{`{}`, "reply", "one reply"}, {`{"re":2}`, "reply", "one reply"}, {`{"answer":"lit","done":true}`, "reply", "do not go together"},
		{`{"look":"display","value":3}`, "reply", "do not go together"},
		{`{"answer":"lit","re":9}`, "stale", "not the seq of the open question"}, {`{"answer":"lit","re":1}`, "stale", "open question"},
		{`{"answer":"lit","re":"2"}`, "value", "whole number"}, {`{"answer":"lit","re":0}`, "value", "whole number"}, {`{"answer":"lit","re":1.5}`, "value", "whole number"},
		{`{"answer":3}`, "value", "answer is text"}, {`{"answer":null}`, "value", "answer is text"}, {`{"done":false}`, "value", "done is true"}, {`{"unable":1}`, "value", "unable is true"},
		{`{"command":"help"}`, "value", "one of back, why, suspects, expect, record, quit"},
		{`{"values":[1]}`, "value", "an object of readings"}, {`{"values":{"yc":"x"}}`, "value", "a reading is a number"},
		{`{"values":{"yc":1e400}}`, "value", "a reading is a number"}, {`{"values":{"yc":0.1,"yc":0.2}}`, "value", "an object of readings"},
		{`{"values":{"yc":NaN}}`, "json", "not JSON"},
		{`{"measure":{"quantity":"volts","red":"R","black":"G","at":"thermostat"}}`, "value", "has a value"},
		{`{"measure":{"quantity":"volts","red":"R","black":"G","at":"thermostat"},"value":null}`, "value", "not null"},
		{`{"measure":{"quantity":"volts","red":"R","black":"G","at":"thermostat"},"value":-3}`, "value", "negative"},
		{`{"measure":{"quantity":"volts","red":"R","black":"R","at":"thermostat"},"value":3}`, "value", "both leads are on R"},
		{`{"measure":{"quantity":"volts","red":"RR","black":"R","at":"thermostat"},"value":3}`, "value", "unknown terminal"},
		{`{"measure":{"quantity":"volts","red":"R","black":"G","at":"attic"},"value":3}`, "value", "unknown place"},
		{`{"measure":{"quantity":"watts","red":"R","black":"G","at":"indoor"},"value":3}`, "value", "unknown quantity"},
		{`{"measure":{"quantity":"volts","red":"R","black":"G","at":"indoor","x":1},"value":3}`, "value", "unknown field"},
		{`{"measure":3,"value":3}`, "value", "measure is an object"}, {`{"value":3}`, "value", "a volunteered probe"}, {`{"setup":{}}`, "value", "a volunteered probe"},
		{`{"look":"display"}`, "value", "has an answer"}, {`{"look":"displya","answer":"lit"}`, "value", `did you mean`}, {`{"look":"display","answer":"lti"}`, "value", `did you mean`},
		{`{"look":"display","answer":"lit","setup":{"mod":"heat"}}`, "value", "unknown setup key"}, {`{"look":"display","answer":"lit","setup":[]}`, "value", "an object of setup keys"},
		{`{"text":"` + strings.Repeat("x", 5000) + `"}`, "value", "longer than"},
		{`{"done":true}`, "wanted", "does not answer"},
	} {
		s := asks(display)
		w := chat.NewWire(s, chat.Options{})
		w.Begin(start())
		out := w.OneShot(c.line)
		var p struct{ Type, Code, Text string }
		if err := json.Unmarshal(out, &p); err != nil || p.Type != "problem" || p.Code != c.code || !strings.Contains(p.Text, c.text) {
			t.Errorf("%.80s brings %swant %s with %q", c.line, out, c.code, c.text)
		}
		if out := string(w.OneShot(`{"answer":"lit","re":2}`)); !strings.Contains(out, `"type":"end"`) {
			t.Errorf("after %.80s the question does not stand: %s", c.line, out)
		}
	}
}

func TestWireLongLine(t *testing.T) {
	got := serve(t, asks(display), chat.Options{}, `{"note":"`+strings.Repeat("x", 1<<20)+`"}`, `{"answer":"lit"}`)
	if !strings.Contains(got, `{"type":"problem","seq":3,"code":"too-long"`) || !strings.Contains(got, `{"type":"end","seq":4,"exit":0}`) {
		t.Errorf("a long line brings\n%s", got)
	}
}

// The end of input keeps the call, with its end told and exit 0.
func TestWireEndOfInput(t *testing.T) {
	s := asks(display, board)
	got := serve(t, s, chat.Options{}, `{"answer":"lit"}`)
	if said(s.last()) != "quit" || !strings.HasSuffix(got, `{"type":"end","seq":4,"exit":0}`+"\n") {
		t.Errorf("%s after %q", got, said(s.last()))
	}
}

func TestWireRecordFails(t *testing.T) {
	rec := &spy{failAt: 2}
	got := serve(t, asks(display, set, board), chat.Options{Recorder: rec}, `{"answer":"lit"}`, `{"done":true}`, `{"values":{"yc":1,"rc":2}}`)
	if n := strings.Count(got, `"code":"record"`); n != 1 || !strings.Contains(got, `"seq":3,"code":"record","text":"the record cannot be written: no space left on device; the call goes on in memory only"}`) {
		t.Errorf("told %d times in\n%s", n, got)
	}
	if !strings.HasSuffix(got, `"exit":0}`+"\n") {
		t.Errorf("the call does not go on:\n%s", got)
	}
}

// full takes so many bytes and then fails.
type full struct{ room int }

func (f *full) Write(p []byte) (int, error) {
	if f.room -= len(p); f.room < 0 {
		return 0, errors.New("broken pipe")
	}
	return len(p), nil
}

func TestWireReaderGone(t *testing.T) {
	_, err := chat.NewWire(asks(display), chat.Options{}).Serve(start(), strings.NewReader("{}\n"), &full{room: 100})
	if err == nil || err.Error() != "broken pipe" {
		t.Errorf("a reader that is gone gives %v", err)
	}
}

// holdsProtocol checks what every line out must be, and that a line in brought
// at least one.
func holdsProtocol(in string, out []byte, seq *int) string {
	if strings.TrimSpace(in) != "" && len(out) == 0 {
		return "nothing came"
	}
	for line := range strings.Lines(string(out)) {
		var head struct {
			Type string
			Seq  int
		}
		if err := json.Unmarshal([]byte(line), &head); err != nil || head.Type == "" {
			return "no line of JSON: " + line
		}
		if *seq++; head.Seq != *seq {
			return "seq out of step: " + line
		}
		if strings.ContainsFunc(strings.TrimSuffix(line, "\n"), func(r rune) bool { return r < 0x20 || r == 0x7f }) {
			return "raw control character: " + line
		}
	}
	return ""
}

// Replies of the right shape with anything in them.
func TestWireProperty(t *testing.T) {
	value := rapid.OneOf(rapid.SampledFrom([]string{`0.1`, `"OL"`, `null`, `true`, `-1`, `1e999`, `[]`, `{}`, `"lit"`, `"locked"`, `{"yc":1,"rc":2}`, `{"coil":"OL"}`, `"why"`, `"back"`,
		`{"quantity":"volts","red":"R","black":"C","at":"indoor"}`, `{"mode":"cool"}`}), rapid.Map(rapid.String(), func(s string) string { b, _ := json.Marshal(s); return string(b) }))
	field := rapid.SampledFrom([]string{"values", "answer", "text", "done", "acknowledge", "unable", "command", "note", "measure", "look", "value", "setup", "re", "x"})
	rapid.Check(t, func(t *rapid.T) {
		w := chat.NewWire(asks(emergency, words, display, set, lockout, board, coil, openY), chat.Options{Match: ears{}})
		seq := 0
		holdsProtocol("", w.Begin(start()), &seq)
		for range rapid.IntRange(1, 10).Draw(t, "lines") {
			parts := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) string { return `"` + field.Draw(t, "f") + `":` + value.Draw(t, "v") }), 0, 3).Draw(t, "fields")
			line := "{" + strings.Join(parts, ",") + "}"
			if _, over := w.Ended(); over {
				return
			}
			out := w.OneShot(line)
			if wrong := holdsProtocol(line, out, &seq); wrong != "" {
				t.Fatalf("%s: %s", line, wrong)
			}
		}
	})
}

func FuzzWire(f *testing.F) {
	for _, seed := range []string{`{"answer":"no"}`, `{"values":{"yc":0.1,"rc":"OL"},"re":2}`, `{"note":"\u001b]0;x\u0007"}`, `{"unable":true}`,
		`{"measure":{"quantity":"volts","red":"R","black":"G","at":"thermostat"},"setup":{"jumper":["R","Y"]},"value":0}`, `{"look":"display","answer":"lit"}`,
		`{"command":"why"}`, strings.Repeat(`{"a":`, 2000), strings.Repeat(`[`, 20000), "{\"answer\":\"\xff\"}", `{"re":99999999999999999999,"done":true}`} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, line string) {
		for _, q := range []session.Effect{emergency, words, display, set, lockout, board} {
			w := chat.NewWire(asks(q, display), chat.Options{Match: ears{}})
			seq := 0
			holdsProtocol("", w.Begin(start()), &seq)
			if wrong := holdsProtocol(line, w.OneShot(line), &seq); wrong != "" {
				t.Fatalf("%q: %s", line, wrong)
			}
		}
	})
}

// A model that has nothing to go by yet is not said to be missing.
func TestWireSuspectsBeforeAnythingWasSeen(t *testing.T) {
	o := chat.Options{Hooks: chat.Hooks{Suspects: func() (session.Explanation, bool) { return session.Explanation{}, false }}}
	if got := serve(t, asks(display), o, `{"command":"suspects"}`); !strings.Contains(got, `"code":"nothing-seen"`) || strings.Contains(got, "no circuit model") {
		t.Errorf("says\n%s", got)
	}
}
