package source

// Kind is what a Value is.
type Kind uint8

// The kinds of a Value.
const (
	Null Kind = iota
	Scalar
	List
	Map
)

// String names the kind as messages do.
func (k Kind) String() string {
	return [...]string{"nothing", "a value", "a list", "a map"}[k]
}

// Style is how a scalar was written.
type Style uint8

// The styles of a scalar.
const (
	Plain Style = iota
	SingleQuoted
	DoubleQuoted
	Literal // after |
	Folded  // after >
)

// Value is one node of a file: a scalar, a list, a map, or nothing (an empty
// value, ~ or null). Text is a scalar's content after YAML's own unquoting.
type Value struct {
	Kind  Kind
	Pos   Pos
	Text  string
	Style Style

	entries []Entry
	items   []*Value
	lines   []string // the whole file, for At
}

// Entry is one key of a map with its value, in the order of the file.
type Entry struct {
	Key   *Value // a Scalar
	Value *Value
}

// Quoted says whether a scalar was written in quotes or as a block, so that a
// word such as true or 24 is text by the author's will.
func (v *Value) Quoted() bool { return v != nil && v.Style != Plain }

// Width is the length of a one-line scalar in the source, for a caret; 1 for
// everything else.
func (v *Value) Width() int {
	if v == nil || v.Kind != Scalar || v.Style == Literal || v.Style == Folded {
		return 1
	}
	if end, ok := v.At(runeLen(v.Text)); ok {
		quotes := 0
		if v.Quoted() {
			quotes = 1
		}
		return max(1, end.Col-v.Pos.Col+quotes)
	}
	return 1
}

// Report adds a problem at the value, with the caret under all of it. On a nil
// Value it does nothing: whatever made it nil was reported.
func (v *Value) Report(r *Reporter, code, hint, format string, args ...any) {
	if v == nil {
		return
	}
	r.AddSpan(v.Pos, v.Width(), code, hint, format, args...)
}

// ReportAt adds a problem inside a scalar, width runes wide from the rune at
// offset of its Text on; where At cannot place it, at the whole value.
func (v *Value) ReportAt(r *Reporter, offset, width int, code, hint, format string, args ...any) {
	if pos, ok := v.At(offset); ok {
		r.AddSpan(pos, width, code, hint, format, args...)
		return
	}
	v.Report(r, code, hint, format, args...)
}
