// Package diagram is a tree as a picture for those who write trees: every step
// once, in an order in which all ways lead down, with where each outcome goes.
//
//	d := diagram.Of(library.Trees[house.NoCooling])
//	err := d.SVG(file)
//	fmt.Print(d.Text(diagram.Unicode))
//
// The text fits 80 columns, or the screen where that is narrower. The SVG is one
// file that asks for nothing, light and dark, and says in words what it shows.
//
// May import: tree, house.
package diagram
