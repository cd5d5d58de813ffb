package chat

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// lineBytesMax is the longest line taken: past it, it is a paste.
const lineBytesMax = 4096

// intent is what a line was understood as: exactly one field is set, none for
// a line that says nothing; known may go with an event, and lost with known or
// an event.
type intent struct {
	event   *session.Event
	known   []session.Seen              // to be volunteered, before the event where there is one
	lost    []string                    // what sounds like a reading and was not taken for one
	given   map[string]quantity.Reading // some readings of the batch
	command command
	rest    string // the text of a note
	problem string // one clear line; the question stands
}

// understand reads one line against the question that stands. What names an
// answer outright comes first, then commands, readings, emergency words,
// volunteered probes, and last what is only the start of an answer: so no word
// in a hurry is taken for something else.
func (c *Chat) understand(line string) intent {
	if len(line) > lineBytesMax {
		return intent{problem: fmt.Sprintf("that line is longer than %d characters: say it shorter", lineBytesMax)}
	}
	line = strings.TrimSpace(source.Clean(line))
	if line == "" {
		return intent{}
	}
	q := c.open()
	if in, ok := outright(q, line); ok {
		return in
	}
	if name, rest := commandOf(line); name != cmdNone {
		return c.commanded(q, name, rest)
	}
	if q.Ask != nil && q.Ask.Kind == session.AskMeasure {
		if in, ok := c.readings(q.Ask, line); ok {
			return in
		}
	}
	if what := c.emergency(line); what != "" {
		return intent{event: &session.Event{Kind: session.Emergency, Reply: what}}
	}
	if q.Ask != nil && q.Ask.Kind == session.AskText {
		return c.complained(line)
	}
	if in, ok := c.volunteered(q, line); ok {
		return in
	}
	return c.guess(q, line)
}

// outright takes a line that is exactly what the question waits for.
func outright(q session.Effect, line string) (intent, bool) {
	switch {
	case q.Caution != nil && q.Caution.Passes(line):
		return intent{event: &session.Event{Kind: session.Acknowledge, Reply: q.Caution.Word}}, true
	case q.Do != nil && isDone(line):
		return intent{event: &session.Event{Kind: session.Done}}, true
	case q.Ask != nil && (q.Ask.Kind == session.AskLook || q.Ask.Kind == session.AskChoose):
		id, ok := exactAnswer(line, q.Ask.Answers)
		if !ok {
			id, ok = heardAnswer(line, q.Ask)
		}
		if ok {
			return intent{event: &session.Event{Kind: session.Answer, Reply: id}}, true
		}
	}
	return intent{}, false
}

func isDone(line string) bool {
	switch foldWords(line) {
	case "done", "y", "yes", "ok", "did it", "its done", "it is done":
		return true
	}
	return false
}

// commanded makes an event of a command that is one. Within a batch, unable
// speaks of the reading at the prompt.
func (c *Chat) commanded(q session.Effect, name command, rest string) intent {
	batch := q.Ask != nil && q.Ask.Kind == session.AskMeasure && len(q.Ask.Pairs)+len(q.Ask.Given) > 1
	switch name {
	case cmdUnable:
		if batch {
			return intent{given: map[string]quantity.Reading{q.Ask.Pairs[0].Name: {Missing: true}}}
		}
		return intent{event: &session.Event{Kind: session.Unable}}
	case cmdBack:
		return intent{event: &session.Event{Kind: session.Back}}
	case cmdNote:
		if rest == "" {
			return intent{problem: "note what? Type note and the words, as in: note bird nest in the unit"}
		}
		return intent{command: cmdNote, rest: rest}
	case cmdQuit:
		return intent{event: &session.Event{Kind: session.Quit}}
	}
	return intent{command: name}
}

// readings takes a line as readings of the batch: of the pair at the prompt,
// of all that are left, or by name. What is none of these may be a reading in
// words; else the line is turned down here, unless it may be something else.
func (c *Chat) readings(ask *session.Ask, line string) (intent, bool) {
	read, err := c.batch(ask, line)
	if err != nil {
		in, ok := c.measured(line)
		if !ok || in.event == nil {
			if known, all := c.several(line, ask); all {
				return intent{known: known}, true
			}
		}
		if ok {
			return ofBatch(ask, in), true
		}
		return c.unread(ask, line, err)
	}
	return intent{given: read}, true
}

// batch parses a line for the pair at the prompt, for all that are left, or,
// so that a slip can be mended, for any of the batch. The error is the one
// that fits what was typed: the batch's where it names one of it.
func (c *Chat) batch(ask *session.Ask, line string) (map[string]quantity.Reading, error) {
	rest, all := left(ask), append(slices.Clone(ask.Pairs), ask.Given...)
	read, err := quantity.ParseBatch(line, ask.Quantity, rest[:1])
	for _, names := range [][]string{rest, names(ask), nicks(all)} {
		if err == nil {
			return unnick(all, read), nil
		}
		many, manyErr := quantity.ParseBatch(line, ask.Quantity, names)
		if manyErr == nil {
			return unnick(all, many), nil
		}
		if len(names) > 1 && (namesOne(line, names) || numbers(line) > 1) {
			err = manyErr
		}
	}
	return nil, err
}

// numbers counts the words of a line that start like a number.
func numbers(line string) int {
	n := 0
	for _, w := range strings.Fields(line) {
		if w = strings.TrimLeft(w, "+-~."); w != "" && w[0] >= '0' && w[0] <= '9' {
			n++
		}
	}
	return n
}

// unread turns a refused reading down. A line without a number may still be
// emergency words, a look or a command misspelt.
func (c *Chat) unread(ask *session.Ask, line string, err error) (intent, bool) {
	_, isLook := nicknamed(line)
	if isLook || c.emergency(line) != "" || !strings.ContainsAny(line, "0123456789") && !namesOne(line, append(left(ask), names(ask)...)) {
		return intent{}, false
	}
	return intent{problem: err.Error()}, true
}

func namesOne(line string, names []string) bool {
	for _, word := range strings.FieldsFunc(line, func(r rune) bool { return strings.ContainsRune(" =:,;", r) }) {
		for _, n := range names {
			if strings.EqualFold(word, n) {
				return true
			}
		}
	}
	return false
}

// names are those of the whole batch as its tree has them, what is left first.
func names(ask *session.Ask) []string {
	var out []string
	for _, p := range slices.Concat(ask.Pairs, ask.Given) {
		out = append(out, p.Name)
	}
	return out
}

// left are the names of the batch without a value yet, in order.
func left(ask *session.Ask) []string { return nicks(ask.Pairs) }

// guess reads the start of an answer, and else says what was wanted.
func (c *Chat) guess(q session.Effect, line string) intent {
	switch {
	case q.Ask != nil && q.Ask.Kind == session.AskMeasure:
		p := q.Ask.Pairs[0]
		return c.near(line, nil, fmt.Sprintf("a reading is wanted for %s: %s, such as %s", nick(p), q.Ask.Quantity.Title(), q.Ask.Quantity.Example()))
	case q.Ask != nil:
		return c.guessAnswer(q.Ask, line)
	case q.Do != nil:
		return c.near(line, []string{"done"}, "type done when it is done, or unable")
	case q.Caution != nil:
		return c.near(line, nil, "read it, then type "+q.Caution.Word+" to go on, or unable")
	}
	return intent{problem: "nothing is asked now"}
}

// guessAnswer takes the start of an answer, or words of one; where the
// complaint may be said early, a sentence is that.
func (c *Chat) guessAnswer(ask *session.Ask, line string) intent {
	choices := ask.Answers
	if id, ok := session.HeardUrgency(ask.Step, line); ok {
		if ask.Early { // the complaint may be in the same words
			return intent{event: &session.Event{Kind: session.Text, Reply: line}}
		}
		return intent{event: &session.Event{Kind: session.Answer, Reply: id}}
	}
	for _, found := range [][]string{startsAnswer(line, choices), holdsAnswer(line, choices)} {
		switch {
		case len(found) == 1:
			return intent{event: &session.Event{Kind: session.Answer, Reply: found[0]}}
		case len(found) > 1:
			return intent{problem: fits(line, found)}
		}
	}
	if ask.Early && len(strings.Fields(line)) > 1 {
		return c.complained(line)
	}
	if n, err := strconv.Atoi(line); err == nil {
		to := "to"
		if len(choices) == 2 {
			to = "or"
		}
		return intent{problem: fmt.Sprintf("%d is not a number of the list: type 1 %s %d, or the word", n, to, len(choices))}
	}
	return c.near(line, ids(choices), quoted(line)+" is no answer here: type "+wanted(choices))
}

// choicesNamed is how many answers a line is said to fit, at most.
const choicesNamed = 4

// fits says that a line could be any of some answers.
func fits(line string, found []string) string {
	if len(found) > choicesNamed {
		return fmt.Sprintf("%s fits %d of these: type a number", quoted(line), len(found))
	}
	return fmt.Sprintf("%s could be %s: type more of it, or a number", quoted(line), strings.Join(found, " or "))
}

// near turns a line down with the word it was probably meant to be.
func (c *Chat) near(line string, also []string, otherwise string) intent {
	if word, ok := nearCommand(line, also); ok {
		return intent{problem: fmt.Sprintf("%s is not known here; did you mean %s?", quoted(line), word)}
	}
	return intent{problem: otherwise}
}

// echoRunesMax is how much of a line an error repeats.
const echoRunesMax = 30

func quoted(line string) string {
	if utf8.RuneCountInString(line) > echoRunesMax {
		line = string([]rune(line)[:echoRunesMax]) + "..."
	}
	return `"` + source.Clean(line) + `"`
}
