package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Limits of a file people write by hand: its size in bytes and the length of a
// line in runes. The second keeps work on one line small.
const (
	SizeMax = 1 << 20
	LineMax = 2000
)

// Parse reads one YAML document strictly: UTF-8 of at most SizeMax bytes, no
// line over LineMax runes, no control characters, one document, no duplicate keys, anchors, aliases, merge
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
	root := w.value(doc, 0)
	if w.deep {
		return nil
	}
	return root
}

// checkText reports bytes that are no UTF-8, characters no data file needs and
// lines too long to be written by hand.
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
		case col == LineMax+1:
			r.Add(pos, CodeLongLine, "break the line", "the line is longer than %d characters", LineMax)
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
