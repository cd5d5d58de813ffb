package rewire_test

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stepdown/cautions"
	"stepdown/engine/caution"
	"stepdown/engine/house"
	"stepdown/engine/rewire"
)

func records(t testing.TB) caution.Set {
	t.Helper()
	set, problems := caution.Load(cautions.FS)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return set
}

// talked is a conversation with everything that was shown.
type talked struct {
	*rewire.Talk
	text strings.Builder
	last string
}

func (k *talked) say(line string) {
	k.last = k.OneShot(line)
	k.text.WriteString("> " + line + "\n" + k.last)
}

// narrow fails where a line is wider than a screen.
func narrow(t testing.TB, text string) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		if len([]rune(line)) > 80 {
			t.Errorf("wider than 80: %q", line)
		}
	}
}

func begin(t testing.TB, c rewire.Case, check bool, lines ...string) *talked {
	t.Helper()
	k := &talked{Talk: solver().Talk(c, records(t), check)}
	k.last = k.Begin()
	k.text.WriteString(k.last)
	for _, l := range lines {
		k.say(l)
	}
	return k
}

var wordOf = regexp.MustCompile(`Type (\w+) once it is read`)

// do obeys what is asked until a question the planner does not ask, or the end.
func (k *talked) do(t testing.TB) {
	t.Helper()
	for range 60 {
		switch p := k.Prompt(); {
		case k.Ended():
			return
		case p == "done > ":
			k.say("done")
		case strings.HasPrefix(p, "type"):
			k.say(wordOf.FindStringSubmatch(k.last)[1])
		case strings.Contains(k.last, "What kind of thermostat"):
			k.say("low-voltage")
		default:
			return
		}
	}
	t.Fatalf("no end:\n%s", k.text.String())
}

func inOrder(t *testing.T, text string, parts ...string) {
	t.Helper()
	rest := text
	for _, p := range parts {
		i := strings.Index(rest, p)
		if i < 0 {
			t.Fatalf("%q is missing, or out of order, in:\n%s", p, text)
		}
		rest = rest[i+len(p):]
	}
}

var pumpWires = []string{"red R", "blue B", "yellow Y", "green G", "black C", "white W2", "done", "R C Y G O/B AUX/E", "common"}

// TestTalkReadsTheBFirst and lands behind lockout.
func TestTalkReadsTheBFirst(t *testing.T) {
	k := begin(t, rewire.Case{Equipment: house.PumpHeatingValve, Meter: house.MeterBoth}, false, pumpWires...)
	k.do(t)
	if k.Prompt() != "ohms > " {
		t.Fatalf("prompt %q:\n%s", k.Prompt(), k.text.String())
	}
	k.say("31.2 ohms")
	k.do(t)
	if !k.Ended() || k.Exit() != 0 {
		t.Errorf("ended %v, exit %d:\n%s", k.Ended(), k.Exit(), k.text.String())
	}
	inOrder(t, k.text.String(), "What kind of thermostat", "Type lockout", "Prove the wall base dead",
		"Ohms from blue (old B) to black (old C)", "9 to 67: the reversing valve", "WHERE EACH WIRE GOES",
		"energised in heating", "tried in the model", "Land each wire as shown", "Now call each mode")
	narrow(t, k.text.String())
}

// TestTalkTakesAReadingNobodyAskedFor: the B was read before, so it is asked for
// no more; a wire that is taken back takes its reading with it.
func TestTalkTakesAReadingNobodyAskedFor(t *testing.T) {
	c := rewire.Case{Equipment: house.PumpHeatingValve, Meter: house.MeterBoth}
	k := begin(t, c, false, pumpWires[:6]...)
	for line, want := range map[string]string{
		"blue to pink 31":        "no wire is called \"pink\"",
		"blue to blue 31":        "both leads are on one wire",
		"blue to black 31 volts": "error: ",
		"blue to black lots":     "error: ",
	} {
		if k.say(line); !strings.Contains(k.last, want) {
			t.Errorf("%q: %q", line, k.last)
		}
	}
	k.say("blue to black 31 ohms")
	inOrder(t, k.last, "Noted: 31 ohms from blue to black")
	for _, l := range pumpWires[6:] {
		k.say(l)
	}
	inOrder(t, k.last, "WHERE EACH WIRE GOES", "a reading shows the reversing valve")

	k = begin(t, c, false, "red R", "black C", "blue B", "blue to black 31", "back", "blue B", "yellow Y", "green G", "white W2")
	for _, l := range pumpWires[6:] {
		k.say(l)
	}
	k.do(t)
	if k.Prompt() != "ohms > " {
		t.Fatalf("the reading outlived its wire: prompt %q:\n%s", k.Prompt(), k.text.String())
	}
	k.say("blue to red 29")
	inOrder(t, k.last, "WHERE EACH WIRE GOES")
}

// TestTalkUnable: what cannot be read leaves the wires where they are.
func TestTalkUnable(t *testing.T) {
	k := begin(t, rewire.Case{Equipment: house.PumpHeatingValve, Meter: house.MeterBoth}, false, pumpWires...)
	for range 30 {
		if k.Ended() {
			break
		}
		if strings.Contains(k.last, "What kind of thermostat") {
			k.say("low-voltage")
			continue
		}
		k.say("unable")
	}
	inOrder(t, k.text.String(), "NOT KNOWN YET: LAND NOTHING", "blue (old B) may be")
	if k.Exit() != 1 || strings.Contains(k.text.String(), "Land each wire as shown") {
		t.Errorf("exit %d:\n%s", k.Exit(), k.text.String())
	}
}

// TestTalkStopsAtLineVoltage.
func TestTalkStopsAtLineVoltage(t *testing.T) {
	k := begin(t, rewire.Case{Equipment: house.PumpHeatingValve, Meter: house.MeterBoth}, false, pumpWires...)
	k.say("line-voltage")
	if !k.Ended() || k.Exit() != 1 || !strings.Contains(k.last, "Stop.") {
		t.Error(k.last)
	}
}

// TestHomeowner reads no ohms and opens no cover: an ordinary swap is answered,
// with the breaker off before a wire is touched; a B is left for a technician.
func TestHomeowner(t *testing.T) {
	plain := []string{"red R", "blue C", "yellow Y", "green G", "white W", "done", "R C Y G W", "common"}
	k := begin(t, rewire.Case{Audience: house.Homeowner, Equipment: house.CoolGas, Meter: house.MeterBoth}, false, plain...)
	k.do(t)
	if !k.Ended() || k.Exit() != 0 {
		t.Errorf("ended %v, exit %d:\n%s", k.Ended(), k.Exit(), k.text.String())
	}
	inOrder(t, k.text.String(), "WHERE EACH WIRE GOES", "breaker", "Land each wire as shown", "breaker")
	narrow(t, k.text.String())
	k = begin(t, rewire.Case{Audience: house.Homeowner, Equipment: house.PumpHeatingValve, Meter: house.MeterBoth}, false, pumpWires...)
	k.do(t)
	inOrder(t, k.text.String(), "LAND NOTHING", "licensed technician")
	// With the screws in view one reading can show the valve.
	k = begin(t, rewire.Case{Audience: house.Homeowner, Equipment: house.PumpHeatingValve, Meter: house.MeterBoth, OldBase: house.BaseExposed}, false, pumpWires...)
	k.do(t)
	if k.Prompt() != "volts > " {
		t.Fatalf("prompt %q:\n%s", k.Prompt(), k.text.String())
	}
	k.say("0.1")
	inOrder(t, k.text.String(), "thermostat on HEAT", "WHERE EACH WIRE GOES", "a reading shows the reversing valve")
	k = begin(t, rewire.Case{Audience: house.Homeowner, Equipment: house.PumpHeatingValve, Meter: house.MeterBoth, OldBase: house.BaseExposed}, false, pumpWires...)
	k.do(t)
	k.say("26")
	inOrder(t, k.text.String(), "LAND NOTHING", "licensed technician")
}

// TestTalkTellsWhatIsWrongWithALine, in one line and the question again.
func TestTalkTellsWhatIsWrongWithALine(t *testing.T) {
	k := begin(t, rewire.Case{}, false)
	for line, want := range map[string]string{
		"done": "Name a wire first", "mauve R": "no colour known here", "red Q": "no thermostat letter", "red R C Y": "one letter too many",
		"help": "unable", "why": "letters",
	} {
		if k.say(line); !strings.Contains(k.last, want) {
			t.Errorf("%q: %q", line, k.last)
		}
	}
	k.say("blue C")
	if k.say("blue B"); !strings.Contains(k.last, "blue-2") {
		t.Error(k.last)
	}
	k.say("back")
	k.say("red r")
	k.say("done")
	if k.say("Z"); !strings.HasPrefix(k.last, "error:") {
		t.Error(k.last)
	}
	k.say("R C W")
	if k.say("sun"); !strings.HasPrefix(k.last, "error:") {
		t.Error(k.last)
	}
	if got := k.Complete("thr"); len(got) != 1 || got[0] != "through-load" {
		t.Error(got)
	}
	k.say("battery")
	if !strings.Contains(k.last, "packaged-gas") {
		t.Error(k.last)
	}
	k.say("cool-gas")
	narrow(t, k.text.String())
	inOrder(t, k.text.String(), "NOT KNOWN YET", "No conductor is known to be Y")
}

// TestCheckTalk tells what a landing does, and leaves the power off.
func TestCheckTalk(t *testing.T) {
	k := begin(t, rewire.Case{}, true, "red R now R", "blue C now Y", "yellow Y now C", "green G now G", "white W now W",
		"done", "R C Y G W", "common", "none", "cool-gas")
	inOrder(t, k.text.String(), "THIS LANDING IS WRONG", "blue is on Y: it is the common and belongs on C",
		"cooling: ", "If it was powered like this")
	if k.Exit() != 1 {
		t.Error(k.Exit())
	}
	k = begin(t, rewire.Case{}, true, "red R now R", "blue C now C", "yellow Y now Y", "green G now G", "white W now W",
		"done", "R C Y G W", "common", "none", "cool-gas")
	if !k.Ended() || k.Exit() != 0 || !strings.Contains(k.last, "THIS LANDING IS RIGHT") {
		t.Errorf("exit %d:\n%s", k.Exit(), k.text.String())
	}
}

// TestCheckTalkAsksForTheChangeover: on a base with O/B its setting is asked,
// and what is wrong with it is told.
func TestCheckTalkAsksForTheChangeover(t *testing.T) {
	wires := []string{"red R now R", "blue C now C", "yellow Y now Y", "green G now G", "orange O now O/B", "white W2 now W2", "done",
		"R C Y G O/B W2 E", "common", "W2-E"}
	for line, want := range map[string]string{
		"heating": "The changeover is set the other way round",
		"cooling": "THIS LANDING IS RIGHT",
		"unknown": "changeover: energised in cooling",
	} {
		k := begin(t, rewire.Case{}, true, wires...)
		if k.say("backwards"); !strings.Contains(k.last, "cooling or heating") {
			t.Error(k.last)
		}
		k.say(line)
		k.say("pump-cooling-valve")
		if !strings.Contains(k.text.String(), want) || (k.Exit() == 1) != (line == "heating") {
			t.Errorf("%s: exit %d:\n%s", line, k.Exit(), k.text.String())
		}
		narrow(t, k.text.String())
	}
}

// TestTalkNeverLandsAnUnreadB: whatever is typed, no landing is shown while a B
// is unread, and nothing panics.
func TestTalkNeverLandsAnUnreadB(t *testing.T) {
	lines := []string{"red R", "blue B", "yellow Y", "green G", "white W2", "black C", "brown none", "grey L", "orange O", "done", "back",
		"R C Y G O/B AUX/E", "R C Y G W", "Rc Rh C Y G O B W", "common", "either", "battery", "cool-gas", "pump-heating-valve", "unknown",
		"low-voltage", "lockout", "unable", "why", "wires", "cooling", "heating", "running", "quit?", "none", "B", "C"}
	set := records(t)
	rapid.Check(t, func(rt *rapid.T) {
		k := &talked{Talk: solver().Talk(rewire.Case{Meter: house.MeterBoth}, set, false)}
		b, reads := false, false
		for range rapid.IntRange(5, 30).Draw(rt, "lines") {
			l := rapid.SampledFrom(lines).Draw(rt, "line")
			if k.Prompt() == "ohms > " {
				reads = true
				l = rapid.SampledFrom([]string{"30", "2", "OL", "unable"}).Draw(rt, "ohms")
			}
			b = b || l == "blue B" && k.Prompt() == "wire > "
			if l == "back" {
				b = strings.Contains(k.OneShot("wires"), "old B")
			}
			k.say(l)
			if b && !reads && strings.Contains(k.last, "WHERE EACH WIRE GOES") && strings.Contains(k.OneShot("wires"), "old B") {
				rt.Fatalf("a B lands unread:\n%s", k.text.String())
			}
		}
	})
}

// FuzzParse: no file breaks the reader, and what it takes can be solved or is
// turned down in words.
func FuzzParse(f *testing.F) {
	f.Add("new-base: {letters: R C Y G W, power: common}\nconductors: [{colour: red, old: R}, {colour: blue, old: C, equipment: C, now: C}]\n")
	f.Add(`{"as":"homeowner","equipment":"cool-gas","new-base":{"letters":["R","C"],"power":"either"},"conductors":[{"name":"x","old":"O/B"}],"readings":[{"ohms":"OL","red":"x","black":"x"}]}`)
	f.Add("new-base: {letters: R Y, power: battery}\nconductors: [{colour: red, old: B}]\nlooks: [{look: outdoor-unit, answer: running, jumper: red}]\njoined: [W2-E]\n")
	f.Fuzz(func(t *testing.T, text string) {
		c, problems := rewire.Parse("swap.yaml", []byte(text))
		if len(problems) > 0 {
			return
		}
		if r, err := solver().Solve(c); err == nil && r.Text() == "" {
			t.Error("nothing is said")
		}
		if k, err := solver().Check(c); err == nil && k.Text() == "" {
			t.Error("nothing is said")
		}
	})
}
