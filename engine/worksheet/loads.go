package worksheet

import (
	"fmt"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// Call is one thing a thermostat asks for.
type Call struct {
	Name  string
	Setup house.Setup
}

// Calls lists what the thermostat of an equipment can call, nothing first.
func Calls(e *circuit.Equipment) []Call {
	def := house.DefaultSetup()
	out := []Call{{"nothing called", def}}
	for _, c := range []struct {
		name    string
		letters house.Letters
		call    house.Partial
	}{
		{"fan on", e.Calls.Fan, house.FanCall}, {"cooling", e.Calls.Cool, house.CoolCall},
		{"heat", e.Calls.Heat, house.HeatCall}, {"emergency heat", e.Calls.Emergency, house.EmergencyCall},
	} {
		if c.letters != 0 {
			out = append(out, Call{c.name, def.With(c.call)})
		}
	}
	return out
}

// Load is what one call asks of a transformer.
type Load struct {
	Call        string  `json:"call"`
	Transformer string  `json:"transformer"`
	VA          float64 `json:"va"`     // volt-amperes rms
	Rating      float64 `json:"rating"` // volt-amperes rms
	Amps        float64 `json:"amps"`   // of the secondary, rms
	Volts       float64 `json:"volts"`  // of the secondary, rms
	Coils       []Coil  `json:"coils,omitempty"`
}

// Over reports whether the transformer gives more than its rating.
func (l Load) Over() bool { return l.VA > l.Rating }

// Coil is one coil the call should bring in. Pulling is its voltage while it
// draws its inrush current, Held once it has pulled in, PickUp what it needs;
// all V rms.
type Coil struct {
	Part    string  `json:"part"`
	Pulling float64 `json:"pulling"`
	Held    float64 `json:"held"`
	PickUp  float64 `json:"pick-up"`
}

// In reports whether the coil pulls in.
func (c Coil) In() bool { return c.Pulling >= c.PickUp }

// Added is what a house has besides what its equipment file says.
type Added struct {
	Gauge                     string  // AWG of both cables, empty to leave
	StatMetres, OutdoorMetres float64 // 0 to leave
	VA                        float64 // devices across R and C at 24 V
}

// fit is d with what was added.
func (a Added) fit(d circuit.Draw) (circuit.Draw, error) {
	var err error
	if a.Gauge != "" {
		if d, err = d.With(circuit.Gauge, a.Gauge); err != nil {
			return d, err
		}
	}
	for name, x := range map[string]float64{"cable.stat-metres": a.StatMetres, "cable.outdoor-metres": a.OutdoorMetres} {
		if x == 0 {
			continue
		}
		if x < 0 {
			return d, fmt.Errorf("a cable of %g m: a length is more than nothing", x)
		}
		if d, err = d.WithValue(name, x); err != nil {
			return d, err
		}
	}
	if a.VA < 0 {
		return d, fmt.Errorf("added devices of %g VA: a load is not negative", a.VA)
	}
	if a.VA > 0 {
		return d.WithValue("fault.overload-ohms", ratedVolts*ratedVolts/a.VA)
	}
	return d, nil
}

// ratedVolts is what a 24 V device's volt-amperes are stated at.
const ratedVolts = 24.0

// faults are what puts the added devices into the circuit.
func (a Added) faults() []house.Fault {
	if a.VA > 0 {
		return []house.Fault{house.TransformerOverloaded}
	}
	return nil
}

// secondaries are the transformers and the conductor that carries all their
// current.
var secondaries = []struct {
	part     string
	one, two house.Terminal
}{
	{"transformer", house.Sec1, house.Sec2},
	{"heat-transformer", house.HeatSec1, house.HeatSec2},
}

// coilEnds are the parts with a coil and an armature.
var coilEnds = []struct {
	part     string
	one, two house.Terminal
}{
	{"contactor", house.Coil1, house.Coil2}, {"reversing-valve", house.Valve1, house.Valve2}, {"stage2", house.Stage2In, house.Stage2Out},
	{"fan-relay", house.Relay1, house.Relay2}, {"sequencer", house.Seq1, house.Seq2}, {"gas-valve", house.Gas1, house.Gas2},
}

// Loads works out every call of a house with what was added to it.
func Loads(d circuit.Draw, a Added) ([]Load, error) {
	d, err := a.fit(d)
	if err != nil {
		return nil, err
	}
	h, err := circuit.NewHouse(d, a.faults()...)
	if err != nil {
		return nil, err
	}
	var out []Load
	for _, c := range Calls(d.Equipment) {
		h.Reset()
		for _, sec := range secondaries {
			part, ok := d.Equipment.Part(sec.part)
			if !ok {
				continue
			}
			l := Load{Call: c.Name, Transformer: sec.part, Rating: d.Value(part.Uses + ".rated-volt-amperes")}
			at := d.Equipment.Board()
			volts, err := h.Exact(c.Setup, house.Volts(sec.one, sec.two, at))
			if err != nil {
				return nil, err
			}
			amps, err := h.Exact(c.Setup, house.Clamp(house.Conductor{Terminal: sec.one, At: at}))
			if err != nil {
				return nil, err
			}
			l.Volts, l.Amps = volts.Value, amps.Value
			l.VA = l.Volts * l.Amps
			if sec.part == "transformer" {
				if l.Coils, err = coils(d, a, h, c.Setup); err != nil {
					return nil, err
				}
			}
			out = append(out, l)
		}
	}
	return out, nil
}

// coils are the coils a call should bring in: those with voltage on them.
func coils(d circuit.Draw, a Added, h *circuit.House, s house.Setup) ([]Coil, error) {
	var out []Coil
	for _, c := range coilEnds {
		part, ok := d.Equipment.Part(c.part)
		if !ok {
			continue
		}
		p := house.Volts(c.one, c.two, d.Equipment.ID.Where(part.At))
		held, err := h.Exact(s, p)
		if err != nil {
			return nil, err
		}
		pickUp := d.Value(part.Uses + ".pick-up-volts")
		if held.Value < 1 {
			continue
		}
		pulling, err := pullingVolts(d, a, part, s, p)
		if err != nil {
			return nil, err
		}
		out = append(out, Coil{Part: c.part, Pulling: pulling, Held: held.Value, PickUp: pickUp})
	}
	return out, nil
}

// pullingVolts is a coil's voltage while it stands at its inrush impedance: it
// is read in a house whose coil never pulls in.
func pullingVolts(d circuit.Draw, a Added, part circuit.Part, s house.Setup, p house.Probe) (float64, error) {
	const never = 1e6 // volts
	stiff, err := d.WithValue(part.Uses+".pick-up-volts", never)
	if err != nil {
		return 0, err
	}
	h, err := circuit.NewHouse(stiff, a.faults()...)
	if err != nil {
		return 0, err
	}
	r, err := h.Exact(s, p)
	return r.Value, err
}

// LoadText is the loads as a table: the transformer's VA against its rating on
// each call, and each coil's voltage against its pick-up. Where there are two
// transformers each line says which.
func LoadText(e *circuit.Equipment, loads []Load) string { return LoadTextWithin(e, loads, 0) }

// LoadTextWithin is the same for a screen of so many cells: in words, a call and
// a coil a line, where the table has no room. 0 is paper.
func LoadTextWithin(e *circuit.Equipment, loads []Load, cells int) string {
	var b strings.Builder
	_, two := e.Part("heat-transformer")
	head, which := "WHAT EACH CALL ASKS OF THE TRANSFORMER", func(string) string { return "" }
	if two {
		head += "S"
		which = func(part string) string { return fmt.Sprintf("%-13s", sourceTitles[part]) }
	}
	fmt.Fprintf(&b, "%s\n%s: %s\n\n", head, e.ID, e.ID.Title())
	if narrow(cells) {
		loadWords(&b, loads, two)
		return b.String()
	}
	fmt.Fprintf(&b, "  %-16s %s%8s %8s %7s\n", "call", which("head"), "VA", "of", "volts")
	for _, l := range loads {
		mark := ""
		if l.Over() {
			mark = "  OVER ITS RATING"
		}
		fmt.Fprintf(&b, "  %-16s %s%8.1f %8.0f %7.1f%s\n", l.Call, which(l.Transformer), l.VA, l.Rating, l.Volts, mark)
	}
	fmt.Fprintf(&b, "\n  %-16s %-17s %8s %8s %7s\n", "call", "coil", "pulling", "needs", "held")
	for _, l := range loads {
		for _, c := range l.Coils {
			mark := ""
			if !c.In() {
				mark = "  DOES NOT PULL IN"
			}
			fmt.Fprintf(&b, "  %-16s %-17s %8.1f %8.1f %7.1f%s\n", l.Call, c.Part, c.Pulling, c.PickUp, c.Held, mark)
		}
	}
	b.WriteString(loadNote)
	return b.String()
}

const loadNote = "\nOne house at the centre of every range (invented). Volts AC rms.\n"

// loadWords says the loads and the coils, each in a line.
func loadWords(b *strings.Builder, loads []Load, two bool) {
	var coils strings.Builder
	for _, l := range loads {
		call := l.Call
		if two {
			call += ", " + sourceTitles[l.Transformer]
		}
		mark := ""
		if l.Over() {
			mark = ": OVER ITS RATING"
		}
		fmt.Fprintf(b, "  - %s: %.1f of %.0f VA, %.1f V%s\n", call, l.VA, l.Rating, l.Volts, mark)
		for _, c := range l.Coils {
			mark = ""
			if !c.In() {
				mark = ": DOES NOT PULL IN"
			}
			fmt.Fprintf(&coils, "  - %s, %s: pulling in %.1f V, needs %.1f V, held %.1f V%s\n", l.Call, c.Part, c.Pulling, c.PickUp, c.Held, mark)
		}
	}
	b.WriteString("\n" + coils.String() + loadNote)
}

// sourceTitles name two transformers in one house.
var sourceTitles = map[string]string{"head": "transformer", "transformer": "cooling's", "heat-transformer": "furnace's"}
