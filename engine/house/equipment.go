package house

import "strings"

// Equipment is a kind of heating or cooling system, as its control circuit
// sees it.
type Equipment uint8

// The equipment that is modelled, then what is recognised and declined or
// stopped.
const (
	NoEquipment Equipment = iota
	CoolGas
	CoolElectric
	HeatOnly
	PumpCoolingValve
	PumpHeatingValve
	DualFuel
	TwoStagePump
	SplitPower
	PackagedGas
	PackagedPump
	Communicating
	Millivolt
	MiniSplit
	RooftopEconomizer
	LineVoltageThermostat
)

// Handling is what the tool does for an equipment.
type Handling uint8

// Modelled equipment is metered; declined equipment is politely left alone;
// a stop ends the call at once.
const (
	Modelled Handling = iota
	Declined
	Stopped
)

// equipmentRow is what the vocabulary says of one equipment: letters at the
// base, letters at the outdoor strip, and the parts whose ends exist.
type equipmentRow struct {
	id, title string
	handling  Handling
	letters   Letters // a conductor may run to the base
	sometimes Letters // … on some houses only
	strip     Letters // letters at the outdoor strip
	indoor    []Terminal
	outdoor   []Terminal
	packaged  bool
}

var (
	head       = []Terminal{Sec1, Sec2, Fuse1, Fuse2, GND, Pri1, Pri2, Door1, Door2, Feed1, Feed2}
	floatSw    = []Terminal{Float1, Float2}
	furnace    = []Terminal{Limit1, Limit2, Rollout1, Rollout2, Gas1, Gas2}
	airHandler = []Terminal{Seq1, Seq2, Relay1, Relay2, SecondFeed1, SecondFeed2}
	condenser  = []Terminal{Pressure1, Pressure2, Coil1, Coil2, GND, L1, T1, L2, T2}
	reversing  = []Terminal{Valve1, Valve2}
)

func join(groups ...[]Terminal) []Terminal {
	var out []Terminal
	for _, g := range groups {
		out = append(out, g...)
	}
	return out
}

var equipmentRows = []equipmentRow{
	{},
	{id: "cool-gas", title: "air conditioner with a gas furnace", letters: LettersOf(R, Rc, Rh, C, Y, G, W), sometimes: LettersOf(C, Rc, Rh),
		strip: LettersOf(Y, C), indoor: join(head, floatSw, furnace), outdoor: condenser},
	{id: "cool-electric", title: "air conditioner with electric heat in an air handler", letters: LettersOf(R, Rc, Rh, C, Y, G, W), sometimes: LettersOf(C, Rc, Rh),
		strip: LettersOf(Y, C), indoor: join(head, floatSw, airHandler), outdoor: condenser},
	{id: "heat-only", title: "gas furnace, heating only", letters: LettersOf(R, Rc, Rh, C, W), sometimes: LettersOf(C, Rc, Rh),
		indoor: join(head, furnace)},
	{id: "pump-cooling-valve", title: "heat pump whose valve is energised in cooling (O)", letters: LettersOf(R, Rc, Rh, C, Y, G, O, W2, E, L), sometimes: LettersOf(C, Rc, Rh, E, L),
		strip: LettersOf(R, C, Y, O, W2, L), indoor: join(head, floatSw, airHandler), outdoor: join(condenser, reversing)},
	{id: "pump-heating-valve", title: "heat pump whose valve is energised in heating (B)", letters: LettersOf(R, Rc, Rh, C, Y, G, B, W2, E, L), sometimes: LettersOf(C, Rc, Rh, E, L),
		strip: LettersOf(R, C, Y, B, W2, L), indoor: join(head, floatSw, airHandler), outdoor: join(condenser, reversing)},
	{id: "dual-fuel", title: "heat pump with a gas furnace", letters: LettersOf(R, Rc, Rh, C, Y, G, O, W2, L), sometimes: LettersOf(C, Rc, Rh, L),
		strip: LettersOf(R, C, Y, O, W2, L), indoor: join(head, floatSw, furnace), outdoor: join(condenser, reversing)},
	{id: "two-stage-pump", title: "two-stage heat pump", letters: LettersOf(R, Rc, Rh, C, Y, Y2, G, O, W2, E, L), sometimes: LettersOf(C, Rc, Rh, E, L),
		strip: LettersOf(R, C, Y, Y2, O, W2, L), indoor: join(head, floatSw, airHandler), outdoor: join(condenser, reversing, []Terminal{Stage2In, Stage2Out})},
	{id: "split-power", title: "two transformers: one in the furnace, one for cooling", letters: LettersOf(Rc, Rh, C, Y, G, W), sometimes: LettersOf(C),
		strip: LettersOf(Y, C), indoor: join(head, floatSw, furnace, []Terminal{Relay1, Relay2, SecondFeed1, SecondFeed2, HeatPri1, HeatPri2, HeatSec1, HeatSec2}), outdoor: condenser},
	{id: "packaged-gas", title: "packaged unit, gas heat and cooling in one outdoor cabinet", letters: LettersOf(R, Rc, Rh, C, Y, G, W), sometimes: LettersOf(C, Rc, Rh),
		outdoor: join(head, floatSw, furnace, condenser), packaged: true},
	{id: "packaged-pump", title: "packaged heat pump, all in one outdoor cabinet", letters: LettersOf(R, Rc, Rh, C, Y, G, O, W2, E, L), sometimes: LettersOf(C, Rc, Rh, E, L),
		outdoor: join(head, floatSw, airHandler, condenser, reversing), packaged: true},
	{id: "communicating", title: "a system whose parts talk over data wires", handling: Declined},
	{id: "millivolt", title: "a millivolt gas heater", handling: Declined},
	{id: "mini-split", title: "a ductless mini-split", handling: Declined},
	{id: "rooftop-economizer", title: "a rooftop unit with an economizer", handling: Declined},
	{id: "line-voltage-thermostat", title: "a heater switched by a line-voltage thermostat", handling: Stopped},
}

var equipments = newList[Equipment]("equipment", func() []string {
	ids := make([]string, len(equipmentRows))
	for i, row := range equipmentRows {
		ids[i] = row.id
	}
	return ids
}()...)

func (e Equipment) String() string { return equipments.id(e) }

// ParseEquipment reads an equipment id.
func ParseEquipment(word string) (Equipment, error) { return equipments.parse(word) }

// Equipments lists the modelled equipment.
func Equipments() []Equipment {
	var out []Equipment
	for _, e := range equipments.all() {
		if e.Handling() == Modelled {
			out = append(out, e)
		}
	}
	return out
}

// Recognised lists every equipment, declined and stopped ones too.
func Recognised() []Equipment { return equipments.all() }

// Handling tells whether e is modelled, declined or stopped.
func (e Equipment) Handling() Handling { return equipmentRows[e].handling }

// Title is e in plain words.
func (e Equipment) Title() string { return equipmentRows[e].title }

// Packaged reports whether everything sits in one outdoor cabinet.
func (e Equipment) Packaged() bool { return equipmentRows[e].packaged }

// Words are a text written for two cabinets and one transformer, as it reads on
// e: one that is packaged has neither an indoor nor an outdoor unit, one with two
// transformers has no R, and what stands indoors may be a furnace.
func (e Equipment) Words(text string) string {
	switch {
	case e.Packaged():
		return oneCabinet.Replace(text)
	case e == SplitPower:
		return nameR(text)
	case e.Has(Gas1, AtIndoor):
		return furnaceIndoors.Replace(text)
	}
	return text
}

var oneCabinet = strings.NewReplacer("indoor unit", "packaged unit", "Indoor unit", "Packaged unit",
	"outdoor unit", "packaged unit", "Outdoor unit", "Packaged unit", "indoor board", "board")

var furnaceIndoors = strings.NewReplacer("indoor unit", "furnace", "Indoor unit", "Furnace")

// Letters are the letters that may carry a conductor at the wall base.
func (e Equipment) Letters() Letters { return equipmentRows[e].letters }

// SometimesLetters are those of Letters that only some houses have.
func (e Equipment) SometimesLetters() Letters { return equipmentRows[e].sometimes }

// Strip are the letters at the outdoor strip.
func (e Equipment) Strip() Letters { return equipmentRows[e].strip }

// Changeover is the letter that drives the reversing valve, O or B, or
// NoTerminal.
func (e Equipment) Changeover() Terminal {
	switch {
	case e.Letters().Has(O):
		return O
	case e.Letters().Has(B):
		return B
	}
	return NoTerminal
}

// Where is the place that p means for e: in a packaged unit, indoor is the
// one outdoor cabinet.
func (e Equipment) Where(p Place) Place {
	if e.Packaged() && p == AtIndoor {
		return AtOutdoor
	}
	return p
}

// Has reports whether e has terminal t at place p.
func (e Equipment) Has(t Terminal, p Place) bool {
	row, p := equipmentRows[e], e.Where(p)
	if t.IsLetter() {
		switch {
		case p == AtThermostat, p == AtIndoor, p == AtOutdoor && row.packaged:
			return row.letters.Has(t)
		}
		return p == AtOutdoor && row.strip.Has(t)
	}
	ends := row.indoor
	if p == AtOutdoor {
		ends = row.outdoor
	} else if p != AtIndoor {
		return false
	}
	for _, end := range ends {
		if end == t {
			return true
		}
	}
	return false
}

// HasLook reports whether look l means anything on e.
func (e Equipment) HasLook(l Look) bool {
	switch l {
	case Burner:
		return e.Has(Gas1, AtIndoor)
	case OutdoorUnit, BreakerOutdoor, ContactorLook:
		return e.Has(Coil1, AtOutdoor)
	case Stage2Look:
		return e.Has(Stage2In, AtOutdoor)
	case ChangeoverSetting, ChangeoverRated:
		return e.Changeover() != NoTerminal
	case FaultLight:
		return e.Letters().Has(L)
	case DrainPan:
		return e.Has(Float1, AtIndoor)
	}
	return l != NoLook
}

// Sets reports whether the thermostat of an equipment has the switches for a
// setup, by the letters that land on it; one off the wall calls nothing.
func (e Equipment) Sets(s Setup) bool {
	if e == NoEquipment || e.Handling() != Modelled || s.Thermostat == Removed {
		return true
	}
	has := e.Letters().Has
	switch {
	case s.FanOn && !has(G), s.Mode == ModeCool && !has(Y), s.Mode == ModeEmergency && !has(W2):
		return false
	}
	return true
}
