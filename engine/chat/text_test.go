package chat_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"github.com/mattn/go-runewidth"
	"pgregory.net/rapid"

	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// play begins a call and types lines at it; what is typed shows after the
// prompt, as on a screen.
func play(s *script, o chat.Options, lines ...string) string {
	c := chat.New(s, o)
	text := c.Begin(start())
	for _, l := range lines {
		text += c.Prompt() + l + "\n" + c.OneShot(l)
	}
	return text
}

func same(t *testing.T, got, want string) {
	t.Helper()
	if want = strings.TrimPrefix(want, "\n"); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// The look of a call: one thing at a time, the prompt on the row of what it
// asks for.
func TestLook(t *testing.T) {
	told := session.Effect{Tell: &session.Tell{Text: "R has power and Y does not get it."}}
	left := session.Effect{Suspects: &session.Explanation{RuledOut: 14, Left: make([]session.Suspect, 9)}}
	style := chat.Style{Prompts: true, Width: cells(88)}
	same(t, play(asks(set, board, told, left, coil, openY), chat.Options{Style: style, Call: "k3"}, "y", "0.1", "26.8", "12 v", "11.8"), `
  Set the thermostat to COOL, five degrees below the room.    done > y

  Volts AC at the furnace board, cooling called.
    red on Y, black on C  yc > 0.1
    red on R, black on C  rc > 26.8
  R has power and Y does not get it.
  14 suspects ruled out, 9 left.

  Ohms at the outdoor unit, power locked out.
    red on coil-1, black on coil-2  coil > 12 v
  ? "12 v" is in volts; ohms are wanted, such as 12.5 or OL
  Ohms at the outdoor unit, power locked out.
    red on coil-1, black on coil-2  coil > 11.8

  FOUND The Y conductor to the thermostat is open
    Verdict: repair
    R has power at the board and Y does not get it, though the thermostat calls.
    The thermostat is not the failed part: do not replace it.
  Seen
    • Y to C at the indoor unit: 0.1 V
  Do
    1. Use a spare conductor for Y, or pull a new cable.
    2. Land it at both ends.
  Confirm
    Y to C at the board reads what R to C reads on a call.
  Commonly from
    a staple through the cable
  Parts
    18 AWG thermostat cable
  The call is over.
`)
}

// A pipe sees no prompt: what shares its row is text.
func TestLookOfPipe(t *testing.T) {
	s := asks(set, lockout, board, display)
	c := chat.New(s, chat.Options{})
	text := c.Begin(start())
	for _, l := range []string{"done", "locked", "yc 0.1", "why", "26.8"} {
		text += c.OneShot(l)
	}
	same(t, text, `
  Set the thermostat to COOL, five degrees below the room.

  ▲ CAUTION Lock out before a cover comes off
    Turn off every feed of this cabinet, lock it and tag it.
    Try the controls: nothing may start.
    Source: 29 CFR 1910.147(d)
  Type locked to go on, or unable.

  Volts AC at the furnace board, cooling called.
    yc: red on Y, black on C
    rc: red on R, black on C
  Because it tells which way to go.

  What does the thermostat's display show?
    1 lit          lit, as usual
    2 blank        blank, nothing on it
    3 low-battery  a low-battery sign
    4 waiting      lit, and it says wait or delay, or COOL or HEAT flashes
`)
}

// The picture says how the house stands: the cabinets it has, and nothing that
// nobody set or vouched for.
func TestPictureOfTheHouse(t *testing.T) {
	locked := house.DefaultSetup()
	locked.PowerIndoor, locked.PowerOutdoor, locked.CoverIndoor, locked.CoverOutdoor = house.LockedOut, house.LockedOut, true, true
	for _, c := range []struct {
		name  string
		e     house.Equipment
		house session.House
		want  string
	}{
		{"before anything was set", house.CoolGas, session.House{Setup: house.DefaultSetup(), Unset: true},
			"House now: indoor power on; outdoor power on; thermostat as it was found."},
		{"set to off", house.CoolGas, session.House{Setup: house.DefaultSetup()},
			"House now: indoor power on; outdoor power on; thermostat on OFF."},
		{"after a break", house.NoEquipment, session.House{Setup: house.DefaultSetup(), Unset: true, Unsure: []house.Place{house.AtIndoor, house.AtOutdoor}},
			"House now: indoor power not known; outdoor power not known; thermostat as it was found."},
		{"nothing outdoors", house.HeatOnly, session.House{Setup: house.DefaultSetup().With(house.CoolCall)},
			"House now: indoor power on; thermostat on COOL, calling."},
		{"one cabinet", house.PackagedGas, session.House{Setup: locked, Unset: true},
			"House now: cover open; power locked out; thermostat as it was found."},
	} {
		s := asks(display)
		s.facts.Equipment, s.house = c.e, &c.house
		text := begun(s, chat.Options{}).OneShot("picture")
		if got := strings.Join(strings.Fields(text), " "); !strings.Contains(got, c.want) {
			t.Errorf("%s: %s", c.name, got)
		}
	}
}

func TestPicture(t *testing.T) {
	pair := func(n string, red, black house.Terminal) session.Pair {
		return session.Pair{Name: n, Red: red, Black: black}
	}
	atBase := session.Effect{Ask: &session.Ask{Step: "base", Kind: session.AskMeasure, Quantity: quantity.ACVolts, At: house.AtThermostat, House: &standing,
		Text: "Volts AC at the thermostat's wall base.", Pairs: []session.Pair{pair("rc", house.R, house.C), pair("yc", house.Y, house.C)}}}
	unicodeWant := `
  Meter on volts AC, at the thermostat's wall base.
          rc     yc
  ┌─────┐
  │ R ● │ ◄─ RED
  │ C ● │ ◄─ BLACK  BLACK
  │ Y ● │ ◄─        RED
  │ G ○ │
  │ W ○ │
  └─────┘
  House now: indoor power on; outdoor power on; thermostat on COOL, calling.
`
	style := func(s chat.Style) chat.Options { s.Width = cells(80); return chat.Options{Style: s} }
	same(t, begun(asks(atBase), style(chat.Style{})).OneShot("picture"), unicodeWant)
	same(t, begun(asks(atBase), style(chat.Style{Plain: true})).OneShot("picture"), `
  Meter on volts AC, at the thermostat's wall base.
    rc: Red lead on R. Black lead on C.
    yc: Red lead on Y. Black lead on C.
  House now: indoor power on; outdoor power on; thermostat on COOL, calling.
`)
	line := session.Effect{Ask: &session.Ask{Step: "line", Kind: session.AskMeasure, Quantity: quantity.ACVolts, At: house.AtOutdoor, House: &standing,
		Text: "Volts AC at the outdoor unit.", Pairs: []session.Pair{pair("load", house.T1, house.T2)}}}
	same(t, begun(asks(line), style(chat.Style{ASCII: true})).OneShot("picture"), `
  Meter on volts AC, at the outdoor unit's strip.
           load
  +------+
  | T1 @ | <-- RED    contactor, load side, LINE VOLTAGE
  | T2 @ | <-- BLACK  contactor, load side, LINE VOLTAGE
  +------+
  House now: indoor power on; outdoor power on; thermostat on COOL, calling.
`)
	clamp := session.Effect{Ask: &session.Ask{Step: "amps", Kind: session.AskMeasure, Quantity: quantity.Current, At: house.AtIndoor, House: &standing,
		Text: "Amps at the board.", Pairs: []session.Pair{{Name: "y", Conductor: house.Conductor{Terminal: house.Y, At: house.AtIndoor, To: house.AtOutdoor}}}}}
	same(t, begun(asks(clamp), style(chat.Style{})).OneShot("picture"), `
  Clamp meter on amps AC, at the indoor unit's board.
    y: Clamp around one conductor alone: the Y conductor at the indoor unit, the
       one to the outdoor unit.
  House now: indoor power on; outdoor power on; thermostat on COOL, calling.
`)
	same(t, begun(asks(display), style(chat.Style{})).OneShot("picture"), `
  No meter leads go on here.
  House now: indoor power on; outdoor power on; thermostat on COOL, calling.
`)
}

// Every terminal a lead may go on is drawn with its part.
func TestPictureNamesEveryPart(t *testing.T) {
	for _, end := range house.Terminals() {
		q := session.Effect{Ask: &session.Ask{Kind: session.AskMeasure, Quantity: quantity.ACVolts, At: house.AtIndoor, House: &standing,
			Pairs: []session.Pair{{Name: "x", Red: end, Black: house.C}}}}
		text := begun(asks(q), chat.Options{}).OneShot("picture")
		row := regexp.MustCompile(`(?m)^.* ` + regexp.QuoteMeta(end.String()) + ` .*RED(.*)$`).FindStringSubmatch(text)
		switch {
		case row == nil && end != house.C:
			t.Errorf("%s is not drawn:\n%s", end, text)
		case row != nil && !end.IsLetter() && strings.TrimSpace(row[1]) == "":
			t.Errorf("%s has no part: %s", end, row[0])
		case row != nil && (end.Class() == house.Line) != strings.Contains(row[1], "LINE VOLTAGE"):
			t.Errorf("%s: line voltage is not told: %s", end, row[0])
		}
	}
}

// A ticket of the longest kind still fits a screen of 24 rows, at 80 columns
// and at 40.
func TestTicketFitsAScreen(t *testing.T) {
	long := strings.Repeat("some words that go on and on ", 12)
	f := *openY.Finding
	f.Faults = house.Faults()
	f.Verdict, f.Urgency = house.VerdictUndecided, "today: someone frail is there"
	f.Text, f.Do, f.Tell, f.Hazards = []string{long, long}, []string{long, long}, []string{long}, []string{long}
	f.Parts, f.Skills = strings.Fields(long), strings.Fields(long)
	for range 12 {
		f.Evidence = append(f.Evidence, openY.Finding.Evidence...)
	}
	for _, cols := range []int{40, 80, 120} {
		s := asks(display, session.Effect{Finding: &f})
		s.who = house.Dispatcher
		text := begun(s, chat.Options{Style: chat.Style{Width: cells(cols)}}).OneShot("lit")
		ticket, _, _ := strings.Cut(text, "  The call is over.")
		if n := strings.Count(ticket, "\n"); n > 23 || n < 9 {
			t.Errorf("at %d columns the ticket has %d rows:\n%s", cols, n, ticket)
		}
		for _, field := range []string{"TICKET", "urgency", "verdict", "caller", "hazards", "for tech", "may be", "parts", "skills"} {
			if !strings.Contains(ticket, field) {
				t.Errorf("at %d columns the ticket has no %s:\n%s", cols, field, ticket)
			}
		}
		fits(t, text, cols)
	}
}

func TestTicketShort(t *testing.T) {
	s := asks(display, openY)
	s.who = house.Dispatcher
	same(t, "\n"+strings.TrimLeft(begun(s, chat.Options{Hooks: chat.Hooks{Title: func(house.Fault) string { return "Y conductor open" }}}).OneShot("lit"), "\n"), `

  TICKET The Y conductor to the thermostat is open
    urgency  routine
    verdict  repair
    caller   Use a spare conductor for Y, or pull a new cable. Land it at both
             ends.
    about    R has power at the board and Y does not get it, though the
             thermostat calls.
    may be   Y conductor open
    seen     Y to C at the indoor unit: 0.1 V
    parts    18 AWG thermostat cable
    skills   low-voltage wiring
  The call is over.
`)
	for partly, label := range map[bool]string{true: "\n    next     Look", false: "\n    settles  Look"} {
		f := *openY.Finding
		f.ID, f.Settles, f.Partly = house.Undecided, "Look at the display.", partly
		s := asks(display, session.Effect{Finding: &f})
		s.who = house.Dispatcher
		if text := begun(s, chat.Options{}).OneShot("lit"); !strings.Contains(text, label) {
			t.Errorf("partly %v, the ticket says\n%s", partly, text)
		}
	}
}

// A homeowner is told first what to do, then what to say.
func TestHomeownerFinding(t *testing.T) {
	f := *openY.Finding
	f.ID, f.Title, f.Verdict = house.Undecided, "More than one cause is left", house.VerdictCallAPro
	f.Text, f.Faults = []string{"What you saw fits several causes."}, house.Faults()
	f.Settles, f.Partly = "Look at the display.", true
	f.Do, f.Tell, f.Confirm = []string{"Call a licensed technician.", "Leave the thermostat on OFF until they come."}, []string{"When it stopped."}, "Cool air comes."
	s := asks(display, session.Effect{Finding: &f})
	s.who = house.Homeowner
	same(t, begun(s, chat.Options{Style: chat.Style{ASCII: true, Plain: true}}).OneShot("lit"), `
  NOT DECIDED More than one cause is left
    Verdict: call a licensed technician
    What you saw fits several causes.
    The thermostat is not shown to have failed: do not replace it on this.
  Do
    1. Call a licensed technician.
    2. Leave the thermostat on OFF until they come.
  Then
    Cool air comes.
  Tell the technician
    - When it stopped.
    - Still possible: none; delay-running; no-line-indoor; and 78 more
    - What would tell most: Look at the display.
    - Y to C at the indoor unit: 0.1 V
  The call is over.
`)
	s = asks(display, session.Effect{Finding: &f})
	if text := begun(s, chat.Options{}).OneShot("lit"); !strings.Contains(text, fmt.Sprintf("• and %d more\n", len(house.Faults())-10)) {
		t.Errorf("a technician is shown a wall of text:\n%s", text)
	}
}

// Nothing but its word passes a caution, whatever is typed.
func TestCautionPassesByItsWordOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := asks(lockout, lockout)
		c := begun(s, chat.Options{Style: chat.Style{Prompts: rapid.Bool().Draw(t, "prompts")}})
		line := rapid.OneOf(typed(), rapid.StringMatching(`[ ]?(?i:l?o?c?k?e?d?)[.! y]?`)).Draw(t, "line")
		c.OneShot(line)
		if passed := s.last().Kind == session.Acknowledge; passed != lockout.Caution.Passes(line) {
			t.Fatalf("%q passes: %v", line, passed)
		}
	})
}

// What a call means for the thermostat is said only where it is so.
func TestThermostatLine(t *testing.T) {
	for want, faults := range map[string][]house.Fault{
		"The thermostat is not the failed part":     {house.OpenY},
		"The thermostat is not shown to have faile": {house.OpenY, house.StatYOpen},
		"": {house.None},
	} {
		f := *openY.Finding
		f.Faults = faults
		text := begun(asks(display, session.Effect{Finding: &f}), chat.Options{}).OneShot("lit")
		if want == "" && strings.Contains(text, "not replace") || !strings.Contains(text, want) {
			t.Errorf("%v: want %q in\n%s", faults, want, text)
		}
	}
}

// fits checks that no line is wider than the screen.
func fits(t *testing.T, text string, cols int) {
	t.Helper()
	for line := range strings.Lines(text) {
		line = strings.TrimRight(sgr.ReplaceAllString(line, ""), "\n")
		if w := (&runewidth.Condition{}).StringWidth(line); w > cols {
			t.Errorf("%d cells of %d: %q", w, cols, line)
		}
	}
}

// sgr is the only escape sequence that is ever written.
var sgr = regexp.MustCompile("\x1b\\[[0-9;]*m")

// Whatever is typed, at whatever question, on whatever screen: no panic, no
// control character on the screen but the line feed and our own colours, no
// line wider than the screen, no blank line in linear text, no letter beyond
// ASCII where the screen has none and nobody typed one.
func TestNothingRaw(t *testing.T) {
	long := openY
	rapid.Check(t, func(t *rapid.T) {
		style := chat.Style{
			Width: cells(rapid.SampledFrom([]int{24, 40, 80, 120, 0}).Draw(t, "width")), ASCII: rapid.Bool().Draw(t, "ascii"),
			Plain: rapid.Bool().Draw(t, "plain"), Color: rapid.Bool().Draw(t, "color"), Prompts: rapid.Bool().Draw(t, "prompts"),
		}
		cols := style.Width()
		if cols == 0 {
			cols = 80
		}
		lines := rapid.SliceOfN(typed(), 1, 12).Draw(t, "lines")
		s := asks(emergency, words, display, set, wait, lockout, board, coil, long)
		s.who = rapid.SampledFrom(house.Audiences()).Draw(t, "who")
		clock := newClock()
		c := chat.New(s, chat.Options{Style: style, Match: ears{}, Now: clock.now, Call: "k3"})
		text := c.Begin(start())
		for _, l := range lines {
			prompt := c.Prompt()
			for _, r := range sgr.ReplaceAllString(prompt, "") {
				if unicode.IsControl(r) {
					t.Fatalf("the prompt holds %q", prompt)
				}
			}
			c.Complete(l)
			text += c.OneShot(l)
		}
		if !style.Color && strings.Contains(text, "\x1b") {
			t.Fatalf("an escape sequence without colour in %q", text)
		}
		bare := sgr.ReplaceAllString(text, "")
		for _, r := range bare {
			if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
				t.Fatalf("raw %q in %q", r, bare)
			}
			if style.ASCII && r > unicode.MaxASCII && !strings.ContainsRune(strings.Join(lines, ""), r) {
				t.Fatalf("%q on a screen without Unicode, in %q", r, bare)
			}
		}
		for line := range strings.Lines(bare) {
			if w := (&runewidth.Condition{}).StringWidth(strings.TrimRight(line, "\n")); w > cols {
				t.Fatalf("%d cells of %d: %q", w, cols, line)
			}
			if style.Plain && strings.TrimSpace(line) == "" {
				t.Fatalf("a blank line in linear text %q", bare)
			}
		}
	})
}

// typed is what people, cats and pipes type.
func typed() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.String(),
		rapid.SampledFrom([]string{"no", "lit", "done", "locked", "0.1", "yc 0.1 rc 26.8", "OL", "unable", "back", "why", "picture", "help", "record",
			"suspects", "expect", "note bird nest", "R to G at the thermostat is 0", "\x1b]0;title\x07", "\x1b[2J", "note \u202egnp.exe", "\xff\xfe", "note 氷 冷房"}),
		rapid.StringMatching(`[a-zA-Z0-9@>=.,/ -]{0,40}`),
	)
}

// The effects' own text, from files, is made safe too.
func TestTextFromFilesIsCleaned(t *testing.T) {
	evil := "a\x1b[31mb\x07\u202ec"
	k := *lockout.Caution
	k.Title, k.Text, k.Source = evil, []string{evil}, []string{evil}
	f := session.FindingEffect{Title: evil, Text: []string{evil}, Do: []string{evil}, Tell: []string{evil}, Hazards: []string{evil}, Confirm: evil, Commonly: evil, Parts: []string{evil}, Skills: []string{evil}, Urgency: evil}
	for _, who := range house.Audiences() {
		s := asks(
			session.Effect{Tell: &session.Tell{Text: evil}},
			session.Effect{Ask: &session.Ask{Step: evil, Kind: session.AskChoose, Text: evil, Answers: []session.Choice{{ID: "no", Text: evil}, {ID: evil, Text: "x"}}}},
			session.Effect{Do: &session.Do{Text: evil}}, session.Effect{Caution: &k}, session.Effect{Finding: &f})
		s.who = who
		text := play(s, chat.Options{Style: chat.Style{Prompts: true}}, "what", "no", "done", "locked")
		if strings.ContainsAny(text, "\x1b\x07\u202e") {
			t.Errorf("%s: raw text in %q", who, text)
		}
		if n := strings.Count(text, `\x1b[31m`); n < 8 {
			t.Errorf("%s: only %d of the texts are shown: %s", who, n, text)
		}
	}
}

// A done before the end of a counted wait: questioned once where a person sees
// the prompts, taken and kept in the record where nobody does.
func TestWait(t *testing.T) {
	kinds := func(s *script) string {
		var out []string
		for _, e := range s.events[1:] {
			out = append(out, said(e))
		}
		return strings.Join(out, "; ")
	}
	person, clock := asks(wait, display), newClock()
	c := begun(person, chat.Options{Now: clock.now, Style: chat.Style{Prompts: true}})
	if got := c.Prompt(); !strings.HasSuffix(got, "done  5:00 > ") {
		t.Errorf("the prompt is %q", got)
	}
	clock.pass(108)
	if got := c.Prompt(); !strings.HasSuffix(got, "done  3:12 > ") {
		t.Errorf("after 108 s the prompt is %q", got)
	}
	if text := c.OneShot("done"); !strings.Contains(text, "3:12 left to wait") || kinds(person) != "" {
		t.Errorf("an early done shows\n%s\nevents %s", text, kinds(person))
	}
	c.OneShot("done")
	if got := kinds(person); got != "note not waited: 1:48 of 5:00 had passed; done" {
		t.Errorf("done again gives %s", got)
	}
	patient, clock := asks(wait, display), newClock()
	c = begun(patient, chat.Options{Now: clock.now, Style: chat.Style{Prompts: true}})
	clock.pass(300)
	c.OneShot("y")
	if got := kinds(patient); got != "done" || strings.Contains(c.Prompt(), ":") {
		t.Errorf("after the wait done gives %s", got)
	}
	piped, clock := asks(wait, display), newClock()
	c = begun(piped, chat.Options{Now: clock.now})
	if text := c.OneShot("done"); !strings.Contains(text, "Not waited: 0:00 of 5:00 had passed.") || kinds(piped) != "note not waited: 0:00 of 5:00 had passed; done" {
		t.Errorf("piped: %s\n%s", kinds(piped), text)
	}
	if text := chat.New(asks(wait), chat.Options{Now: clock.now}).Begin(start()); !strings.Contains(strings.Join(strings.Fields(text), " "), "Wait 5 minutes (300 seconds).") {
		t.Errorf("a pipe is not told how long:\n%s", text)
	}
}

// A long list of answers stands above still: a line that was not taken does not
// bring it again, while a short one comes with its question.
func TestALongListComesOnce(t *testing.T) {
	kind := &session.Ask{Step: "equipment", Kind: session.AskChoose, Text: "What kind of system is it?"}
	for _, e := range house.Equipments() {
		kind.Answers = append(kind.Answers, session.Choice{ID: e.String(), Text: e.Title()})
	}
	long := begun(asks(session.Effect{Ask: kind}), chat.Options{}).OneShot("dishwasher")
	if strings.Contains(long, "packaged-pump") || !strings.Contains(long, kind.Text) || !strings.Contains(long, "as listed above") {
		t.Errorf("after a wrong word:\n%s", long)
	}
	if short := begun(asks(display), chat.Options{}).OneShot("dishwasher"); !strings.Contains(short, "low-battery") {
		t.Errorf("after a wrong word:\n%s", short)
	}
}
