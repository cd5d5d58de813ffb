// Package letter is what the letters of a thermostat base mean: what each does,
// where its conductor goes, when it is live and which colours are usual.
//
//	card, ok := letter.Of(house.Y)
//	fmt.Print(card.Text(letter.Unicode))
//
// No published table of letters or of colours was found: all of it is common
// practice, and a colour is a hint that decides nothing.
//
// May import: house.
package letter
