// Package paragraph breaks text into lines that fit a width, counted in the
// cells of a terminal.
//
//	paragraph.Lines("Read it before it lands anywhere.", "  ! ", "    ", 80)
//
// May import: nothing under engine/.
package paragraph
