// Package circuit is the physics of the 24-volt control circuit and the house
// around it: what a meter reads and a person sees, in any setup, with any fault.
//
// A Catalog of Equipment is loaded from files. A Draw is one concrete house: a
// number for every value, an option for every choice. A Bench is that house's
// network, factorised once. A House is the bench with faults in it; it is put in
// a setup and answers probes:
//
//	h, err := circuit.NewHouse(catalog.Equipment(house.CoolGas).Nominal(), house.OpenY)
//	r, err := h.Read(setup, house.Volts(house.Y, house.C, house.AtIndoor))
//	a, err := h.Look(setup, house.OutdoorUnit)
//
// The network is solved as phasors at 60 Hz, and again at DC for ohms. What
// moves by itself (armatures, the fuse, the thermostat's supply) is followed to
// a steady state, or to a chatter that names its armature. Many faults and
// setups on one house cost one factorisation and a low-rank update each, and no
// allocation.
//
// May import: house, quantity, source.
package circuit
