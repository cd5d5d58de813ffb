// Package quantity holds what a meter says: volts, ohms and amps, read as
// people type them and printed as people read them, and the tolerance of a
// reading.
//
//	r, err := quantity.Parse("about 26.8 vac", quantity.ACVolts)
//	fmt.Println(quantity.Format(r, quantity.ACVolts)) // 26.8 V
//
// May import: nothing under engine/.
package quantity
