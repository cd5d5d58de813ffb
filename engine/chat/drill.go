package chat

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"stepdown/engine/drill"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
)

// Drill is a practice house in text: the same words for probes as a call, but
// the house answers.
type Drill struct {
	game   *drill.Game
	style  Style
	ended  bool
	right  bool
	scored bool
	score  drill.Score
}

// NewDrill makes one.
func NewDrill(g *drill.Game, s Style) *Drill { return &Drill{game: g, style: s} }

// Ended reports whether a fault was named or the drill was left.
func (d *Drill) Ended() bool { return d.ended }

// Right reports whether the fault named was the one.
func (d *Drill) Right() bool { return d.right }

// Prompt is what stands before a typed line.
func (d *Drill) Prompt() string { return "  probe > " }

// Begin says what is known and how to probe.
func (d *Drill) Begin(complaint string) string {
	e := d.game.Equipment().ID
	return joinLines(d.say(
		"A drill on an invented house: "+e.Title()+".",
		"Somebody says: "+complaint,
		"Probe it, then name the fault. Type help for the words."))
}

// drillHelp are the words of a drill and what each does.
var drillHelp = [][2]string{
	{"volts R C at thermostat", "a reading; volts-lowz, ohms and amps too"},
	{"look outdoor-unit", "a look; looks lists them"},
	{"set cool calling", "the thermostat: cool, heat, emergency, off; calling, idle; fan on, fan auto"},
	{"set cover-indoor=open", "any key of the setup; house shows them"},
	{"house", "how the house stands"},
	{"wait", "let five minutes pass"},
	{"hint", "the probe best made next; it costs points"},
	{"name open-y", "the fault, and the end; faults lists them"},
	{"quit", "leave"},
}

// help gives each word with what it does beside it, or under it where the
// screen is narrow.
func (d *Drill) help() []string {
	var out []string
	for _, h := range drillHelp {
		if beside := "    " + pad(h[0], 26); width(beside)+20 <= d.style.column() {
			out = append(out, wrap(h[1], beside, d.style.column())...)
			continue
		}
		out = append(append(out, "    "+h[0]), wrap(h[1], "      ", d.style.column())...)
	}
	return out
}

// OneShot takes one line and gives what to show for it.
func (d *Drill) OneShot(line string) string {
	line = strings.TrimSpace(source.Clean(line))
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	switch strings.ToLower(word) {
	case "":
		return ""
	case "help", "?":
		return joinLines(d.help())
	case "quit", "exit":
		d.ended = true
		return joinLines(d.say("Left without a verdict."))
	case "house", "setup":
		return joinLines(d.say(d.game.Setup().String() + "."))
	case "looks":
		return joinLines(d.say(strings.Join(d.looks(), ", ")))
	case "faults":
		return joinLines(d.say(strings.Join(d.faults(), ", ")))
	case "hint":
		return joinLines(d.hint())
	case "wait":
		return joinLines(d.wait())
	case "look":
		return joinLines(d.look(rest))
	case "set":
		return joinLines(d.set(rest))
	case "name":
		return joinLines(d.name(rest))
	}
	if _, err := house.ParseLook(word); err == nil && rest == "" {
		return joinLines(d.look(word))
	}
	if f, err := house.ParseFault(line); err == nil {
		return joinLines(d.problem(fmt.Errorf("to end the drill with that, type: name %s", f)))
	}
	return joinLines(d.measure(line))
}

func (d *Drill) look(word string) []string {
	l, err := house.ParseLook(word)
	if err != nil {
		return d.problem(err)
	}
	a, err := d.game.Look(l)
	if err != nil {
		return d.problem(err)
	}
	return d.say(fmt.Sprintf("%s: %s (%s)", l, l.AnswerID(a), l.AnswerText(a)))
}

func (d *Drill) measure(line string) []string {
	s, err := take(line)
	if err == nil && len(s.value) > 0 {
		err = fmt.Errorf("%q is no word of a probe; say it like: volts R C at thermostat", strings.Join(s.value, " "))
	}
	var p house.Probe
	if err == nil {
		if s.quantity == 0 {
			s.quantity = quantity.ACVolts
		}
		p, err = s.probe()
	}
	if err == nil && !s.given.Empty() {
		err = d.game.Set(s.given)
	}
	if err != nil {
		return d.problem(err)
	}
	r, err := d.game.Measure(p)
	if err != nil {
		return d.problem(err)
	}
	value := quantity.Format(r, p.Quantity)
	if d.style.ASCII {
		value = quantity.FormatASCII(r, p.Quantity)
	}
	return d.say(p.String() + ": " + value)
}

// setWords are the thermostat's settings in a technician's words.
var setWords = map[string][2]string{
	"cool": {"mode", "cool"}, "heat": {"mode", "heat"}, "emergency": {"mode", "emergency"}, "off": {"mode", "off"},
	"calling": {"calling", "yes"}, "idle": {"calling", "no"}, "removed": {"thermostat", "removed"}, "mounted": {"thermostat", "mounted"},
}

func (d *Drill) set(rest string) []string {
	var p house.Partial
	words := strings.Fields(strings.ToLower(strings.NewReplacer("fan on", "fan=on", "fan auto", "fan=auto").Replace(rest)))
	if len(words) == 0 {
		return d.problem(errors.New("set what? As in: set cool calling, or: set cover-indoor=open"))
	}
	for i, word := range words {
		key, value, ok := strings.Cut(word, "=")
		if pair, plain := setWords[word]; plain {
			key, value, ok = pair[0], pair[1], true
		}
		if !ok {
			return d.problem(fmt.Errorf("%q is no setting; type help for the words", word))
		}
		k, err := house.ParseKey(key)
		if err == nil {
			// A list keeps the case it was typed in: conductors are Y@thermostat.
			if k.IsList() {
				_, value, _ = strings.Cut(strings.Fields(rest)[i], "=")
			}
			err = p.Set(k, strings.FieldsFunc(value, func(r rune) bool { return r == ',' }))
		}
		if err != nil {
			return d.problem(err)
		}
	}
	before := len(d.game.Slips())
	if err := d.game.Set(p); err != nil {
		return d.problem(err)
	}
	return append(d.say("The house: "+d.game.Setup().String()+"."), d.newSlips(before)...)
}

// newSlips says what would have hurt on a real house.
func (d *Drill) newSlips(before int) []string {
	var out []string
	for _, s := range d.game.Slips()[before:] {
		out = append(out, d.say("! On a real house that could hurt: "+s.Text+".")...)
	}
	return out
}

func (d *Drill) name(word string) []string {
	if word == "" {
		return d.problem(errors.New("name which fault? As in: name open-y; faults lists them"))
	}
	f, err := house.ParseFault(word)
	if err != nil {
		return d.problem(err)
	}
	v := d.game.Name(f)
	d.ended, d.right = true, v.Right
	verdict := "RIGHT: it was " + v.Was.String() + "."
	if !v.Right {
		verdict = "WRONG: it was " + v.Was.String() + ", not " + v.Named.String() + "."
	}
	out := d.say(verdict, fmt.Sprintf("Probes: %d. Safety slips: %d.", v.Probes, len(v.Slips)))
	for _, s := range v.Slips {
		out = append(out, d.say("! "+s.Text)...)
	}
	return append(out, d.marked(v)...)
}

func (d *Drill) problem(err error) []string { return d.say("? " + err.Error()) }

func (d *Drill) say(lines ...string) []string {
	var out []string
	for _, l := range lines {
		out = append(out, wrap(l, "  ", d.style.column())...)
	}
	return out
}

func (d *Drill) looks() []string {
	var out []string
	for _, l := range house.Looks() {
		if d.game.Equipment().ID.HasLook(l) {
			out = append(out, l.String())
		}
	}
	return out
}

func (d *Drill) faults() []string {
	var out []string
	for _, f := range d.game.Equipment().Faults() {
		out = append(out, f.String())
	}
	return out
}

// Loop reads lines until a fault is named, the drill is left or input ends.
func (d *Drill) Loop(complaint string, in LineReader, out io.Writer) error {
	text := d.Begin(complaint)
	for {
		if _, err := io.WriteString(out, text); err != nil || d.ended {
			return err
		}
		line, err := in.ReadLine(d.Prompt())
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case errors.Is(err, ErrInterrupted):
			text = joinLines(d.say("Type quit, or Ctrl-D, to leave."))
		case errors.Is(err, ErrLongLine):
			text = joinLines(d.problem(errors.New("that line is too long")))
		case err != nil:
			return err
		default:
			in.AddHistory(line)
			text = d.OneShot(line)
		}
	}
}
