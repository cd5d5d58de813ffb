package chat

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// reply is one line that came in: an event, or a command.
type reply struct {
	re      int // the seq it answers, 0 where not said
	command command
	event   session.Event
}

// replyFields are the fields of a reply, each with those that go with it.
var replyFields = map[string][]string{
	"values": nil, "answer": {"look", "setup"}, "text": nil, "done": nil, "acknowledge": nil, "unable": nil,
	"command": nil, "note": nil, "measure": {"value", "setup"}, "look": {"answer", "setup"},
	"value": {"measure", "setup"}, "setup": {"measure", "value", "look", "answer"}, "re": nil,
}

// jsonCommands are the commands of the JSON form.
var jsonCommands = []string{"back", "why", "suspects", "expect", "record", "quit"}

// readReply reads one line strictly: one object, known fields in their own
// case, none twice, one reply.
func readReply(line string) (reply, *session.Problem) {
	fields, err := object([]byte(line))
	if err != nil {
		return reply{}, &session.Problem{Code: "json", Text: err.Error()}
	}
	if p := checkFields(fields); p != nil {
		return reply{}, p
	}
	var r reply
	if raw, ok := fields["re"]; ok {
		if err := json.Unmarshal(raw, &r.re); err != nil || r.re < 1 {
			return reply{}, bad("re is the seq of the open question, a whole number")
		}
	}
	if err := r.read(fields); err != nil {
		return reply{}, bad(err.Error())
	}
	return r, nil
}

func bad(text string) *session.Problem { return &session.Problem{Code: "value", Text: text} }

// checkFields refuses unknown fields and more or less than one reply.
func checkFields(fields map[string]json.RawMessage) *session.Problem {
	var known, said []string
	for name := range replyFields {
		known = append(known, name)
	}
	slices.Sort(known)
	for name := range fields {
		if name != "re" {
			said = append(said, name)
		}
	}
	slices.Sort(said)
	for _, name := range said {
		if _, ok := replyFields[name]; !ok {
			text := fmt.Sprintf("unknown field %s", quoted(name))
			if near, ok := source.Nearest(name, known); ok {
				text += "; did you mean " + near + "?"
			}
			return &session.Problem{Code: "unknown-field", Text: text}
		}
	}
	if len(said) == 0 {
		return &session.Problem{Code: "reply", Text: "a line is one reply: values, answer, text, done, acknowledge, unable, command, note, or a volunteered measure or look"}
	}
	for i, a := range said {
		for _, b := range said[i+1:] {
			if !slices.Contains(replyFields[a], b) {
				return &session.Problem{Code: "reply", Text: "one reply a line: " + a + " and " + b + " do not go together"}
			}
		}
	}
	return nil
}

// read fills r from the fields, which go together.
func (r *reply) read(fields map[string]json.RawMessage) error {
	has := func(name string) bool { _, ok := fields[name]; return ok }
	var err error
	switch {
	case has("measure") || has("look") || has("setup") || has("value"):
		r.event.Kind = session.Volunteer
		r.event.Seen, err = volunteeredIn(fields)
	case has("values"):
		r.event.Kind = session.Values
		r.event.Read, err = valuesIn(fields["values"])
	case has("done"):
		r.event.Kind, err = session.Done, isTrue("done", fields["done"])
	case has("unable"):
		r.event.Kind, err = session.Unable, isTrue("unable", fields["unable"])
	case has("command"):
		var word string
		if word, err = text("command", fields["command"]); err == nil && !slices.Contains(jsonCommands, word) {
			err = fmt.Errorf("unknown command %s: one of %s", quoted(word), strings.Join(jsonCommands, ", "))
		}
		r.command = command(word)
	default:
		for name, kind := range map[string]session.EventKind{"answer": session.Answer, "text": session.Text,
			"acknowledge": session.Acknowledge, "note": session.Note} {
			if has(name) {
				r.event.Kind = kind
				r.event.Reply, err = text(name, fields[name])
			}
		}
	}
	return err
}

// object reads one JSON object and nothing after it; a field twice is refused.
func object(data []byte) (map[string]json.RawMessage, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	first, err := d.Token()
	if err != nil || first != json.Delim('{') {
		return nil, errors.New("a line is one JSON object")
	}
	fields := map[string]json.RawMessage{}
	for d.More() {
		token, err := d.Token()
		name, ok := token.(string)
		if err != nil || !ok {
			return nil, errors.New("that is not JSON")
		}
		if _, twice := fields[name]; twice {
			return nil, fmt.Errorf("field %s is given twice", quoted(name))
		}
		var raw json.RawMessage
		if err := d.Decode(&raw); err != nil {
			return nil, errors.New("that is not JSON")
		}
		fields[name] = raw
	}
	if _, err := d.Token(); err != nil {
		return nil, errors.New("that is not JSON")
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("a line is one JSON object and nothing after it")
	}
	return fields, nil
}

// text reads one string, made safe to show.
func text(name string, raw json.RawMessage) (string, error) {
	var s *string
	if err := json.Unmarshal(raw, &s); err != nil || s == nil {
		return "", fmt.Errorf("%s is text in quotes", name)
	}
	if len(*s) > lineBytesMax {
		return "", fmt.Errorf("%s is longer than %d bytes", name, lineBytesMax)
	}
	return source.Clean(*s), nil
}

func isTrue(name string, raw json.RawMessage) error {
	if string(bytes.TrimSpace(raw)) != "true" {
		return fmt.Errorf("%s is true, or left out", name)
	}
	return nil
}

// valuesIn reads a batch: numbers, "OL" or null by name.
func valuesIn(raw json.RawMessage) (map[string]quantity.Reading, error) {
	fields, err := object(raw)
	if err != nil {
		return nil, errors.New(`values is an object of readings by name, such as {"yc":0.1,"rc":26.8}`)
	}
	out := make(map[string]quantity.Reading, len(fields))
	for name, raw := range fields {
		var v quantity.Reading
		if err := v.UnmarshalJSON(raw); err != nil {
			return nil, fmt.Errorf("%s: %w", quoted(name), err)
		}
		out[source.Clean(name)] = v
	}
	return out, nil
}

// volunteeredIn reads a probe nobody asked for.
func volunteeredIn(fields map[string]json.RawMessage) (*session.Seen, error) {
	var s session.Seen
	if raw, ok := fields["setup"]; ok {
		if _, err := object(raw); err != nil {
			return nil, errors.New("setup is an object of setup keys")
		}
		if err := s.Given.UnmarshalJSON(raw); err != nil {
			return nil, err
		}
	}
	raw, isMeasure := fields["measure"]
	if !isMeasure {
		return lookIn(s, fields)
	}
	value, ok := fields["value"]
	if !ok {
		return nil, errors.New("a volunteered measure has a value")
	}
	if err := s.Reading.UnmarshalJSON(value); err != nil {
		return nil, err
	}
	if s.Reading.Missing {
		return nil, errors.New("a volunteered measure has a value, not null")
	}
	var err error
	if s.Probe, err = probeIn(raw); err != nil {
		return nil, err
	}
	return &s, s.Reading.Check(s.Probe.Quantity)
}

func lookIn(s session.Seen, fields map[string]json.RawMessage) (*session.Seen, error) {
	word, err := text("look", fields["look"])
	if err != nil {
		return nil, errors.New("a volunteered probe has a look with its answer, or a measure with its value")
	}
	look, err := house.ParseLook(word)
	if err != nil {
		return nil, err
	}
	if word, err = text("answer", fields["answer"]); err != nil {
		return nil, errors.New("a volunteered look has an answer")
	}
	s.Probe = house.LookAt(look)
	s.Answer, err = look.ParseAnswer(word)
	return &s, err
}

// probeIn reads {quantity, red, black, at}; of amps red and black are the
// conductor.
func probeIn(raw json.RawMessage) (house.Probe, error) {
	fields, err := object(raw)
	if err != nil {
		return house.Probe{}, errors.New("measure is an object: quantity, red, black, at")
	}
	words := map[string]string{}
	for name, raw := range fields {
		if !slices.Contains([]string{"quantity", "red", "black", "at"}, name) {
			return house.Probe{}, fmt.Errorf("unknown field %s of measure: quantity, red, black, at", quoted(name))
		}
		if words[name], err = text(name, raw); err != nil {
			return house.Probe{}, err
		}
	}
	q, err := quantity.OfID(words["quantity"])
	if err != nil {
		return house.Probe{}, err
	}
	if q == quantity.Current {
		if words["red"] != words["black"] {
			return house.Probe{}, errors.New("of amps, red and black are the same conductor")
		}
		conductor, err := house.ParseConductor(words["red"])
		return house.Clamp(conductor), err
	}
	at, err := house.ParsePlace(words["at"])
	if err != nil {
		return house.Probe{}, err
	}
	red, err := house.ParseTerminal(words["red"])
	if err != nil {
		return house.Probe{}, err
	}
	black, err := house.ParseTerminal(words["black"])
	if err == nil && red == black {
		err = fmt.Errorf("both leads are on %s", red)
	}
	return house.Measure(q, red, black, at), err
}
