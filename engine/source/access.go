package source

import (
	"math"
	"strconv"
	"strings"
)

// Fields is a map read against the keys it may have.
type Fields struct {
	of *Value
	r  *Reporter
	by map[string]*Value
}

// Fields reads a map that may hold the allowed keys and no other; an unknown
// key is reported with the nearest allowed one.
func (v *Value) Fields(r *Reporter, allowed ...string) Fields {
	f := Fields{of: v, r: r, by: map[string]*Value{}}
	for _, e := range v.Entries(r) {
		if !contains(allowed, e.Key.Text) {
			e.Key.Report(r, CodeUnknownKey, suggest(e.Key.Text, allowed), "unknown key %q", e.Key.Text)
			continue
		}
		f.by[e.Key.Text] = e.Value
	}
	return f
}

// Need gives the value of a key and reports the key when it is missing.
func (f Fields) Need(key string) *Value {
	v, ok := f.by[key]
	if !ok && f.of != nil && f.of.Kind == Map {
		f.r.Add(f.of.Pos, CodeMissingKey, "add "+key+": ...", "key %q is missing", key)
	}
	return v
}

// Get gives the value of a key, nil when it is missing.
func (f Fields) Get(key string) *Value { return f.by[key] }

// Has says whether the key is there, even with nothing in it.
func (f Fields) Has(key string) bool { return f.by[key] != nil }

// Entries gives a map's keys and values in the order of the file, whatever the
// keys are; anything but a map is reported.
func (v *Value) Entries(r *Reporter) []Entry {
	if !v.is(r, Map) {
		return nil
	}
	return v.entries
}

// Items gives a list's values; anything but a list is reported.
func (v *Value) Items(r *Reporter) []*Value {
	if !v.is(r, List) {
		return nil
	}
	return v.items
}

// is reports a value of another kind. A nil value is no kind, silently.
func (v *Value) is(r *Reporter, k Kind) bool {
	if v == nil || v.Kind == k {
		return v != nil
	}
	hint := ""
	if k == List && v.Kind == Scalar && runeLen(v.Text) < 40 {
		hint = "write [" + v.Text + "]"
	}
	if v.Kind == Null {
		v.Report(r, CodeEmpty, hint, "nothing is given where %s is wanted", k)
		return false
	}
	v.Report(r, CodeWrongKind, hint, "%s is given where %s is wanted", v.Kind, k)
	return false
}

// String gives a scalar's text; nothing, or blank text, is reported.
func (v *Value) String(r *Reporter) string {
	if !v.is(r, Scalar) {
		return ""
	}
	if strings.TrimSpace(v.Text) == "" {
		v.Report(r, CodeEmpty, "", "text is wanted and this is empty")
	}
	return v.Text
}

// Strings gives the texts of a list of scalars.
func (v *Value) Strings(r *Reporter) []string {
	items := v.Items(r)
	out := make([]string, 0, len(items))
	for _, it := range items {
		if it.Kind == Scalar && strings.TrimSpace(it.Text) != "" {
			out = append(out, it.Text)
			continue
		}
		it.String(r)
	}
	return out
}

// OneOf gives a scalar that must be one of words; another one is reported as
// an unknown what ("place", "look") with the nearest word.
func (v *Value) OneOf(r *Reporter, what string, words ...string) (string, bool) {
	if !v.is(r, Scalar) {
		return "", false
	}
	if contains(words, v.Text) {
		return v.Text, true
	}
	v.Report(r, CodeUnknownWord, suggest(v.Text, words), "unknown %s %q", what, v.Text)
	return "", false
}

// Float gives a finite decimal number, unquoted, without leading zeros,
// underscores, hexadecimal, infinity or not-a-number.
func (v *Value) Float(r *Reporter) float64 {
	if !v.is(r, Scalar) {
		return 0
	}
	x, err := strconv.ParseFloat(v.Text, 64)
	if v.Quoted() || !decimal(v.Text) || err != nil || math.IsInf(x, 0) {
		v.Report(r, CodeNotNumber, v.unquoteHint("write it as 24 or 24.5"), "%q is no number", v.Text)
		return 0
	}
	return x
}

// Int gives a whole number: 24.5 and 010 are refused, not bent.
func (v *Value) Int(r *Reporter) int {
	if !v.is(r, Scalar) {
		return 0
	}
	n, err := strconv.Atoi(v.Text)
	if v.Quoted() || !decimal(v.Text) || err != nil {
		v.Report(r, CodeNotInteger, v.unquoteHint("write it as 24"), "%q is no whole number", v.Text)
		return 0
	}
	return n
}

// Bool gives true or false, unquoted, in exactly these words.
func (v *Value) Bool(r *Reporter) bool {
	if !v.is(r, Scalar) {
		return false
	}
	if v.Quoted() || v.Text != "true" && v.Text != "false" {
		v.Report(r, CodeNotBool, v.unquoteHint("write true or false"), "%q is neither true nor false", v.Text)
	}
	return v.Text == "true" && !v.Quoted()
}

func (v *Value) unquoteHint(otherwise string) string {
	if v.Style == SingleQuoted || v.Style == DoubleQuoted {
		return "write it without quotes"
	}
	return otherwise
}

// decimal accepts -12, 0.5, .5, 5. and 1e-3, and nothing with a leading zero.
func decimal(s string) bool {
	s = strings.TrimLeft(s, "+-")
	if len(s) > 1 && s[0] == '0' && s[1] >= '0' && s[1] <= '9' {
		return false
	}
	return s != "" && strings.Trim(s, "0123456789.eE+-") == ""
}

func contains(words []string, w string) bool {
	for _, c := range words {
		if c == w {
			return true
		}
	}
	return false
}

// suggest is the hint for a word that is not in a closed list.
func suggest(word string, words []string) string {
	if near, ok := Nearest(word, words); ok {
		return "did you mean " + near + "?"
	}
	const shown = 12
	if len(words) > shown {
		return "one of " + strings.Join(words[:shown], ", ") + ", ..."
	}
	return "one of " + strings.Join(words, ", ")
}
