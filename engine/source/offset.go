package source

import (
	"strings"
	"unicode/utf8"
)

func runeLen(s string) int { return utf8.RuneCountInString(s) }

// At gives the place in the file of the rune at offset (in runes, from 0) of a
// scalar's Text; offset may be one past the end. It is exact for a plain or
// quoted scalar on one line and for a | block. For a folded or escaped scalar,
// where text and source part company, ok is false.
func (v *Value) At(offset int) (pos Pos, ok bool) {
	if v == nil || v.Kind != Scalar || offset < 0 || offset > runeLen(v.Text) {
		return Pos{}, false
	}
	switch v.Style {
	case Plain:
		return v.atPlain(offset)
	case SingleQuoted, DoubleQuoted:
		return v.atQuoted(offset)
	case Literal:
		return v.atLiteral(offset)
	}
	return Pos{}, false
}

// rest is the source line from the start of the value on.
func (v *Value) rest() ([]rune, bool) {
	if v.Pos.Line < 1 || v.Pos.Line > len(v.lines) {
		return nil, false
	}
	runes := []rune(v.lines[v.Pos.Line-1])
	if v.Pos.Col < 1 || v.Pos.Col > len(runes)+1 {
		return nil, false
	}
	return runes[v.Pos.Col-1:], true
}

func (v *Value) along(runes int) Pos {
	return Pos{v.Pos.File, v.Pos.Line, v.Pos.Col + runes}
}

func (v *Value) atPlain(offset int) (Pos, bool) {
	rest, ok := v.rest()
	if !ok || !strings.HasPrefix(string(rest), v.Text) {
		return Pos{}, false
	}
	return v.along(offset), true
}

// atQuoted walks the source beside the text. Two single quotes stand for one;
// a backslash in double quotes is an escape, which is refused.
func (v *Value) atQuoted(offset int) (Pos, bool) {
	rest, ok := v.rest()
	quote := '\''
	if v.Style == DoubleQuoted {
		quote = '"'
	}
	if !ok || len(rest) == 0 || rest[0] != quote {
		return Pos{}, false
	}
	at, found := 1, -1
	for i, c := range []rune(v.Text) {
		if i == offset {
			found = at
		}
		if at >= len(rest) || rest[at] != c || quote == '"' && c == '\\' {
			return Pos{}, false
		}
		at++
		if quote == '\'' && c == quote {
			at++
		}
	}
	if found < 0 {
		found = at
	}
	if at >= len(rest) || rest[at] != quote {
		return Pos{}, false
	}
	return v.along(found), true
}

// atLiteral finds the block's line that holds offset. The indent is what the
// source line has more than the text's line, and must be spaces.
func (v *Value) atLiteral(offset int) (Pos, bool) {
	for i, text := range strings.Split(v.Text, "\n") {
		n := runeLen(text)
		if offset > n {
			offset -= n + 1
			continue
		}
		at := v.Pos.Line + i // the line after the | is index Pos.Line
		if at >= len(v.lines) {
			return Pos{}, false
		}
		indent, found := strings.CutSuffix(v.lines[at], text)
		if !found || strings.Trim(indent, " ") != "" {
			return Pos{}, false
		}
		return Pos{v.Pos.File, at + 1, len(indent) + offset + 1}, true
	}
	return Pos{}, false
}
