package worksheet

import (
	"encoding/json"
	"fmt"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

var placeTitles = map[house.Place]string{
	house.AtThermostat: "AT THE THERMOSTAT'S WALL BASE", house.AtIndoor: "INDOORS, AT THE BOARD", house.AtOutdoor: "AT THE OUTDOOR UNIT",
}

// tableCells is how wide the tables are.
const tableCells = 66

// narrow reports whether a screen of so many cells has no room for a table; 0
// is paper.
func narrow(cells int) bool { return cells > 0 && cells < tableCells }

// Text is the sheet as a table to print and stick in a panel.
func (s Sheet) Text() string { return s.TextWithin(0) }

// TextWithin is the same for a screen of so many cells: in words, a reading a
// line, where the table has no room. 0 is paper.
func (s Sheet) TextWithin(cells int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "WHAT IT SHOULD READ, HEALTHY\n%s: %s\n%s, %s\n", s.Equipment, s.Equipment.Title(), s.Quantity.Title(), s.call())
	for _, page := range s.Pages {
		title := placeTitles[page.At]
		if s.Equipment.Packaged() && page.At == house.AtOutdoor {
			title = "IN THE CABINET"
		}
		fmt.Fprintf(&b, "\n%s\n", title)
		form := "  %-12s %-12s %-10s %s%s\n"
		if narrow(cells) {
			form = "  - %s to %s: %s (%s)%s\n"
			b.WriteString("  red to black: about (healthy range)\n")
		} else {
			fmt.Fprintf(&b, form, "red on", "black on", "about", "healthy range", "")
		}
		for _, l := range page.Lines {
			fmt.Fprintf(&b, form, l.Probe.Red, l.Probe.Black, quantity.FormatASCII(l.Nominal, s.Quantity), l.span(s.Quantity), l.mark())
		}
	}
	if len(s.Looks) > 0 {
		b.WriteString("\nTO BE SEEN\n")
		for _, l := range s.Looks {
			fmt.Fprintf(&b, "  %-18s %s\n", l.Look, strings.Join(l.words(), " or "))
		}
	}
	fmt.Fprintf(&b, "\nRanges over %d modelled houses (invented), meter error included.\n", s.Houses)
	b.WriteString(s.notes())
	return b.String()
}

// notes explains the marks that were used.
func (s Sheet) notes() string {
	line, some := false, false
	for _, page := range s.Pages {
		for _, l := range page.Lines {
			line, some = line || l.Probe.LineClass(), some || l.Some
		}
	}
	out := ""
	if line {
		out += "! line voltage: a qualified technician only, the live-work caution first.\n"
	}
	if some {
		out += "* not in every house.\n"
	}
	return out
}

// call says what is called, in words.
func (s Sheet) call() string {
	if s.Quantity == quantity.Resistance {
		return "power locked out"
	}
	x := s.Setup
	x.CoverIndoor, x.CoverOutdoor = false, false
	return x.String()
}

func (l Line) span(q quantity.Quantity) string {
	var parts []string
	if !l.Range.Empty() {
		lo, hi := quantity.FormatASCII(quantity.Of(l.Range.Lo), q), quantity.FormatASCII(quantity.Of(l.Range.Hi), q)
		if lo == hi {
			parts = append(parts, lo)
		} else {
			parts = append(parts, lo+" to "+hi)
		}
	}
	if l.OL {
		parts = append(parts, "OL")
	}
	return strings.Join(parts, " or ")
}

// String is the line in words: the two leads, about what, and the range.
func (l Line) String() string {
	p := l.Probe
	return p.Red.String() + " to " + p.Black.String() + ": about " + quantity.FormatASCII(l.Nominal, p.Quantity) + ", healthy " + l.span(p.Quantity)
}

// String is the look's healthy answers in words.
func (s Seen) String() string { return s.Look.String() + ": " + strings.Join(s.words(), " or ") }

func (l Line) mark() string {
	m := ""
	if l.Probe.LineClass() {
		m += " !"
	}
	if l.Some {
		m += " *"
	}
	return m
}

func (s Seen) words() []string {
	out := make([]string, len(s.Answers))
	for i, a := range s.Answers {
		out[i] = s.Look.AnswerID(a)
	}
	return out
}

type lineJSON struct {
	Red     string           `json:"red"`
	Black   string           `json:"black"`
	At      string           `json:"at"`
	Class   string           `json:"class"`
	Nominal quantity.Reading `json:"nominal"`
	Low     *float64         `json:"low,omitempty"`
	High    *float64         `json:"high,omitempty"`
	OL      bool             `json:"ol,omitempty"`
	Some    bool             `json:"not-in-every-house,omitempty"`
}

type lookJSON struct {
	Look    string   `json:"look"`
	Answers []string `json:"answers"`
}

// MarshalJSON writes the sheet in the vocabulary's words; values in V rms,
// ohm or A.
func (s Sheet) MarshalJSON() ([]byte, error) {
	out := struct {
		Equipment string      `json:"equipment"`
		Setup     house.Setup `json:"setup"`
		Quantity  string      `json:"quantity"`
		Unit      string      `json:"unit"`
		Houses    int         `json:"houses"`
		Readings  []lineJSON  `json:"readings"`
		Looks     []lookJSON  `json:"looks"`
	}{s.Equipment.String(), s.Setup, s.Quantity.String(), s.Quantity.Unit(), s.Houses, []lineJSON{}, []lookJSON{}}
	for _, page := range s.Pages {
		for _, l := range page.Lines {
			x := lineJSON{Red: l.Probe.Red.String(), Black: l.Probe.Black.String(), At: page.At.String(), Class: "control", Nominal: l.Nominal, OL: l.OL, Some: l.Some}
			if l.Probe.LineClass() {
				x.Class = "line"
			}
			if !l.Range.Empty() {
				x.Low, x.High = &l.Range.Lo, &l.Range.Hi
			}
			out.Readings = append(out.Readings, x)
		}
	}
	for _, l := range s.Looks {
		out.Looks = append(out.Looks, lookJSON{l.Look.String(), l.words()})
	}
	return json.Marshal(out)
}
