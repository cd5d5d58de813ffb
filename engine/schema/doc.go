// Package schema holds the JSON Schemas (draft 2020-12) of everything that
// stepdown reads and writes, so that editors complete and check trees with
// them and programs check what they get.
//
//	text, err := schema.Text("tree")
//
// The files beside this one give the structure; the closed vocabularies (looks,
// terminals, faults …) are put in from package house, so that they cannot
// differ.
//
// May import: house, quantity, source.
package schema
