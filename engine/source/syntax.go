package source

import (
	"bytes"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"
)

// plainWords says the library's syntax errors in words about the line they
// stand at, with the usual mend.
var plainWords = []struct{ library, message, hint string }{
	{"mapping values are not allowed", "a key is not expected here", "put text that holds a colon and a space in quotes, or check the indent"},
	{"did not find expected key", "this line does not fit the ones above it", "check its indent and that brackets and quotes above are closed"},
	{"did not find expected '-' indicator", "this line does not fit the list above it", "start it with - at the indent of the list"},
	{"could not find expected ':'", "a key without its colon", "write key: value"},
	{"did not find expected ',' or ']'", "a [ list is not closed", "close it with ]"},
	{"did not find expected ',' or '}'", "a { map is not closed", "close it with }"},
	{"did not find expected node content", "a value is missing or a bracket is not closed", "give the value, or close the bracket"},
	{"found unexpected end of stream", "a quote is not closed", "close it on the same line"},
	{"found unexpected document indicator", "a quote is not closed", "close it on the same line"},
	{"did not find expected <document start>", "text after the end of the document", "keep one document in a file, and check the brackets"},
	{"cannot start any token", "text cannot start with this character", "put the text in quotes"},
	{"found a tab character", "a tab in the indent", "indent with spaces"},
	{"unknown escape character", "unknown escape after \\ in double quotes", "use single quotes, or double the \\"},
	{"exceeded max depth", "nested too deep", "flatten it"},
}

// syntax reports the library's error where the file first goes wrong.
func syntax(name string, data []byte, err error, r *Reporter) {
	line, text := libraryLine(err)
	if alias, ok := strings.CutPrefix(text, "unknown anchor '"); ok {
		r.Add(find(name, r.files[name], "*"+strings.TrimSuffix(alias, "' referenced")), CodeAlias,
			"write the value out, or put the text in quotes", "aliases are not read, and text starting with * is one")
		return
	}
	if found := failingLine(data); found > 0 {
		line = found
	}
	pos := Pos{name, line, 1}
	src := r.line(pos)
	pos.Col = 1 + len(src) - len(strings.TrimLeft(src, " "))
	message, hint := text, ""
	for _, w := range plainWords {
		if strings.Contains(text, w.library) {
			message, hint = w.message, w.hint
			break
		}
	}
	if rest := src[pos.Col-1:]; strings.HasPrefix(rest, "\t") {
		message, hint = "a tab in the indent", "indent with spaces"
	} else if strings.Contains(text, "cannot start any token") {
		pos.Col += startingAt(rest)
	}
	r.Add(pos, CodeSyntax, hint, "%s", message)
}

// libraryLine takes "yaml: line N: text" apart; the line is 1 where none is
// named.
func libraryLine(err error) (line int, text string) {
	text = strings.TrimPrefix(err.Error(), "yaml: ")
	if rest, ok := strings.CutPrefix(text, "line "); ok {
		if num, after, ok := strings.Cut(rest, ": "); ok {
			if n, err := strconv.Atoi(num); err == nil && n > 0 {
				return n, after
			}
		}
	}
	return 1, text
}

var badStart = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile("(?:^|[:,?-] +|[\\[{] *)[@`%\t]")
})

// startingAt gives the offset in runes of the character that starts no value.
func startingAt(line string) int {
	at := badStart().FindStringIndex(line)
	if at == nil {
		return 0
	}
	return runeLen(line[:at[1]]) - 1
}

// find gives the first place of a text in the lines, line 1 where there is none.
func find(name string, lines []string, text string) Pos {
	for i, l := range lines {
		if before, _, ok := strings.Cut(l, text); ok {
			return Pos{name, i + 1, runeLen(before) + 1}
		}
	}
	return Pos{name, 1, 1}
}

// Limits of the search for the failing line: the file is parsed some twenty
// times, and looked ahead in for the end of a bracket over several lines.
const (
	searchBytesMax = 64 << 10
	lookAhead      = 40
)

// failingLine gives the line at which a file stops being YAML: the one after
// the longest sound beginning. The library names the start of the map or list
// around it instead, which may be pages above. It is 0 for a large file.
func failingLine(data []byte) int {
	if len(data) > searchBytesMax {
		return 0
	}
	ends := []int{0}
	for i, c := range data {
		if c == '\n' || i == len(data)-1 {
			ends = append(ends, i+1)
		}
	}
	sound, broken := 0, len(ends)-1
	for sound+1 < broken {
		if mid := (sound + broken) / 2; parses(data[:ends[mid]]) {
			sound = mid
		} else {
			broken = mid
		}
	}
	// A bracket over several lines is broken until it closes.
	for k := sound + 1; k < len(ends) && k <= sound+lookAhead; k++ {
		if parses(data[:ends[k]]) {
			sound = k
		}
	}
	return min(sound+1, len(ends)-1)
}

// parses says whether the library reads all of data.
func parses(data []byte) bool {
	d := yaml.NewDecoder(bytes.NewReader(data))
	for {
		if _, err := next(d); err != nil {
			return errors.Is(err, io.EOF)
		}
	}
}
