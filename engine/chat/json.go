package chat

import (
	"bytes"
	"encoding/json"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// Protocol is the version of the JSON form.
const Protocol = 1

// The lines that go out, each with its fields in order. Seq counts all of
// them from 1.
type (
	helloLine struct {
		Type     string `json:"type"`
		Seq      int    `json:"seq"`
		Protocol int    `json:"protocol"`
		Version  string `json:"version"`
		Call     string `json:"call"`
		Resumed  bool   `json:"resumed"`
	}
	measureLine struct {
		Type     string          `json:"type"`
		Seq      int             `json:"seq"`
		Step     string          `json:"step"`
		Kind     string          `json:"kind"`
		Quantity string          `json:"quantity"`
		At       string          `json:"at"`
		Pairs    []pairField     `json:"pairs"`
		Setup    json.RawMessage `json:"setup"`
		Text     string          `json:"text"`
	}
	pairField struct {
		Name  string `json:"name"`
		Red   string `json:"red"`
		Black string `json:"black"`
	}
	// chooseLine is a look too: Look and Setup are then set.
	chooseLine struct {
		Type    string          `json:"type"`
		Seq     int             `json:"seq"`
		Step    string          `json:"step"`
		Kind    string          `json:"kind"`
		Look    string          `json:"look,omitempty"`
		Answers []answerField   `json:"answers"`
		Setup   json.RawMessage `json:"setup,omitempty"`
		Text    string          `json:"text"`
	}
	answerField struct {
		ID   string `json:"id"`
		Text string `json:"text"`
	}
	textLine struct {
		Type string `json:"type"`
		Seq  int    `json:"seq"`
		Step string `json:"step"`
		Kind string `json:"kind"`
		Text string `json:"text"`
	}
	doLine struct {
		Type  string          `json:"type"`
		Seq   int             `json:"seq"`
		Text  string          `json:"text"`
		Setup json.RawMessage `json:"setup"`
		WaitS int             `json:"wait-s"`
	}
	cautionLine struct {
		Type        string `json:"type"`
		Seq         int    `json:"seq"`
		ID          string `json:"id"`
		Text        string `json:"text"`
		Source      string `json:"source"`
		Acknowledge string `json:"acknowledge"`
	}
	tellLine struct {
		Type string `json:"type"`
		Seq  int    `json:"seq"`
		Text string `json:"text"`
		Tree string `json:"tree,omitempty"`
	}
	suspectsLine struct {
		Type     string         `json:"type"`
		Seq      int            `json:"seq"`
		List     []suspectField `json:"list"`
		RuledOut int            `json:"ruled-out"`
		Left     int            `json:"left"`
	}
	suspectField struct {
		Fault       string  `json:"fault"`
		Probability float64 `json:"probability"`
	}
	findingLine struct {
		Type        string   `json:"type"`
		Seq         int      `json:"seq"`
		Finding     string   `json:"finding"`
		Faults      []string `json:"faults"`
		Family      string   `json:"family"`
		Condemns    bool     `json:"condemns"`
		Probability float64  `json:"probability,omitempty"`
		Verdict     string   `json:"verdict"`
		Text        string   `json:"text"`
		Confirm     string   `json:"confirm"`
		Parts       []string `json:"parts"`
		Urgency     string   `json:"urgency"`
	}
	problemLine struct {
		Type string `json:"type"`
		Seq  int    `json:"seq"`
		Code string `json:"code"`
		Text string `json:"text"`
	}
	endLine struct {
		Type string `json:"type"`
		Seq  int    `json:"seq"`
		Exit int    `json:"exit"`
	}
)

// line puts an effect into its form; seq is the line's number.
func line(f session.Effect, seq int) any {
	switch {
	case f.Ask != nil:
		return askLine(f.Ask, seq)
	case f.Do != nil:
		return doLine{"do", seq, source.CleanText(f.Do.Text), state(&f.Do.House), f.Do.WaitSeconds}
	case f.Caution != nil:
		k := f.Caution
		return cautionLine{"caution", seq, k.ID, paragraphs(append([]string{k.Title}, k.Text...)),
			source.Clean(strings.Join(k.Source, "; ")), k.Word}
	case f.Tell != nil:
		return tellLine{"tell", seq, source.CleanText(f.Tell.Text), f.Tell.Tree.String()}
	case f.Suspects != nil:
		list := make([]suspectField, 0, len(f.Suspects.Left))
		for _, s := range f.Suspects.Left {
			if s.With == house.NoFault { // two at once are prose
				list = append(list, suspectField{s.Fault.String(), s.Probability})
			}
		}
		return suspectsLine{"suspects", seq, list, f.Suspects.RuledOut, len(list)}
	case f.Finding != nil:
		return findingOf(f.Finding, seq)
	case f.Problem != nil:
		return problemLine{"problem", seq, f.Problem.Code, source.Clean(f.Problem.Text)}
	}
	return endLine{"end", seq, f.End.Exit}
}

func askLine(a *session.Ask, seq int) any {
	text := source.CleanText(a.Text)
	switch a.Kind {
	case session.AskMeasure:
		pairs := make([]pairField, len(a.Pairs))
		for i, p := range a.Pairs {
			pairs[i] = pairField{p.Name, p.Red.String(), p.Black.String()}
			if a.Quantity == quantity.Current {
				pairs[i].Red, pairs[i].Black = p.Conductor.String(), p.Conductor.String()
			}
		}
		return measureLine{"ask", seq, a.Step, string(a.Kind), a.Quantity.String(), a.At.String(), pairs, state(a.House), text}
	case session.AskText:
		return textLine{"ask", seq, a.Step, string(a.Kind), text}
	}
	out := chooseLine{Type: "ask", Seq: seq, Step: a.Step, Kind: string(a.Kind), Answers: make([]answerField, len(a.Answers)), Text: text}
	for i, c := range a.Answers {
		out.Answers[i] = answerField{c.ID, source.Clean(c.Text)}
	}
	if a.Kind == session.AskLook {
		out.Look, out.Setup = a.Look.String(), state(a.House)
	}
	return out
}

// state is the house with every key, and what is proven dead.
func state(h *session.House) json.RawMessage {
	if h == nil {
		h = &session.House{Setup: house.DefaultSetup()}
	}
	dead := append([]house.Place{}, h.Dead...)
	raw, _ := house.MarshalState(h.Setup, dead)
	return raw
}

// findingOf tells all of a finding that is prose in its text: what it is, what
// to do, what to tell a technician, what commonly caused it.
func findingOf(f *session.FindingEffect, seq int) findingLine {
	text := append([]string{titleOf(f)}, f.Text...)
	if line := thermostatLine(f); line != "" {
		text = append(text, line)
	}
	text = append(append(text, f.Do...), f.Tell...)
	text = append(text, oneOf(prefixed(upper(settling(f))+": ", f.Settles))...)
	text = append(text, oneOf(prefixed(session.AgainHead+": ", strings.Join(f.Again, " ")))...)
	if f.Commonly != "" {
		text = append(text, "Commonly from: "+f.Commonly)
	}
	out := findingLine{Type: "finding", Seq: seq, Finding: string(f.ID), Faults: make([]string, len(f.Faults)),
		Family: f.Family.String(), Condemns: f.Condemns, Probability: f.Probability, Verdict: f.Verdict.String(),
		Text: paragraphs(text), Confirm: source.CleanText(f.Confirm), Parts: append([]string{}, f.Parts...), Urgency: f.Urgency}
	for i, fault := range f.Faults {
		out.Faults[i] = fault.String()
	}
	return out
}

func paragraphs(lines []string) string { return source.CleanText(strings.Join(lines, "\n")) }

// encode writes one line of JSON with its line feed; letters such as < stay
// as they are.
func encode(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return []byte(`{"type":"problem","seq":0,"code":"internal","text":"a line could not be written"}` + "\n")
	}
	return b.Bytes()
}
