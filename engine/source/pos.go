package source

import "strconv"

// Pos is a place in a file: Line and Col count from 1, Col in runes. The zero
// Pos is no place; a Pos with a File alone is the whole file.
type Pos struct {
	File string
	Line int
	Col  int
}

// String gives file:line:col, or the file alone where no line is known.
func (p Pos) String() string {
	if p.Line <= 0 {
		return p.File
	}
	return p.File + ":" + strconv.Itoa(p.Line) + ":" + strconv.Itoa(max(p.Col, 1))
}

// Before orders positions by file, line and column.
func (p Pos) Before(q Pos) bool {
	switch {
	case p.File != q.File:
		return p.File < q.File
	case p.Line != q.Line:
		return p.Line < q.Line
	}
	return p.Col < q.Col
}
