// Package house holds the closed vocabulary of a 24-volt control circuit and
// the house around it: terminals and places, equipment, the setup a probe
// needs, the probes themselves, who may make them, faults and their families,
// findings and complaints.
//
// Every other package takes its words from here; no list is written twice. A
// word that is not listed is an error that names the nearest one.
//
//	p := house.Volts(house.R, house.C, house.AtThermostat)
//	s := house.DefaultSetup().With(house.CoolCall)
//	fmt.Println(p, s)
//
// May import: source, quantity.
package house
