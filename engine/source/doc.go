// Package source knows where a piece of text came from and how to complain
// about it: positions, problems with the offending line and a caret under the
// word, and the strict subset of YAML every data file of the project is
// written in. No other package reads YAML.
//
//	r := source.NewReporter()
//	v := source.Parse("demo.yaml", data, r)
//	f := v.Fields(r, "title", "volts")
//	title, volts := f.Need("title").String(r), f.Need("volts").Float(r)
//	if err := r.Err(); err != nil { … }
//
// Every accessor works on a nil Value and then reports nothing, so a loader
// reads straight through a file and asks for all its problems at the end.
//
// May import: nothing under engine/.
package source
