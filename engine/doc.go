// Package engine holds no code of its own: each package below it is one part of
// stepdown, and the test here holds them to the map in DEVELOPERS.md.
package engine
