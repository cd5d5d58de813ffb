package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// SizeMax is the largest file read, in bytes.
const SizeMax = 1 << 20

// Parse reads one YAML document strictly: UTF-8 of at most SizeMax bytes, no
// control characters, one document, no duplicate keys, anchors, aliases, merge
// keys or tags, at most depthMax deep. What is wrong goes to r, as much of it
// at once as can be found; nil means nothing usable was read. Words that other
// YAML readers turn into booleans (Y, N, on, off, yes, no) are plain text.
func Parse(name string, data []byte, r *Reporter) *Value {
	if len(data) > SizeMax {
		r.Add(Pos{File: name}, CodeTooBig, "split the file", "the file has %d bytes, the most is %d", len(data), SizeMax)
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	r.AddFile(name, data)
	if !checkText(name, data, r) {
		return nil
	}
	doc := decode(name, data, r)
	if doc == nil {
		return nil
	}
	w := walker{name: name, lines: r.files[name], r: r}
	return w.value(doc, 0)
}

// checkText reports bytes that are no UTF-8 and characters no data file needs.
func checkText(name string, data []byte, r *Reporter) bool {
	before, line, col := r.Len(), 1, 1
	const reported = 20
	for i := 0; i < len(data) && r.Len()-before < reported; {
		c, n := utf8.DecodeRune(data[i:])
		pos := Pos{name, line, col}
		switch {
		case c == utf8.RuneError && n == 1:
			r.Add(pos, CodeNotUTF8, "save the file as UTF-8", "byte 0x%02x is not UTF-8", data[i])
		case c == '\n':
			line, col = line+1, 0
		case c == '\t' || c == '\r' && i+1 < len(data) && data[i+1] == '\n':
		case unsafeRune(c):
			r.Add(pos, CodeControl, "remove the character", "control character U+%04X", c)
		}
		i += n
		col++
	}
	return r.Len() == before
}

// decode gives the root node of the only document.
func decode(name string, data []byte, r *Reporter) *yaml.Node {
	d := yaml.NewDecoder(bytes.NewReader(data))
	doc, err := next(d)
	switch {
	case errors.Is(err, io.EOF):
		r.Add(Pos{name, 1, 1}, CodeEmptyFile, "", "the file is empty")
		return nil
	case err != nil:
		syntax(name, data, err, r)
		return nil
	}
	second, err := next(d)
	switch {
	case err == nil:
		r.Add(Pos{name, max(second.Line, 1), 1}, CodeDocuments, "keep one document in a file", "a second document starts here")
	case !errors.Is(err, io.EOF):
		syntax(name, data, err, r)
		return nil
	}
	if len(doc.Content) != 1 {
		return nil
	}
	return doc.Content[0]
}

// next decodes one document. The library is archived, so a panic of its own on
// a hostile file is taken as a refusal.
func next(d *yaml.Decoder) (n *yaml.Node, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("yaml: %v", p)
		}
	}()
	n = new(yaml.Node)
	err = d.Decode(n)
	return n, err
}

// syntax reports the library's error at the line it names.
func syntax(name string, data []byte, err error, r *Reporter) {
	text := strings.TrimPrefix(err.Error(), "yaml: ")
	line := 1
	if rest, ok := strings.CutPrefix(text, "line "); ok {
		if num, after, ok := strings.Cut(rest, ": "); ok {
			if n, err := strconv.Atoi(num); err == nil {
				line, text = n, after
			}
		}
	}
	pos := Pos{name, line, 1}
	src := r.line(pos)
	pos.Col = 1 + len(src) - len(strings.TrimLeft(src, " \t"))
	r.Add(pos, CodeSyntax, "", "%s", text)
}
