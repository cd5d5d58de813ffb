package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Format shows a reading as a meter would, with its unit: "26.8 V", "-0.2 V DC",
// "1.2 kΩ", "OL", "not read". At most four figures, and none below a millivolt,
// a milliohm or a milliampere.
func Format(r Reading, q Quantity) string { return format(r, q, "Ω") }

// FormatASCII is Format for a screen without Unicode: "1.2 kohm".
func FormatASCII(r Reading, q Quantity) string { return format(r, q, "ohm") }

func format(r Reading, q Quantity, ohm string) string {
	switch {
	case r.Missing:
		return "not read"
	case r.OL:
		return "OL"
	}
	value, prefix, unit := r.Value, "", q.Unit()
	if q == Resistance {
		unit = ohm
		// The rounded value picks the prefix, or 999.96 would show as 1000 Ω.
		switch x := figures(math.Abs(value)); {
		case x >= 1e6:
			value, prefix = value/1e6, "M"
		case x >= 1e3:
			value, prefix = value/1e3, "k"
		}
	}
	text := strconv.FormatFloat(figures(value), 'f', -1, 64) + " " + prefix + unit
	if q == DCVolts {
		text += " DC"
	}
	return strings.TrimSpace(text)
}

// figures rounds to four significant figures and to a thousandth.
func figures(x float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	y, _ = strconv.ParseFloat(strconv.FormatFloat(y, 'f', 3, 64), 64)
	return y + 0 // -0 becomes 0
}
