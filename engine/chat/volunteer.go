package chat

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// volunteered takes a probe nobody asked for, said in words: "R to G at the
// thermostat is 0", "display blank". The answer to the very look that is asked
// is an answer.
func (c *Chat) volunteered(q session.Effect, line string) (intent, bool) {
	measure, isMeasure := c.measured(line)
	if isMeasure && measure.event != nil {
		return measure, true
	}
	if seen, ok := nicknamed(line); ok {
		if q.Ask != nil && q.Ask.Kind == session.AskLook && q.Ask.Look == seen.Probe.Look {
			return intent{event: &session.Event{Kind: session.Answer, Reply: seen.Probe.Look.AnswerID(seen.Answer)}}, true
		}
		return intent{event: &session.Event{Kind: session.Volunteer, Seen: &seen}}, true
	}
	if known, ok := c.several(line, q.Ask); ok {
		return intent{known: known}, true
	}
	return measure, isMeasure
}

// several reads a line that is nothing but readings and looks: "display lit,
// indoor fan running", "26 at the board, no Y". Where a reading is asked for,
// that is where they were made, unless they say.
func (c *Chat) several(line string, ask *session.Ask) ([]session.Seen, bool) {
	e := ear{at: onlyPlace(line), many: true}
	if e.at == house.NoPlace && ask != nil && ask.Kind == session.AskMeasure {
		e.at = ask.At
	}
	var out []session.Seen
	for _, clause := range clausesOf(line) {
		seen, left := e.parts(clause)
		if len(left) > 0 {
			return nil, false
		}
		out = append(out, seen...)
	}
	return out, len(out) > 0
}

// complained takes the complaint with what is known already.
func (c *Chat) complained(line string) intent {
	h := c.known(line)
	in := intent{known: h.seen, lost: h.lost}
	if h.words != "" {
		in.event = &session.Event{Kind: session.Text, Reply: h.words}
	}
	return in
}

// ofBatch makes a volunteered reading that is one of those asked for the
// answer to it.
func ofBatch(ask *session.Ask, in intent) intent {
	if in.event == nil || !in.event.Seen.Given.Empty() {
		return in
	}
	p := in.event.Seen.Probe
	for _, pair := range ask.Pairs {
		turned := p.Red != pair.Red && p.Quantity == quantity.DCVolts // the sign turns too
		same := sameEnds(pair, p.Red, p.Black) && !turned
		if p.Quantity == quantity.Current {
			same = p.Conductor == pair.Conductor
		}
		if same && p.Quantity == ask.Quantity && p.At == ask.At {
			return intent{given: map[string]quantity.Reading{pair.Name: in.event.Seen.Reading}}
		}
	}
	return in
}

// spoken is a reading in words, taken apart.
type spoken struct {
	quantity  quantity.Quantity // 0 where not said
	at        house.Place       // NoPlace where not said
	ends      []house.Terminal
	conductor house.Conductor
	given     house.Partial
	value     []string // what is left
}

// placeWords are the ways a place is said; weak ones count only where no other
// is named, since "the outdoor board" is outdoors.
var placeWords = []struct {
	word  string
	place house.Place
	weak  bool
}{
	{"thermostat", house.AtThermostat, false}, {"stat", house.AtThermostat, false}, {"base", house.AtThermostat, true},
	{"wall", house.AtThermostat, true}, {"indoor", house.AtIndoor, false}, {"indoors", house.AtIndoor, false},
	{"furnace", house.AtIndoor, false}, {"handler", house.AtIndoor, false}, {"air-handler", house.AtIndoor, false},
	{"board", house.AtIndoor, true}, {"outdoor", house.AtOutdoor, false}, {"outdoors", house.AtOutdoor, false},
	{"outside", house.AtOutdoor, false}, {"condenser", house.AtOutdoor, false}, {"strip", house.AtOutdoor, true},
}

// measureFillers are words that say nothing about a reading.
var measureFillers = []string{"the", "is", "are", "was", "reads", "read", "reading", "shows", "to", "at", "on", "in",
	"from", "between", "and", "across", "red", "black", "with", "of", "i", "get", "got", "have", "there", "wire", "terminal",
	"screw", "lead", "air", "unit", "-", "=", "measured", "only", "has", "had", "gives", "showing", "reading", "its", "it's", "it"}

// measured reads a reading in words. ok says the line is one, or was meant to
// be; the intent then holds the event or the problem.
func (c *Chat) measured(line string) (in intent, ok bool) {
	s, err := take(line)
	if len(s.ends) < 2 && s.conductor == (house.Conductor{}) && !(s.quantity == quantity.Current && len(s.ends) == 1) {
		return intent{}, false
	}
	if err != nil {
		return intent{problem: err.Error()}, true
	}
	if q := c.open(); q.Ask != nil && q.Ask.Kind == session.AskMeasure {
		s.assume(q.Ask)
	}
	seen, err := s.seen()
	if err != nil {
		return intent{problem: err.Error()}, true
	}
	return intent{event: &session.Event{Kind: session.Volunteer, Seen: &seen}}, true
}

// assume fills what was not said from the reading that is asked for: its
// place, and its quantity where the leads are on the same ends.
func (s *spoken) assume(ask *session.Ask) {
	if s.at == house.NoPlace {
		s.at = ask.At
	}
	if s.quantity != 0 || s.at != ask.At || len(s.ends) != 2 {
		return
	}
	for _, pair := range ask.Pairs {
		if sameEnds(pair, s.ends[0], s.ends[1]) {
			s.quantity = ask.Quantity
		}
	}
}

// sameEnds says whether two leads are on the ends of a pair, either way round.
func sameEnds(pair session.Pair, red, black house.Terminal) bool {
	return red == pair.Red && black == pair.Black || red == pair.Black && black == pair.Red
}

// take sorts the words of a line. An error is about a setup word.
func take(line string) (spoken, error) {
	var s spoken
	var weak house.Place
	line = strings.NewReplacer(" = ", " ", ": ", " ", ", ", " ", "–", "-").Replace(line + " ")
	given, line, err := setupOf(line)
	s.given = given
	words := s.takeQuantity(strings.Fields(line))
	for _, word := range words {
		if s.takePlace(word, &weak) || s.takeEnds(word) || slices.Contains(measureFillers, strings.ToLower(word)) {
			continue
		}
		s.value = append(s.value, word)
	}
	if s.at == house.NoPlace {
		s.at = weak
	}
	return s, err
}

// quantityWords name a quantity; the longer first.
var quantityWords = []struct {
	words    []string
	quantity quantity.Quantity
}{
	{[]string{"volts", "dc"}, quantity.DCVolts}, {[]string{"dc", "volts"}, quantity.DCVolts}, {[]string{"volts-dc"}, quantity.DCVolts},
	{[]string{"low", "impedance"}, quantity.LowZVolts}, {[]string{"low-impedance"}, quantity.LowZVolts},
	{[]string{"volts-lowz"}, quantity.LowZVolts}, {[]string{"lowz"}, quantity.LowZVolts}, {[]string{"low-z"}, quantity.LowZVolts},
	{[]string{"volts"}, quantity.ACVolts}, {[]string{"volt"}, quantity.ACVolts}, {[]string{"voltage"}, quantity.ACVolts},
	{[]string{"ohms"}, quantity.Resistance}, {[]string{"ohm"}, quantity.Resistance}, {[]string{"resistance"}, quantity.Resistance},
	{[]string{"amps"}, quantity.Current}, {[]string{"amp"}, quantity.Current}, {[]string{"current"}, quantity.Current},
}

// takeQuantity takes the words that name the quantity out of the line.
func (s *spoken) takeQuantity(words []string) []string {
	for _, q := range quantityWords {
		for i := 0; i+len(q.words) <= len(words); i++ {
			if !slices.EqualFunc(words[i:i+len(q.words)], q.words, strings.EqualFold) {
				continue
			}
			if s.quantity == 0 {
				s.quantity = q.quantity
			}
			words = slices.Delete(slices.Clone(words), i, i+len(q.words))
			i--
		}
	}
	return words
}

func (s *spoken) takePlace(word string, weak *house.Place) bool {
	word = strings.TrimSuffix(strings.ToLower(strings.TrimRight(word, ".,")), "'s")
	for _, p := range placeWords {
		if word != p.word {
			continue
		}
		if p.weak {
			*weak = p.place
		} else if s.at == house.NoPlace {
			s.at = p.place
		}
		return true
	}
	return false
}

// takeEnds takes terminals: R, coil-1, R-C, or a conductor such as
// Y@indoor>outdoor.
func (s *spoken) takeEnds(word string) bool {
	word = strings.TrimRight(word, ".,:")
	if strings.Contains(word, "@") {
		conductor, err := house.ParseConductor(word)
		s.conductor = conductor
		return err == nil
	}
	if t, ok := terminalOf(word); ok {
		s.ends = append(s.ends, t)
		return true
	}
	parts := strings.FieldsFunc(word, func(r rune) bool { return r == '-' || r == '/' })
	if len(parts) != 2 {
		return false
	}
	red, redOK := terminalOf(parts[0])
	black, blackOK := terminalOf(parts[1])
	if redOK && blackOK {
		s.ends = append(s.ends, red, black)
	}
	return redOK && blackOK
}

// terminalOf reads a terminal in any case.
func terminalOf(word string) (house.Terminal, bool) {
	if t, err := house.ParseTerminal(word); err == nil {
		return t, true
	}
	for _, t := range house.Terminals() {
		if strings.EqualFold(t.String(), word) {
			return t, true
		}
	}
	return house.NoTerminal, false
}

// seen makes the probe of the words, or says what is missing.
func (s spoken) seen() (session.Seen, error) {
	value := strings.Join(s.value, " ")
	if value == "" {
		return session.Seen{}, fmt.Errorf("that names the leads but no reading; say it like: R to C at the thermostat is 26.8")
	}
	if s.quantity == 0 {
		s.quantity = quantity.ACVolts
		if _, err := quantity.Parse(value, quantity.Resistance); err == nil {
			if _, err := quantity.Parse(value, quantity.ACVolts); err != nil {
				s.quantity = quantity.Resistance
			}
		}
	}
	reading, err := quantity.Parse(value, s.quantity)
	if err != nil {
		return session.Seen{}, err
	}
	probe, err := s.probe()
	return session.Seen{Probe: probe, Reading: reading, Given: s.given}, err
}

func (s spoken) probe() (house.Probe, error) {
	if s.quantity == quantity.Current {
		return s.clamp()
	}
	switch {
	case s.at == house.NoPlace:
		return house.Probe{}, fmt.Errorf("say where it was read: at the thermostat, indoor or outdoor")
	case len(s.ends) != 2:
		return house.Probe{}, fmt.Errorf("a reading has two leads; say it like: R to C at the thermostat is 26.8")
	case s.ends[0] == s.ends[1]:
		return house.Probe{}, fmt.Errorf("both leads are on %s; a reading is between two terminals", s.ends[0])
	}
	return house.Measure(s.quantity, s.ends[0], s.ends[1], s.at), nil
}

// clamp finds the conductor a current was read on.
func (s spoken) clamp() (house.Probe, error) {
	if s.conductor != (house.Conductor{}) {
		return house.Clamp(s.conductor), nil
	}
	if len(s.ends) != 1 || s.at == house.NoPlace {
		return house.Probe{}, fmt.Errorf("say which conductor the clamp was on, like: amps Y@indoor>outdoor 0.4")
	}
	var found []house.Conductor
	var words []string
	for _, c := range house.AllConductors() {
		if c.Terminal == s.ends[0] && c.At == s.at {
			found, words = append(found, c), append(words, c.String())
		}
	}
	switch len(found) {
	case 0:
		return house.Probe{}, fmt.Errorf("%s has no conductor at %s", s.ends[0], s.at)
	case 1:
		return house.Clamp(found[0]), nil
	}
	return house.Probe{}, fmt.Errorf("two conductors share that screw; say which: %s", strings.Join(words, " or "))
}
