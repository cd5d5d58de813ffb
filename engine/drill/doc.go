// Package drill is a house with a hidden fault that answers probes, so that
// somebody can practise finding it.
//
//	g, err := drill.New(equipment.Nominal(), house.OpenY, symptom)
//	g.Set(house.CoolCall)
//	answer, err := g.Look(house.OutdoorUnit)
//	verdict := g.Name(house.OpenY)
//
// The house keeps its history: a short that a call lets loose blows the fuse
// and it stays blown. What would have been unsafe on a real house is refused
// or counted as a slip.
//
// A Coach gives hints, and at the end the best path beside the one taken; a
// Score is a sum that anybody can check. Lessons lead from what eyes find to
// what only several readings settle.
//
// May import: circuit, suspects, forecast, house, quantity.
package drill
