package chat

import (
	"cmp"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// heard is a line taken apart: what was seen, the words that are left, and of
// those what sounds like a reading and could not be taken for one.
type heard struct {
	seen  []session.Seen
	words string
	lost  []string
}

// known takes what a caller already knows out of the complaint: "fuse good, 26
// at the board, no Y". Where the words that are left name no complaint and the
// whole line does, the whole line is the complaint.
func (c *call) known(line string) heard {
	h := hear(line)
	if len(h.seen) == 0 {
		h.words = line
		return h
	}
	if c.Match == nil {
		return h
	}
	whole, left := c.Match.Match(line), session.Match{}
	if h.words != "" {
		left = c.Match.Match(h.words)
	}
	silent := len(left.Trees) == 0 && left.Outside == "" && left.Emergency == ""
	if silent && (whole.Sure || h.words != "" && len(whole.Trees) > 0) {
		h.words = line
	}
	return h
}

// opened takes what is known already out of the complaint that a call starts
// with.
func (c *call) opened(first session.Event) (e session.Event, lost []string) {
	if first.Kind != session.Start || first.Open == nil || first.Open.Complaint == "" {
		return first, nil
	}
	h, open := c.known(first.Open.Complaint), *first.Open
	open.Complaint, open.Known = h.words, append(slices.Clone(open.Known), h.seen...)
	first.Open = &open
	return first, h.lost
}

// hear takes a line apart. Where no reading is in it, a look is one only between
// stops: "it is blank and there is no cooling" are two complaints.
func hear(line string) heard {
	h := (&ear{at: onlyPlace(line)}).hear(line)
	if !slices.ContainsFunc(h.seen, func(s session.Seen) bool { return !s.Probe.IsLook() }) {
		h = (&ear{whole: true}).hear(line)
	}
	return h
}

func (e *ear) hear(line string) heard {
	clauses := clausesOf(line)
	e.many = len(clauses) > 1
	var h heard
	var words []string
	for _, clause := range clauses {
		seen, left := e.parts(clause)
		h.seen, words = append(h.seen, seen...), append(words, left...)
	}
	for _, w := range words {
		if soundsRead(w) {
			h.lost = append(h.lost, w)
		}
	}
	h.words = strings.Join(words, ", ")
	return h
}

// ear reads clauses one after the other: at is the place named last, and many
// says that a look may be among them, since one alone is a complaint; whole
// says that clauses are not taken to pieces.
type ear struct {
	at    house.Place
	many  bool
	whole bool
}

// parts takes the readings out of a clause; where a piece of it is none, that
// is left.
func (e *ear) parts(clause string) (seen []session.Seen, left []string) {
	x, ok := e.one(clause)
	switch {
	case ok:
		return []session.Seen{x}, nil
	case onlyWhere(clause):
		return nil, nil
	case e.whole:
		return nil, []string{clause}
	}
	for _, by := range []string{" and ", ": "} {
		pieces := strings.Split(clause, by)
		if len(pieces) == 1 {
			continue
		}
		sub := ear{at: e.at, many: true}
		for _, piece := range pieces {
			if piece = strings.TrimSpace(piece); piece == "" {
				continue
			}
			s, l := sub.parts(piece)
			seen, left = append(seen, s...), append(left, l...)
		}
		if len(seen) > 0 {
			e.at = sub.at
			return seen, left
		}
		left = nil
	}
	return e.run(clause)
}

// onlyWhere says whether a clause only says where: "at the board".
func onlyWhere(clause string) bool {
	first, _, _ := strings.Cut(strings.ToLower(clause), " ")
	s, err := take(clause)
	return err == nil && s.at != house.NoPlace && len(s.value)+len(s.ends) == 0 && slices.Contains([]string{"at", "on", "in"}, first)
}

// one reads a clause that is one reading or look.
func (e *ear) one(clause string) (session.Seen, bool) {
	s, err := take(clause)
	if err != nil {
		return session.Seen{}, false
	}
	e.at = cmp.Or(s.placed(clause), e.at)
	if x, ok := s.short(clause, e.at); ok {
		return x, true
	}
	if !e.many {
		return session.Seen{}, false
	}
	return nicknamed(clause)
}

// run reads a clause without a stop in it: "not cooling fuse good 26 at the
// board no Y". The longest run of words that is a reading is taken first.
func (e *ear) run(clause string) (seen []session.Seen, left []string) {
	words := strings.Fields(clause)
	var rest []string
	for i := 0; i < len(words); i++ {
		taken := 0
		for j := min(len(words), i+runMost); j > i+1 && taken == 0; j-- {
			if j-i == len(words) || !plainly(words[i:j]) {
				continue
			}
			sub := ear{at: e.at, many: true}
			if x, ok := sub.one(strings.Join(words[i:j], " ")); ok {
				seen, e.at, taken = append(seen, x), sub.at, j-i
			}
		}
		if taken == 0 {
			rest = append(rest, words[i])
			continue
		}
		i += taken - 1
	}
	if len(seen) == 0 || strings.ContainsAny(strings.Join(rest, ""), "0123456789") { // a number left over belongs to what was taken
		return nil, []string{clause}
	}
	if len(rest) > 0 {
		left = []string{strings.Join(rest, " ")}
	}
	return seen, left
}

// runMost is how many words a reading has at most, within a run of words.
const runMost = 9

// plainly says whether what is a reading by itself is one within a run of words
// too: a letter is a terminal where it is written large, and a furnace may be 20
// years old.
func plainly(words []string) bool {
	small := func(w string) bool { return len(w) == 1 && w[0] >= 'a' && w[0] <= 'z' }
	old := func(w string) bool { return strings.EqualFold(w, "furnace") || strings.EqualFold(w, "condenser") }
	s, err := take(strings.Join(words, " "))
	return err == nil && !slices.ContainsFunc(words, small) && (len(s.ends) > 0 || !slices.ContainsFunc(words, old))
}

// clausesOf splits a line at its stops and at but; a comma within a number is
// none.
func clausesOf(line string) []string {
	line = strings.NewReplacer(" but ", ",", ";", ",", ". ", ",", "! ", ",").Replace(line + " ")
	var out []string
	from := 0
	add := func(clause string) {
		if clause = strings.TrimSpace(clause); clause != "" {
			out = append(out, clause)
		}
	}
	digit := func(i int) bool { return i >= 0 && i < len(line) && line[i] >= '0' && line[i] <= '9' }
	for i := range len(line) {
		if line[i] == ',' && !(digit(i-1) && digit(i+1)) {
			add(line[from:i])
			from = i + 1
		}
	}
	add(line[from:])
	return out
}

// onlyPlace is the place of a line that names one, and no other.
func onlyPlace(line string) house.Place {
	at := house.NoPlace
	for _, clause := range clausesOf(line) {
		for _, piece := range strings.Split(clause, " and ") {
			s, err := take(piece)
			here := s.placed(piece)
			if err != nil || here == house.NoPlace {
				continue
			}
			if at != house.NoPlace && at != here {
				return house.NoPlace
			}
			at = here
		}
	}
	return at
}

// placed is the place of a clause that is a reading, or nothing but a place: the
// place of anything else says nothing of where a meter was.
func (s spoken) placed(clause string) house.Place {
	if _, ok := s.short(clause, s.at); ok || len(s.value)+len(s.ends) == 0 {
		return s.at
	}
	return house.NoPlace
}

// soundsRead says whether a clause that was taken for no reading was meant to
// be one: a number with a terminal, a unit or a board.
func soundsRead(clause string) bool {
	s, err := take(clause)
	value := strings.Join(s.value, " ")
	if err != nil || !strings.ContainsAny(value, "0123456789") {
		return false
	}
	unit := s.quantity != 0 || strings.ContainsAny(value, "vVΩ")
	if len(s.ends) == 0 && !unit && !boarded(clause) {
		return false
	}
	for _, q := range []quantity.Quantity{quantity.ACVolts, quantity.Resistance, quantity.Current} {
		if _, err := quantity.Parse(value, q); err == nil {
			return true
		}
	}
	return false
}

// boarded says whether a clause names a place that is read with a meter: 26 at
// the board is volts, and 26 outside is the weather.
func boarded(clause string) bool {
	return slices.ContainsFunc(strings.Fields(strings.ToLower(clause)), func(w string) bool {
		return slices.Contains([]string{"board", "strip", "furnace", "handler", "air-handler", "condenser"}, strings.Trim(w, ".,"))
	})
}

// deadWords say that nothing is read.
var deadWords = []string{"no", "dead", "nothing", "none", "zero", "0", "0v"}

// shortVoltsMost is the most a number without its unit is taken for volts: more
// is a temperature.
const shortVoltsMost = 35

// short makes a reading of a clause that leaves out what goes without saying:
// volts AC, to C, R where no terminal is named, at the place named last. A bare
// number is a temperature, but at a board.
func (s spoken) short(clause string, at house.Place) (session.Seen, bool) {
	value := strings.ToLower(strings.Join(s.value, " "))
	dead := len(s.ends) > 0 && slices.Contains(deadWords, value)
	bare := s.quantity == 0 && !strings.ContainsAny(value, "vV")
	switch {
	case s.conductor != (house.Conductor{}), s.quantity != 0 && s.quantity != quantity.ACVolts && s.quantity != quantity.LowZVolts:
		return session.Seen{}, false
	case len(s.ends) == 0 && (s.at == house.NoPlace || bare && !boarded(clause)):
		return session.Seen{}, false
	case at == house.NoPlace, len(s.ends) > 2:
		return session.Seen{}, false
	case dead:
		value = "0"
	}
	s.at, s.quantity = at, max(s.quantity, quantity.ACVolts)
	if len(s.ends) == 0 {
		s.ends = []house.Terminal{house.R}
	}
	if len(s.ends) == 1 {
		if s.ends[0] == house.C {
			return session.Seen{}, false
		}
		s.ends = append(s.ends, house.C)
	}
	s.value = []string{value}
	seen, err := s.seen()
	return seen, err == nil && !(bare && seen.Reading.Value > shortVoltsMost)
}

// nicknames are what people call the things they look at.
var nicknames = []struct {
	name string
	look house.Look
}{
	{"fuse", house.FuseLook}, {"board fuse", house.FuseLook}, {"blower", house.IndoorFan}, {"inside fan", house.IndoorFan},
	{"indoor unit", house.IndoorFan}, {"condenser", house.OutdoorUnit}, {"outside unit", house.OutdoorUnit},
	{"outdoor fan", house.OutdoorUnit}, {"screen", house.Display}, {"stat", house.Display}, {"thermostat", house.Display},
	{"contactor", house.ContactorLook}, {"pan", house.DrainPan}, {"float pan", house.DrainPan}, {"breaker", house.BreakerIndoor},
	{"outdoor breaker", house.BreakerOutdoor}, {"panel", house.PanelIndoor},
}

// setupOf takes the words of a setup out of a line: calling=no. The error is
// that of the last one that is none.
func setupOf(line string) (given house.Partial, rest string, err error) {
	var words []string
	for _, word := range strings.Fields(line) {
		key, value, ok := strings.Cut(word, "=")
		k, unknown := house.ParseKey(strings.ToLower(key))
		if !ok || unknown != nil {
			words = append(words, word)
			continue
		}
		if wrong := given.Set(k, strings.Split(value, ",")); wrong != nil {
			err = wrong
		}
	}
	return given, strings.Join(words, " "), err
}

// nicknamed reads a look by its own name or what people call it: "fuse good".
func nicknamed(clause string) (session.Seen, bool) {
	given, clause, err := setupOf(clause)
	if err != nil {
		return session.Seen{}, false
	}
	said := plainWords(clause)
	try := func(name string, l house.Look) (session.Seen, bool) {
		rest, ok := strings.CutPrefix(said, name+" ")
		if !ok {
			return session.Seen{}, false
		}
		a, ok := l.Heard(rest)
		return session.Seen{Probe: house.LookAt(l), Answer: a, Given: given}, ok
	}
	for _, l := range house.Looks() {
		if s, ok := try(spaced(l.String()), l); ok {
			return s, true
		}
	}
	for _, n := range nicknames {
		if s, ok := try(n.name, n.look); ok {
			return s, true
		}
	}
	return session.Seen{}, false
}
