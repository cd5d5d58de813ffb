package handover

import (
	"errors"
	"fmt"
	"hash/crc32"
	"math"
	"slices"
	"strings"
	"sync"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
)

// The widths of a code's fields, in bits.
const (
	wordsBits     = 10 // which closed lists the numbers are from
	checkBits     = 15
	audienceBits  = 2
	complaintBits = 5
	factBits      = 5
	letterBits    = 13
	countBits     = 6
	setupBits     = 3
	lookBits      = 5
	answerBits    = 3
	quantityBits  = 3
	terminalBits  = 7
	placeBits     = 2
	valueBits     = 17
)

// hundredths is the step of a reading in a code; the most is over 1000 V.
const hundredths = 100

// ErrNotACode is what text is that was never a code.
var ErrNotACode = errors.New("this is no hand-over code")

var errVersion = errors.New("this code was made by another version of stepdown; ask for the call as a file")

// Code is a hand-over as characters. It is an error where the call holds what
// a code cannot carry.
func Code(h session.Handed) (string, error) {
	b := &bits{}
	b.put(vocabulary(), wordsBits)
	b.put(uint64(h.From), audienceBits)
	c, err := house.ParseComplaint(h.Complaint)
	if err != nil {
		return "", err
	}
	b.put(uint64(c), complaintBits)
	if err := putFacts(b, h.Facts); err != nil {
		return "", err
	}
	for _, p := range []house.Place{house.AtIndoor, house.AtOutdoor} {
		b.put(bit(slices.Contains(h.Reset, p.String())), 1)
	}
	if err := putSeen(b, h.Seen); err != nil {
		return "", err
	}
	body := b.n
	b.put(0, (5-body%5)%5)
	sum := checksum(b)
	b.put(sum, checkBits)
	return b.write(), nil
}

// Parse reads a code.
func Parse(code string) (session.Handed, error) {
	var h session.Handed
	if len(code) > 1000 {
		return h, ErrNotACode
	}
	b, err := read(code)
	if err != nil {
		return h, fmt.Errorf("%w: %w", ErrNotACode, err)
	}
	length := 5 * len(strings.Map(kept, code))
	if length < wordsBits+checkBits {
		return h, ErrNotACode
	}
	body := length - checkBits
	sum := &bits{data: b.data, n: body}
	want, err := sum.take(checkBits)
	if err != nil || checksum(&bits{data: b.data, n: body}) != want {
		return h, errors.New("the code has a slip in it: compare it character by character")
	}
	if v, err := b.take(wordsBits); err != nil || v != vocabulary() {
		return h, errVersion
	}
	r := reader{bits: b}
	h.From = pick(&r, audienceBits, house.Audiences())
	h.Complaint = pick(&r, complaintBits, house.Complaints()).String()
	h.Facts = r.facts()
	for _, p := range []house.Place{house.AtIndoor, house.AtOutdoor} {
		if r.take(1) == 1 {
			h.Reset = append(h.Reset, p.String())
		}
	}
	h.Seen = r.seen()
	return h, r.err
}

func kept(c rune) rune {
	if strings.ContainsRune("- \t\n\r", c) {
		return -1
	}
	return 'x'
}

// checksum covers the bits before it.
func checksum(b *bits) uint64 {
	r := bits{data: b.data}
	out := make([]byte, 0, b.n)
	for r.n < b.n {
		v, _ := r.take(1)
		out = append(out, byte(v))
	}
	return uint64(crc32.ChecksumIEEE(out)) & (1<<checkBits - 1)
}

// vocabulary tells the closed lists apart by which a code's numbers are read.
var vocabulary = sync.OnceValue(func() uint64 {
	var b strings.Builder
	for _, c := range house.Complaints() {
		b.WriteString(c.String())
	}
	for _, e := range house.Recognised() {
		b.WriteString(e.String())
	}
	for _, t := range house.Terminals() {
		b.WriteString(t.String())
	}
	for _, l := range house.Looks() {
		b.WriteString(l.String())
		for _, a := range l.Answers() {
			b.WriteString(l.AnswerID(a))
		}
	}
	return uint64(crc32.ChecksumIEEE([]byte(b.String()))) & (1<<wordsBits - 1)
})

func bit(b bool) uint64 {
	if b {
		return 1
	}
	return 0
}

// fields are the house facts in the order of a code; letters apart.
var fields = []house.Fact{house.FactEquipment, house.FactBase, house.FactBaseR, house.FactStatSupply}

// putFacts writes each fact as its place in the list, 0 where nothing is known.
func putFacts(b *bits, said map[string]string) error {
	var f house.Facts
	for id, answer := range said {
		k, err := house.ParseFact(id)
		if err == nil {
			f, err = f.Set(k, answer)
		}
		if err != nil {
			return err
		}
	}
	for _, v := range []uint64{uint64(f.Equipment), uint64(f.Base), uint64(f.BaseR), uint64(f.StatSupply)} {
		b.put(v, factBits)
	}
	b.put(uint64(f.Letters)>>1, letterBits) // the lowest bit is no letter
	return nil
}

// given is a setup as a code can carry it: no hands behind a cover.
func given(s house.Setup) (uint64, bool) {
	plain := house.DefaultSetup()
	plain.PowerIndoor, plain.PowerOutdoor, plain.Thermostat = s.PowerIndoor, s.PowerOutdoor, s.Thermostat
	plain.Mode, plain.Calling, plain.FanOn = s.Mode, s.Calling, s.FanOn
	v := uint64(s.PowerIndoor)
	v = v<<2 | uint64(s.PowerOutdoor)
	v = v<<1 | uint64(s.Thermostat)
	v = v<<2 | uint64(s.Mode)
	return v<<2 | bit(s.Calling)<<1 | bit(s.FanOn), plain == s
}

const givenBits = 9

var errTooMuch = errors.New("this call holds more than a code can carry; hand over its record as a file")

func putSeen(b *bits, list []session.Seen) error {
	var setups []uint64
	var places []int
	for _, s := range list {
		v, ok := given(house.DefaultSetup().With(s.Given))
		if !ok {
			return errTooMuch
		}
		at := slices.Index(setups, v)
		if at < 0 {
			at, setups = len(setups), append(setups, v)
		}
		places = append(places, at)
	}
	if len(setups) >= 1<<setupBits || len(list) >= 1<<countBits {
		return errTooMuch
	}
	b.put(uint64(len(setups)), setupBits)
	for _, v := range setups {
		b.put(v, givenBits)
	}
	b.put(uint64(len(list)), countBits)
	for i, s := range list {
		b.put(uint64(places[i]), setupBits)
		if err := putProbe(b, s); err != nil {
			return err
		}
	}
	return nil
}

func putProbe(b *bits, s session.Seen) error {
	p := s.Probe
	b.put(bit(p.IsLook()), 1)
	if p.IsLook() {
		b.put(uint64(p.Look), lookBits)
		b.put(uint64(s.Answer), answerBits)
		return nil
	}
	value := math.Round(s.Reading.Value * hundredths)
	if p.Quantity == quantity.Current || s.Reading.OL || s.Reading.Missing || value < 0 || value >= 1<<valueBits {
		return errTooMuch
	}
	b.put(uint64(p.Quantity), quantityBits)
	b.put(uint64(p.Red), terminalBits)
	b.put(uint64(p.Black), terminalBits)
	b.put(uint64(p.At), placeBits)
	b.put(uint64(value), valueBits)
	return nil
}

// reader takes fields until one is missing.
type reader struct {
	*bits
	err error
}

func (r *reader) take(width int) uint64 {
	v, err := r.bits.take(width)
	if r.err == nil {
		r.err = err
	}
	return v
}

// pick takes a number that must be one of a closed list.
func pick[T interface {
	~uint8
	comparable
}](r *reader, width int, list []T) T {
	v := T(r.take(width))
	if !slices.Contains(list, v) && r.err == nil {
		r.err = ErrNotACode
	}
	return v
}

func (r *reader) facts() map[string]string {
	var f house.Facts
	f.Equipment = pick(r, factBits, append(house.Recognised(), house.NoEquipment))
	f.Base = pick(r, factBits, []house.Base{house.BaseUnasked, house.BaseExposed, house.BaseCovered, house.BaseUnknown})
	f.BaseR = pick(r, factBits, []house.BaseR{house.BaseRUnasked, house.BaseRSingle, house.BaseRRcRh, house.BaseRUnknown})
	f.StatSupply = pick(r, factBits, []house.StatSupply{house.SupplyUnasked, house.SupplyCommon, house.SupplyBattery, house.SupplyThroughLoad, house.SupplyUnknown})
	f.Letters = house.Letters(r.take(letterBits) << 1)
	out := map[string]string{}
	for _, k := range append(fields, house.FactLetters) {
		if answer := f.Answer(k); answer != "unknown" {
			out[k.String()] = answer
		}
	}
	return out
}

func (r *reader) seen() []session.Seen {
	setups := make([]house.Setup, r.take(setupBits))
	for i := range setups {
		v := r.take(givenBits)
		s := house.DefaultSetup()
		s.FanOn, s.Calling, s.Mode = v&1 == 1, v>>1&1 == 1, house.Mode(v>>2&3)
		s.Thermostat, s.PowerOutdoor, s.PowerIndoor = house.Mount(v>>4&1), house.Power(v>>5&3), house.Power(v>>7&3)
		if max(s.PowerOutdoor, s.PowerIndoor) > house.LockedOut && r.err == nil {
			r.err = ErrNotACode
		}
		setups[i] = s
	}
	var out []session.Seen
	for range r.take(countBits) {
		at := int(r.take(setupBits))
		if at >= len(setups) || r.err != nil {
			r.err = errors.Join(r.err, ErrNotACode)
			return nil
		}
		s := r.probe()
		for _, k := range house.Keys() {
			if p := (house.Partial{}).Say(k, setups[at]); p.Over(house.DefaultSetup()) != house.DefaultSetup() {
				s.Given = s.Given.Say(k, setups[at])
			}
		}
		out = append(out, s)
	}
	return out
}

func (r *reader) probe() session.Seen {
	if r.take(1) == 1 {
		l := pick(r, lookBits, house.Looks())
		if r.err != nil {
			return session.Seen{}
		}
		return session.Seen{Probe: house.LookAt(l), Answer: pick(r, answerBits, l.Answers())}
	}
	q := pick(r, quantityBits, []quantity.Quantity{quantity.ACVolts, quantity.LowZVolts, quantity.DCVolts, quantity.Resistance})
	red, black := pick(r, terminalBits, house.Terminals()), pick(r, terminalBits, house.Terminals())
	at := pick(r, placeBits, house.Places())
	return session.Seen{Probe: house.Measure(q, red, black, at), Reading: quantity.Of(float64(r.take(valueBits)) / hundredths)}
}
