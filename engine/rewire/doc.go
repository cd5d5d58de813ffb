// Package rewire tells which wire goes where when a thermostat is changed, and
// proves it in the circuit model before the power comes on.
//
// A Case is what people know: each conductor with the letter it had on the old
// base, its letter at the equipment where somebody looked, its colour, what was
// read, and the letters of the new base. Solve answers it with one of three: a
// landing that every modelled call bears out, the one question that is open, or
// what stands in the way. Evidence counts in this order: a reading, the screw at
// the equipment, the old base's letter; a colour is a hint and decides nothing.
// A conductor from a B screw is read before it lands anywhere.
//
//	c, problems := rewire.Parse("swap.yaml", data)
//	report, err := rewire.New(catalog).Solve(c)
//	fmt.Print(report.Text())
//
// Check goes the other way: what a landing somebody already made does in each
// mode, what is wrong with it and what it may have blown.
//
// May import: circuit, letter, planner, caution, house, quantity, source.
package rewire
