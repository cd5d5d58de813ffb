package quantity

import "fmt"

// Volts is a potential difference in volts: rms where it is AC.
type Volts float64

// Ohms is a resistance in ohms, DC.
type Ohms float64

// Amps is a current in amperes rms.
type Amps float64

// String gives the value as a meter would show it, with its unit.
func (v Volts) String() string { return Format(Reading{Value: float64(v)}, ACVolts) }

// String gives the value as a meter would show it, with its unit.
func (o Ohms) String() string { return Format(Reading{Value: float64(o)}, Resistance) }

// String gives the value as a meter would show it, with its unit.
func (a Amps) String() string { return Format(Reading{Value: float64(a)}, Current) }

// Quantity is what a meter is set to read. The zero Quantity is none of them.
type Quantity uint8

// The quantities. ACVolts is read at a high impedance (about 10 Mohm),
// LowZVolts in the low-impedance mode (about 3 kohm), both AC rms. Resistance
// is read with power off; Current is a clamp around one conductor, AC rms.
const (
	ACVolts Quantity = iota + 1
	LowZVolts
	DCVolts
	Resistance
	Current
)

// kinds holds the words of each quantity, by its number.
var kinds = [...]struct {
	id, unit, title, example string
	max                      float64 // in the base unit
}{
	{},
	{"volts", "V", "volts AC", "26.8", 1000},
	{"volts-lowz", "V", "volts AC in the low-impedance mode", "26.8", 1000},
	{"volts-dc", "V", "volts DC", "0.3", 1000},
	{"ohms", "ohm", "ohms", "12.5 or OL", 1e9},
	{"amps", "A", "amps AC", "0.4", 1000},
}

func (q Quantity) known() bool { return q > 0 && int(q) < len(kinds) }

// All gives every quantity, in order.
func All() []Quantity {
	return []Quantity{ACVolts, LowZVolts, DCVolts, Resistance, Current}
}

// OfID gives the quantity with an id: volts, volts-lowz, volts-dc, ohms, amps.
func OfID(id string) (Quantity, error) {
	for _, q := range All() {
		if kinds[q].id == id {
			return q, nil
		}
	}
	return 0, fmt.Errorf("unknown quantity %q: one of volts, volts-lowz, volts-dc, ohms, amps", id)
}

// String gives the id.
func (q Quantity) String() string {
	if !q.known() {
		return fmt.Sprintf("quantity(%d)", uint8(q))
	}
	return kinds[q].id
}

// Example gives what people may type for a reading of the quantity.
func (q Quantity) Example() string { return kinds[q].example }

// Unit gives V, ohm or A.
func (q Quantity) Unit() string {
	if !q.known() {
		return ""
	}
	return kinds[q].unit
}

// Title says the quantity in words for a person: "volts AC".
func (q Quantity) Title() string {
	if !q.known() {
		return q.String()
	}
	return kinds[q].title
}

// Max is the largest value taken as a reading, in the base unit.
func (q Quantity) Max() float64 {
	if !q.known() {
		return 0
	}
	return kinds[q].max
}

// AC says whether the quantity is an rms value, which is never negative.
func (q Quantity) AC() bool { return q == ACVolts || q == LowZVolts || q == Current }

// MarshalText gives the id.
func (q Quantity) MarshalText() ([]byte, error) {
	if !q.known() {
		return nil, fmt.Errorf("%s has no id", q)
	}
	return []byte(kinds[q].id), nil
}

// UnmarshalText reads the id.
func (q *Quantity) UnmarshalText(text []byte) error {
	got, err := OfID(string(text))
	if err == nil {
		*q = got
	}
	return err
}
