package house

import (
	"encoding/json"
	"fmt"
	"strings"
)

// Partial is a setup with some keys left out: what a step or a symptom says.
type Partial struct {
	said  uint16
	setup Setup
}

// Says reports whether k is given.
func (p Partial) Says(k Key) bool { return p.said&(1<<k) != 0 }

// Empty reports whether no key is given.
func (p Partial) Empty() bool { return p.said == 0 }

// jumperable are the letters R may be joined to; never C, never B.
var jumperable = LettersOf(Y, Y2, W, W2, G, O)

// Set reads one key's words into p; the error names the word.
func (p *Partial) Set(k Key, words []string) error {
	if !k.IsList() && len(words) != 1 {
		return fmt.Errorf("%s takes one value", k)
	}
	if err := p.setup.set(k, words); err != nil {
		return err
	}
	p.said |= 1 << k
	return nil
}

func (s *Setup) set(k Key, words []string) (err error) {
	switch k {
	case KeyPowerIndoor:
		s.PowerIndoor, err = powers.parse(words[0])
	case KeyPowerOutdoor:
		s.PowerOutdoor, err = powers.parse(words[0])
	case KeyThermostat:
		s.Thermostat, err = mounts.parse(words[0])
	case KeyMode:
		s.Mode, err = modes.parse(words[0])
	case KeyCalling:
		s.Calling, err = yesNo("calling", words[0], "yes", "no")
	case KeyFan:
		s.FanOn, err = yesNo("fan", words[0], "on", "auto")
	case KeyJumper:
		s.Jumper, err = parseJumper(words)
	case KeyJumperAt:
		s.JumperAt, err = ParsePlace(words[0])
		if err == nil && s.JumperAt == AtOutdoor {
			err = fmt.Errorf("a jumper goes at the thermostat or indoors, never outdoors")
		}
	case KeyLifted:
		s.Lifted = Conductors{}
		for _, word := range words {
			c, err := ParseConductor(word)
			if err != nil {
				return err
			}
			s.Lifted = s.Lifted.Add(c)
		}
	case KeyFuse:
		s.Fuse, err = fuses.parse(words[0])
	case KeyCoverIndoor:
		s.CoverIndoor, err = yesNo("cover", words[0], "open", "closed")
	case KeyCoverOutdoor:
		s.CoverOutdoor, err = yesNo("cover", words[0], "open", "closed")
	}
	return err
}

func parseJumper(words []string) (Letters, error) {
	var j Letters
	for i, word := range words {
		t, err := ParseTerminal(word)
		if err != nil {
			return 0, err
		}
		isR := t == R || t == Rc || t == Rh
		switch {
		case i == 0 && !isR:
			return 0, fmt.Errorf("a jumper starts at R, as in [R, Y]")
		case i > 0 && !jumperable.Has(t):
			return 0, fmt.Errorf("a jumper never joins R to %s; it goes to Y, Y2, W, W2, G or O", t)
		case i > 0:
			j = j.Add(t)
		}
	}
	if len(words) == 1 {
		return 0, fmt.Errorf("a jumper names R and at least one more letter")
	}
	return j, nil
}

// yesNo also takes the words that a YAML reader may have bent into booleans.
func yesNo(kind, word, yes, no string) (bool, error) {
	switch strings.ToLower(strings.TrimSpace(word)) {
	case yes:
		return true, nil
	case no:
		return false, nil
	}
	return false, &UnknownWord{Kind: kind + " value (" + yes + " or " + no + ")", Word: word}
}

// Over returns base with p's keys laid over it.
func (p Partial) Over(base Setup) Setup {
	for _, k := range Keys() {
		if p.Says(k) {
			base.copyKey(k, p.setup)
		}
	}
	return base
}

func (s *Setup) copyKey(k Key, from Setup) {
	switch k {
	case KeyPowerIndoor:
		s.PowerIndoor = from.PowerIndoor
	case KeyPowerOutdoor:
		s.PowerOutdoor = from.PowerOutdoor
	case KeyThermostat:
		s.Thermostat = from.Thermostat
	case KeyMode:
		s.Mode = from.Mode
	case KeyCalling:
		s.Calling = from.Calling
	case KeyFan:
		s.FanOn = from.FanOn
	case KeyJumper:
		s.Jumper = from.Jumper
	case KeyJumperAt:
		s.JumperAt = from.JumperAt
	case KeyLifted:
		s.Lifted = from.Lifted
	case KeyFuse:
		s.Fuse = from.Fuse
	case KeyCoverIndoor:
		s.CoverIndoor = from.CoverIndoor
	case KeyCoverOutdoor:
		s.CoverOutdoor = from.CoverOutdoor
	}
}

// With returns s with p's keys laid over it.
func (s Setup) With(p Partial) Setup { return p.Over(s) }

// Say returns p with key k taken from s.
func (p Partial) Say(k Key, s Setup) Partial {
	p.setup.copyKey(k, s)
	p.said |= 1 << k
	return p
}

// must reads a partial written in this package.
func must(pairs ...string) Partial {
	var p Partial
	for i := 0; i < len(pairs); i += 2 {
		k, err := ParseKey(pairs[i])
		if err == nil {
			err = p.Set(k, strings.Fields(pairs[i+1]))
		}
		if err != nil {
			panic(err)
		}
	}
	return p
}

// The calls that are asked for most.
var (
	CoolCall      = must("mode", "cool", "calling", "yes")
	HeatCall      = must("mode", "heat", "calling", "yes")
	EmergencyCall = must("mode", "emergency", "calling", "yes")
	FanCall       = must("fan", "on")
)

// MarshalJSON writes every key, lists as lists.
func (s Setup) MarshalJSON() ([]byte, error) {
	return MarshalState(s, nil)
}

// MarshalState writes every key of s and, where dead is not nil, the places
// proven dead under `proven-dead`.
func MarshalState(s Setup, dead []Place) ([]byte, error) {
	var b strings.Builder
	for i, k := range Keys() {
		if i > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "%q:", k.String())
		if words := s.Words(k); k.IsList() {
			writeList(&b, words)
		} else {
			fmt.Fprintf(&b, "%q", words[0])
		}
	}
	if dead != nil {
		words := []string{}
		for _, p := range dead {
			words = append(words, p.String())
		}
		b.WriteString(`,"proven-dead":`)
		writeList(&b, words)
	}
	return []byte("{" + b.String() + "}"), nil
}

func writeList(b *strings.Builder, words []string) {
	out, _ := json.Marshal(words)
	b.Write(out)
}

// UnmarshalJSON reads some or all keys; `proven-dead` is accepted and left
// out, since nobody can be told what they proved.
func (p *Partial) UnmarshalJSON(data []byte) error {
	var raw map[string]json.RawMessage
	if err := json.Unmarshal(data, &raw); err != nil {
		return err
	}
	var out Partial
	for word, value := range raw {
		if word == "proven-dead" {
			continue
		}
		k, err := ParseKey(word)
		if err != nil {
			return err
		}
		words, err := jsonWords(k, value)
		if err == nil {
			err = out.Set(k, words)
		}
		if err != nil {
			return fmt.Errorf("%s: %w", k, err)
		}
	}
	*p = out
	return nil
}

func jsonWords(k Key, value json.RawMessage) ([]string, error) {
	var words []string
	if k.IsList() {
		if err := json.Unmarshal(value, &words); err != nil {
			return nil, fmt.Errorf("wanted a list of words")
		}
		return words, nil
	}
	var word string
	if err := json.Unmarshal(value, &word); err != nil {
		return nil, fmt.Errorf("wanted one word")
	}
	return []string{word}, nil
}

// MarshalJSON writes the keys that are given.
func (p Partial) MarshalJSON() ([]byte, error) {
	var b strings.Builder
	for _, k := range Keys() {
		if !p.Says(k) {
			continue
		}
		if b.Len() > 0 {
			b.WriteByte(',')
		}
		fmt.Fprintf(&b, "%q:", k.String())
		if words := p.setup.Words(k); k.IsList() {
			writeList(&b, words)
		} else {
			fmt.Fprintf(&b, "%q", words[0])
		}
	}
	return []byte("{" + b.String() + "}"), nil
}
