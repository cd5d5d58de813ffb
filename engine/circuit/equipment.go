package circuit

import (
	"stepdown/engine/house"
)

// Value is one number of an equipment: the centre of its range, the range
// drawn around it, its unit, its source and how that is known.
type Value struct {
	Group, Key         string
	Nominal, Low, High float64
	Unit               string
	Source, Known      string
}

// Name is group and key: "contactor.dc-ohms".
func (v Value) Name() string { return v.Group + "." + v.Key }

// Part is one part of an equipment: what it is, its ends (a terminal's word,
// or a word for an inner joint), the cabinet it is in and its values' group.
type Part struct {
	ID   string
	At   house.Place
	Ends []string
	Uses string

	kind kind
}

// Wire joins two ends in a cabinet.
type Wire struct {
	At   house.Place
	From string
	To   string
}

// Cable is the field conductors from the board to one place.
type Cable struct {
	To         house.Place
	Conductors []house.Terminal
}

// Calls says which contacts a thermostat closes.
type Calls struct {
	Cool, Heat, Emergency, Fan house.Letters
	Changeover                 house.Terminal // O, B or NoTerminal
	EnergisedIn                house.Mode     // the mode it is energised in
}

// Equipment is one equipment as its file describes it: enough to build its
// network and to draw its ladder.
type Equipment struct {
	ID    house.Equipment
	Parts []Part
	Wires []Wire
	// Cables are the field conductors; the first goes to the thermostat.
	Cables []Cable
	Calls  Calls

	values  []Value
	index   map[string]int // a value's place in values, by its name
	options [choiceCount][]uint8
}

// Board is the cabinet the field conductors start from.
func (e *Equipment) Board() house.Place { return e.ID.Where(house.AtIndoor) }

// Values lists the numbers of the equipment.
func (e *Equipment) Values() []Value { return append([]Value(nil), e.values...) }

// Part finds a part by its id.
func (e *Equipment) Part(id string) (Part, bool) {
	for _, p := range e.Parts {
		if p.ID == id {
			return p, true
		}
	}
	return Part{}, false
}

func (e *Equipment) has(part string) bool {
	_, ok := e.Part(part)
	return ok
}

// Conductor reports whether the cable to a place has a letter's conductor, in
// some houses at least.
func (e *Equipment) Conductor(to house.Place, t house.Terminal) bool {
	for _, c := range e.Cables {
		if c.To == to {
			for _, l := range c.Conductors {
				if l == t {
					return true
				}
			}
		}
	}
	return false
}

// Hot is the R that feeds a letter: Rc or Rh where there are two transformers.
func (e *Equipment) Hot(t house.Terminal) house.Terminal {
	if e.ID != house.SplitPower {
		return house.R
	}
	if t == house.W || t == house.Rh {
		return house.Rh
	}
	return house.Rc
}

// Draws reports whether houses with this equipment differ in a choice.
func (e *Equipment) Draws(c Choice) bool { return len(e.options[c]) > 1 }

// Catalog is every equipment that was loaded.
type Catalog struct {
	byID map[house.Equipment]*Equipment
}

// Equipment gives one equipment, nil where it is not modelled.
func (c *Catalog) Equipment(id house.Equipment) *Equipment { return c.byID[id] }

// IDs lists the modelled equipment in the order of the closed list.
func (c *Catalog) IDs() []house.Equipment {
	var out []house.Equipment
	for _, id := range house.Equipments() {
		if c.byID[id] != nil {
			out = append(out, id)
		}
	}
	return out
}
