// Package worksheet prints what the circuit model says about a healthy house:
// what every terminal should read in a setup, and what each call loads the
// transformer with.
//
//	sheet, err := worksheet.Expect(equipment, setup, worksheet.Options{Draws: 40, Seed: 1})
//	fmt.Print(sheet.Text())
//
// May import: circuit, house, quantity.
package worksheet
