package house

import (
	"regexp"
	"strings"

	"stepdown/engine/quantity"
)

// heatSide are the terminals of the furnace's transformer where there are two.
var heatSide = map[Terminal]bool{Rh: true, W: true, HeatSec1: true, HeatSec2: true,
	Limit1: true, Limit2: true, Rollout1: true, Rollout2: true, Gas1: true, Gas2: true}

// SameWinding reports whether a and b hang on one transformer, so that a
// reading between them means something. Rc to Rh never does.
func (e Equipment) SameWinding(a, b Terminal) bool {
	if a == Rc && b == Rh || a == Rh && b == Rc {
		return false
	}
	return e != SplitPower || a == GND || b == GND || heatSide[a] == heatSide[b]
}

// HeatSide reports whether a lead of p, or its clamp, is on a terminal that
// hangs on the furnace's transformer where there are two.
func (p Probe) HeatSide() bool {
	return heatSide[p.Red] || heatSide[p.Black] || heatSide[p.Conductor.Terminal]
}

// Screw is the terminal that t stands for on e at a place, with the other lead
// of the meter on other. Where two transformers serve a house, R is the R of
// the one that other hangs on, Rc unless it is the furnace's; and at the boards
// C is that one's own common. The furnace's does not run to the base.
func (e Equipment) Screw(t, other Terminal, at Place) Terminal {
	switch {
	case e != SplitPower:
	case t == R && heatSide[other]:
		return Rh
	case t == R:
		return Rc
	case t == C && heatSide[other] && at == AtIndoor:
		return HeatSec2
	}
	return t
}

// JumperWords says what a jumper to letters joins on e. Where two transformers
// serve a house, cooling letters take Rc and W takes Rh; there the fan is on Rc.
func (e Equipment) JumperWords(to Letters) string {
	words := func(to Letters) string { return strings.ReplaceAll(to.String(), " ", " and ") }
	heat := LettersOf(W)
	switch {
	case e != SplitPower:
		return "R to " + words(to)
	case to == heat:
		return "Rh to W"
	case to.Has(W):
		return "Rh to W and a second one from Rc to " + words(to.Minus(heat))
	}
	return "Rc to " + words(to)
}

var letterWord = regexp.MustCompile(`\b(R|C|Y2?|W2?|G|O|B)\b`)

// nameR names the R of a text as a house with two transformers has it: the one
// of the letter that comes next in its sentence, or else of the last before.
func nameR(text string) string {
	sentences := strings.SplitAfter(text, ". ")
	for i, sentence := range sentences {
		sentences[i] = nameRIn(sentence)
	}
	return strings.Join(sentences, "")
}

func nameRIn(sentence string) string {
	var out strings.Builder
	at, before := 0, NoTerminal
	spans := letterWord.FindAllStringIndex(sentence, -1)
	word := func(span []int) Terminal {
		t, _ := ParseTerminal(sentence[span[0]:span[1]])
		return t
	}
	for i, span := range spans {
		if t := word(span); t != R {
			before = t
			continue
		}
		other := before
		for _, next := range spans[i+1:] {
			if t := word(next); t != R {
				other = t
				break
			}
		}
		out.WriteString(sentence[at:span[0]] + SplitPower.Screw(R, other, AtThermostat).String())
		at = span[1]
	}
	return out.String() + sentence[at:]
}

// On is p as it is made on e: at the place that is meant, a lead on each of the
// screws that are meant.
func (p Probe) On(e Equipment) Probe {
	if p.Quantity == quantity.Current {
		p.Conductor = p.Conductor.On(e)
		return p
	}
	p.At = e.Where(p.At)
	if !p.IsLook() {
		p.Red, p.Black = e.Screw(p.Red, p.Black, p.At), e.Screw(p.Black, p.Red, p.At)
	}
	return p
}

// On is c as it is found on e: where two transformers serve a house, the one of
// R is the cooling transformer's, whose fuse and board it belongs to.
func (c Conductor) On(e Equipment) Conductor {
	c.Terminal = e.Screw(c.Terminal, NoTerminal, c.At)
	return c
}

// On is s as it is set up on e: lifted is what is found there.
func (s Setup) On(e Equipment) Setup {
	if e != SplitPower || s.Lifted.Empty() {
		return s
	}
	list := s.Lifted.List()
	for i, c := range list {
		list[i] = c.On(e)
	}
	s.Lifted = ConductorsOf(list...)
	return s
}

// hotEnds and coldEnds are the ends that a winding holds, by way of its fuse.
var (
	hotEnds  = map[Terminal]bool{R: true, Rc: true, Rh: true, Sec1: true, Fuse1: true, Fuse2: true, HeatSec1: true}
	coldEnds = map[Terminal]bool{C: true, Sec2: true, HeatSec2: true}
)

// maybeTwo reports whether two transformers may serve the house, as far as
// anybody said.
func (f Facts) maybeTwo() bool {
	return f.Equipment == SplitPower || f.Equipment == NoEquipment && (f.Letters == 0 || f.Letters.Has(Rh))
}

// AtSupply reports whether p also reads right where a transformer's own ends
// are: down the cable the current of one that serves a house beside another may
// lift the common of both.
func (f Facts) AtSupply(p Probe) bool {
	return f.OneSupply(p) && (!f.maybeTwo() || p.At != AtThermostat)
}

// OneSupply reports whether nothing but one transformer can be behind p, so that
// a reading over what it gives is no chance. Where two serve a house, and nobody
// phases them, an open conductor picks up the other one's voltage and reads more
// at high impedance than either gives, as an open fuse does that a wrong jumper
// feeds from behind.
func (f Facts) OneSupply(p Probe) bool {
	if !f.maybeTwo() {
		return f.Equipment.SameWinding(p.Red, p.Black)
	}
	p = p.On(SplitPower)
	across := hotEnds[p.Red] && coldEnds[p.Black] || coldEnds[p.Red] && hotEnds[p.Black]
	return SplitPower.SameWinding(p.Red, p.Black) && (across || p.Quantity == quantity.LowZVolts)
}
