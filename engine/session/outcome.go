package session

import (
	"fmt"
	"math"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// outcomes says what each thing the open question may show would leave of the
// suspects, a line each; nothing where no model can tell.
func (b *Book) outcomes(s State) []string {
	if !b.guided(s) || s.asked != askedStep {
		return nil
	}
	var out []string
	for _, p := range s.probes() {
		list := b.Guide.Outcomes(s.query(), Proposal{Probe: p, Setup: s.home.Setup, Rested: s.home.Ran})
		if len(list) < 2 {
			continue
		}
		for _, o := range list {
			out = append(out, outcomeText(p, o)+" leaves "+b.someTitles(o.Faults, s.facts.Equipment))
		}
	}
	return out
}

// outcomeText is one thing a probe may show, in words.
func outcomeText(p house.Probe, o Outcome) string {
	if p.IsLook() {
		return p.Look.AnswerID(o.Answer)
	}
	ends := fmt.Sprintf("%s-%s", p.Red, p.Black)
	if p.Quantity == quantity.Current {
		ends = p.Conductor.Terminal.String()
	}
	lo, hi := round(o.Lo, p.Quantity), round(o.Hi, p.Quantity)
	if lo == hi {
		return ends + " " + quantity.Format(lo, p.Quantity)
	}
	return fmt.Sprintf("%s %s to %s", ends, quantity.Format(lo, p.Quantity), quantity.Format(hi, p.Quantity))
}

// Title is a fault in words: the title of its finding, with the fault's own
// words behind it where the finding stands for several.
func (b *Book) Title(f house.Fault, e house.Equipment) string {
	words := strings.ReplaceAll(f.String(), "-", " ")
	if b.Trees == nil {
		return words
	}
	id := house.FindingOf(f, e)
	found := b.Trees.Finding(id)
	switch {
	case found == nil:
		return words
	case string(id) == f.String():
		return e.Words(found.Title)
	}
	return e.Words(found.Title) + " (" + words + ")"
}

// round leaves of a reading what a person compares a meter with: whole volts
// from 10 up, tenths below; of ohms and amps two digits.
func round(r quantity.Reading, q quantity.Quantity) quantity.Reading {
	x := math.Abs(r.Value)
	if r.OL || x == 0 {
		return r
	}
	unit := 0.1
	switch {
	case q == quantity.Resistance || q == quantity.Current:
		unit = math.Pow(10, math.Floor(math.Log10(x))-1)
	case x >= 10:
		unit = 1
	}
	return quantity.Of(math.Round(r.Value/unit) * unit)
}

// titlesMost is how many faults an outcome names.
const titlesMost = 3

// someTitles names faults, the first of many, with how many there are.
func (b *Book) someTitles(faults []house.Fault, e house.Equipment) string {
	var words []string
	for _, f := range faults[:min(titlesMost, len(faults))] {
		words = append(words, b.Title(f, e))
	}
	text := fmt.Sprintf("%d: %s", len(faults), strings.Join(words, "; "))
	if more := len(faults) - len(words); more > 0 {
		text += fmt.Sprintf("; and %d more", more)
	}
	return text
}
