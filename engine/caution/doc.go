// Package caution holds what must be read, and answered with a typed word,
// before an act that can hurt someone: opening a cover, working near live
// parts, putting a lead on line voltage.
//
// A caution is a YAML file named after its id:
//
//	caution: lockout
//	title: Before a cover comes off
//	word: locked
//	text:
//	  - Switch off every feed of this cabinet.
//	sources:
//	  - 29 CFR 1910.147(d)(1)-(6)
//
// The text is short lines, read aloud as they stand. The word is one ordinary
// word that fits the act, so that nobody passes by leaning on a key.
//
//	set, problems := caution.Load(fsys)
//	c, ok := set.Get("lockout")
//
// May import: source.
package caution
