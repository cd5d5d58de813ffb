// Package report tells what a call came to, from its journal alone: who and
// where, the complaint, every probe with what it showed and what it ruled out,
// the cautions acknowledged, the finding and what to do. The same journal gives
// the same report, byte for byte.
//
//	r, err := report.Of(book, "k3", call, report.Options{Equipment: equipment})
//	err = r.HTML(w) // or Text, Markdown, JSON
//
// The HTML is one page that asks for nothing from anywhere: no script, no
// picture, no font. It draws the circuit as a ladder, generated from the
// equipment, with the readings on it and the failed part marked by shape and
// word.
//
// May import: journal, session, suspects, tree, circuit, house, quantity, source.
package report
