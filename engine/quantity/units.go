package quantity

import "strings"

// unit is what stands after a number.
type unit struct {
	prefix byte   // m (milli), k, M, u, or 0
	dim    string // V, ohm, A, or none given
	sign   bool   // the ohm sign itself was used
	spelt  bool   // the prefix was a word
	flow   string // ac, dc, or none given
	lowz   bool
	exp    int // power of ten of the prefix
}

// marks are the parts a unit is put together from, longest first.
var marks = []struct {
	text string
	set  func(u *unit)
}{
	{"kilohms", kilohm}, {"kilohm", kilohm}, {"amperes", amp}, {"ampere", amp}, {"milli", word('m', -3)}, {"micro", word('u', -6)}, {"volts", volt},
	{"mega", word('M', 6)}, {"kilo", word('k', 3)}, {"ohms", ohm}, {"amps", amp}, {"volt", volt}, {"lowz", lowz},
	{"meg", word('M', 6)}, {"ohm", ohm}, {"amp", amp}, {"loz", lowz}, {"rms", ac}, {"ac", ac}, {"dc", dc},
	{"Ω", func(u *unit) { u.dim, u.sign = "ohm", true }}, {"v", volt}, {"r", ohm}, {"a", amp}, {"~", ac},
	{"k", letter('k', 3)}, {"u", letter('u', -6)},
}

func volt(u *unit) { u.dim = "V" }
func ohm(u *unit)  { u.dim = "ohm" }
func amp(u *unit)  { u.dim = "A" }
func ac(u *unit)   { u.flow = "ac" }
func dc(u *unit)   { u.flow = "dc" }
func kilohm(u *unit) {
	word('k', 3)(u)
	ohm(u)
}
func lowz(u *unit) { u.lowz = true }

func letter(prefix byte, exp int) func(*unit) {
	return func(u *unit) { u.prefix, u.exp = prefix, exp }
}

func word(prefix byte, exp int) func(*unit) {
	return func(u *unit) { u.prefix, u.exp, u.spelt = prefix, exp, true }
}

// units reads the text after a number; nothing is a unit too.
func units(s string) (u unit, ok bool) {
	s = strings.Map(func(c rune) rune {
		if strings.ContainsRune(" .-/()_", c) {
			return -1
		}
		return c
	}, s)
	for s != "" {
		next, rest := mark(s)
		if next == nil {
			return u, false
		}
		before := u
		next(&u)
		if clash(before, u) {
			return u, false
		}
		s = rest
	}
	return u, true
}

// mark finds the part at the front of s.
func mark(s string) (set func(*unit), rest string) {
	for _, m := range marks {
		if len(s) >= len(m.text) && strings.EqualFold(s[:len(m.text)], m.text) {
			return m.set, s[len(m.text):]
		}
	}
	switch s[0] {
	case 'm':
		return letter('m', -3), s[1:]
	case 'M':
		return letter('M', 6), s[1:]
	}
	return nil, s
}

// clash refuses what is said twice or in no order a unit is written in: a
// prefix after its unit, two units.
func clash(before, after unit) bool {
	switch {
	case after.prefix != before.prefix:
		return before.prefix != 0 || before.dim != ""
	case after.dim != before.dim:
		return before.dim != ""
	case after.flow != before.flow:
		return before.flow != ""
	}
	return before == after && after.flow == ""
}

// against says why the unit cannot be one of q; empty where it can.
func (u unit) against(q Quantity) string {
	want := q.Unit()
	switch {
	case u.dim != "" && u.dim != want:
		return "is in " + map[string]string{"V": "volts", "ohm": "ohms", "A": "amps"}[u.dim]
	case u.flow == "dc" && q.AC():
		return "is a DC reading: set the meter to AC"
	case u.flow == "ac" && q == DCVolts:
		return "is an AC reading: set the meter to DC"
	case u.flow != "" && q == Resistance:
		return "is no resistance"
	case u.lowz && q == ACVolts:
		return "was read in the low-impedance mode: read again in the ordinary AC mode"
	case u.lowz && q != LowZVolts:
		return "was read in the low-impedance mode"
	case u.prefix == 'm' && q == Resistance && !u.sign && !u.spelt:
		return "could be milli or mega: type M for mega, or the number in plain ohms"
	case u.prefix == 'M' && q != Resistance:
		return "is in mega (capital M): type a small m for milli"
	}
	return ""
}
