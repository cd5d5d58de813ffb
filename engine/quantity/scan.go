package quantity

import (
	"strconv"
	"strings"
)

// number is the numeric part of a reading: digits (with a point, no sign)
// times ten to exp, and the text that follows.
type number struct {
	negative bool
	digits   string
	exp      int
	rest     string
}

// exponentMax is past every float64.
const exponentMax = 400

// scan reads the number at the front of s; why is empty, or the reason there
// is none, worded to follow the quoted text.
func scan(s string, q Quantity) (n number, why string) {
	if rest := trimLead(s, "zero"); rest != s {
		return number{digits: "0", rest: rest}, secondNumber(rest)
	}
	s, n.negative = cutSign(s)
	end := 0
	for end < len(s) && (isDigit(s[end]) || s[end] == '.' || s[end] == ',') {
		end++
	}
	raw := s[:end]
	n.rest = s[end:]
	if strings.Trim(raw, ".,") == "" {
		return n, notANumber(s)
	}
	if n.digits, why = point(raw); why != "" {
		return n, why
	}
	if why = n.exponent(q); why != "" {
		return n, why
	}
	n.codedPoint(q)
	n.fraction()
	return n, secondNumber(n.rest)
}

func cutSign(s string) (rest string, negative bool) {
	if s != "" && (s[0] == '-' || s[0] == '+') {
		return strings.TrimLeft(s[1:], " "), s[0] == '-'
	}
	return s, false
}

// notANumber words the refusal of text that starts with no digit.
func notANumber(s string) string {
	low := strings.ToLower(s)
	switch {
	case strings.HasPrefix(low, "inf"), strings.HasPrefix(low, "∞"):
		return "is not a number (a meter that shows no end says OL)"
	case strings.HasPrefix(low, "nan"):
		return "is not a number"
	case strings.HasPrefix(low, "<"), strings.HasPrefix(low, ">"), strings.HasPrefix(low, "under"), strings.HasPrefix(low, "over"):
		return "is a limit, not a reading: type what the meter shows"
	}
	return "is not a number"
}

// point settles whether a comma is a decimal comma. Three digits after one
// comma could be thousands, unless nothing or a lone 0 stands before it.
func point(raw string) (digits, why string) {
	raw = strings.TrimRight(raw, ".,")
	dots, commas := strings.Count(raw, "."), strings.Count(raw, ",")
	switch {
	case dots > 0 && commas > 0:
		return "", "has a comma and a point: type the number with a point alone"
	case dots > 1 || commas > 1:
		return "", "has more than one decimal point"
	case commas == 1:
		whole, part, _ := strings.Cut(raw, ",")
		if len(part) == 3 && strings.Trim(whole, "0") != "" {
			return "", "could be " + whole + "." + part + " or " + whole + part + ": type it without the comma"
		}
		raw = whole + "." + part
	}
	return raw, ""
}

// exponent takes "e3" or "E-3" off the rest; one no meter shows is refused
// before it can overflow.
func (n *number) exponent(q Quantity) string {
	if len(n.rest) < 2 || n.rest[0]|0x20 != 'e' {
		return ""
	}
	end := 1
	if n.rest[1] == '-' || n.rest[1] == '+' {
		end++
	}
	from := end
	for end < len(n.rest) && isDigit(n.rest[end]) {
		end++
	}
	if end == from {
		return ""
	}
	exp, err := strconv.Atoi(n.rest[1:end])
	if err != nil || exp > exponentMax {
		return tooMuch(q)
	}
	exp = max(exp, -exponentMax)
	n.exp, n.rest = exp, n.rest[end:]
	return ""
}

// codedPoint reads the way resistors are marked, 4k7 for 4.7k and 2R2 for 2.2
// (IEC 60062, from memory).
func (n *number) codedPoint(q Quantity) {
	if q != Resistance || len(n.rest) < 2 || strings.ContainsAny(n.digits, ".") || !strings.ContainsRune("kKMRr", rune(n.rest[0])) {
		return
	}
	end := 1
	for end < len(n.rest) && isDigit(n.rest[end]) {
		end++
	}
	if end == 1 {
		return
	}
	n.digits += "." + n.rest[1:end]
	n.rest = n.rest[:1] + n.rest[end:]
}

// fractions are what may follow a whole number.
var fractions = []struct{ words, digits string }{
	{"and a half", ".5"}, {"and a quarter", ".25"}, {"and three quarters", ".75"},
	{"1/2", ".5"}, {"1/4", ".25"}, {"3/4", ".75"},
}

func (n *number) fraction() {
	rest := strings.TrimLeft(n.rest, " ")
	if rest == n.rest || strings.ContainsAny(n.digits, ".") || n.exp != 0 {
		return
	}
	for _, f := range fractions {
		after := trimLead(rest, f.words)
		if after != rest && (after == "" || !isDigit(after[0])) {
			n.digits, n.rest = n.digits+f.digits, after
			return
		}
	}
}

// secondNumber refuses a range, a list or a hexadecimal number.
func secondNumber(rest string) string {
	if strings.ContainsAny(rest, "0123456789") {
		return "holds more than one number: type one"
	}
	return ""
}
