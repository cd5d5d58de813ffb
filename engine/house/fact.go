package house

// Fact is something asked about the house that never decides a fault; it
// narrows the equipment or the reach.
type Fact uint8

// The facts.
const (
	NoFact Fact = iota
	FactEquipment
	FactLetters
	FactBase
	FactBaseR
	FactStatSupply
	FactMeter
)

var facts = newList[Fact]("house fact", "", "equipment", "letters", "base", "base-r", "stat-supply", "meter")

func (f Fact) String() string { return facts.id(f) }

// ParseFact reads a fact id.
func ParseFact(word string) (Fact, error) { return facts.parse(word) }

// FactKinds lists the facts.
func FactKinds() []Fact { return facts.all() }

// Base tells whether the thermostat's screws can be reached with its face on.
type Base uint8

// BaseUnasked is the zero value; BaseUnknown is an answer.
const (
	BaseUnasked Base = iota
	BaseExposed
	BaseCovered
	BaseUnknown
)

// BaseR tells whether one R screw serves the base or Rc and Rh joined.
type BaseR uint8

// The kinds of R at a base.
const (
	BaseRUnasked BaseR = iota
	BaseRSingle
	BaseRRcRh
	BaseRUnknown
)

// StatSupply tells how the thermostat itself is fed.
type StatSupply uint8

// The supplies.
const (
	SupplyUnasked StatSupply = iota
	SupplyCommon
	SupplyBattery
	SupplyThroughLoad
	SupplyUnknown
)

// Meter tells what meter is at hand.
type Meter uint8

// MeterBoth has a low-impedance mode too.
const (
	MeterUnasked Meter = iota
	MeterNone
	MeterHighImpedance
	MeterBoth
)

var (
	bases        = newList[Base]("base", "", "exposed", "covered", "unknown")
	baseRs       = newList[BaseR]("base-r", "", "single", "rc-rh", "unknown")
	statSupplies = newList[StatSupply]("stat-supply", "", "common", "battery", "through-load", "unknown")
	meters       = newList[Meter]("meter", "", "none", "high-impedance", "both")
)

func (b Base) String() string       { return bases.id(b) }
func (b BaseR) String() string      { return baseRs.id(b) }
func (s StatSupply) String() string { return statSupplies.id(s) }
func (m Meter) String() string      { return meters.id(m) }

// ParseMeter reads a meter id.
func ParseMeter(word string) (Meter, error) { return meters.parse(word) }

// ParseStatSupply reads a supply id.
func ParseStatSupply(word string) (StatSupply, error) { return statSupplies.parse(word) }

// ParseBase reads a base id.
func ParseBase(word string) (Base, error) { return bases.parse(word) }

// ParseBaseR reads a base-r id.
func ParseBaseR(word string) (BaseR, error) { return baseRs.parse(word) }

// Facts is what is known of the house. The zero value knows nothing. It is
// comparable.
type Facts struct {
	Equipment Equipment // NoEquipment: unknown
	// EquipmentAsked is set once somebody answered, "unknown" included.
	EquipmentAsked bool
	Letters        Letters // 0: unknown
	LettersAsked   bool
	Base           Base
	BaseR          BaseR
	StatSupply     StatSupply
	Meter          Meter
}

// Known reports whether fact f was answered, "unknown" included.
func (f Facts) Known(k Fact) bool {
	switch k {
	case FactEquipment:
		return f.EquipmentAsked
	case FactLetters:
		return f.LettersAsked
	case FactBase:
		return f.Base != BaseUnasked
	case FactBaseR:
		return f.BaseR != BaseRUnasked
	case FactStatSupply:
		return f.StatSupply != SupplyUnasked
	case FactMeter:
		return f.Meter != MeterUnasked
	}
	return true
}

// factAnswers lists a fact's answers as id and text.
var factTexts = map[Fact]struct {
	question string
	answers  [][2]string
}{
	FactBase: {"Can you see the wire screws with the thermostat's face on?", [][2]string{
		{"exposed", "yes, they show"}, {"covered", "no, the face covers them"}, {"unknown", "I do not know"}}},
	FactBaseR: {"How is R marked on the wall base?", [][2]string{
		{"single", "one screw, R"}, {"rc-rh", "two screws, Rc and Rh"}, {"unknown", "I do not know"}}},
	FactStatSupply: {"What feeds the thermostat itself?", [][2]string{
		{"common", "a wire on C"}, {"battery", "batteries only"}, {"through-load", "neither: no C wire and no batteries"}, {"unknown", "I do not know"}}},
	FactMeter: {"What meter do you have?", [][2]string{
		{"none", "none"}, {"high-impedance", "an ordinary multimeter"}, {"both", "a multimeter with a low-impedance mode"}}},
}

// Question is the fact as a question; empty where the answers depend on the
// house (equipment, letters).
func (k Fact) Question() string { return factTexts[k].question }

// Answers lists the fact's answers as pairs of id and text.
func (k Fact) Answers() [][2]string { return factTexts[k].answers }

// Set returns f with fact k answered by id.
func (f Facts) Set(k Fact, id string) (Facts, error) {
	var err error
	switch k {
	case FactEquipment:
		f.EquipmentAsked = true
		if f.Equipment = NoEquipment; id != "unknown" {
			f.Equipment, err = ParseEquipment(id)
		}
	case FactLetters:
		f.LettersAsked = true
		if f.Letters = 0; id != "unknown" {
			f.Letters, err = ParseLetters(id)
		}
	case FactBase:
		f.Base, err = ParseBase(id)
	case FactBaseR:
		f.BaseR, err = ParseBaseR(id)
	case FactStatSupply:
		f.StatSupply, err = ParseStatSupply(id)
	case FactMeter:
		f.Meter, err = ParseMeter(id)
	}
	return f, err
}

// MayLack reports whether only some houses have a conductor on letter t at
// the base; R counts as present wherever Rc or Rh is.
func (f Facts) MayLack(t Terminal) bool {
	if f.Equipment == NoEquipment {
		return t == C || t == E || t == L
	}
	return t != Rc && t != Rh && f.Equipment.SometimesLetters().Has(t)
}

// HasLetter reports whether letter t carries a conductor at the base, as far
// as anybody said.
func (f Facts) HasLetter(t Terminal) bool {
	if f.Letters == 0 || !t.IsLetter() {
		return true
	}
	return f.Letters.Has(t) || t == R && (f.Letters.Has(Rc) || f.Letters.Has(Rh))
}

// Answer is the id fact k was answered with, "unknown" where nobody knew.
func (f Facts) Answer(k Fact) string {
	id := ""
	switch k {
	case FactEquipment:
		if f.Equipment != NoEquipment {
			id = f.Equipment.String()
		}
	case FactLetters:
		id = f.Letters.String()
	case FactBase:
		id = f.Base.String()
	case FactBaseR:
		id = f.BaseR.String()
	case FactStatSupply:
		id = f.StatSupply.String()
	case FactMeter:
		id = f.Meter.String()
	}
	if id == "" {
		return "unknown"
	}
	return id
}
