// Package tally counts somebody's own calls: what was found, how many readings
// and minutes a call took, and how often a thermostat's verdict held. It reads
// journals as they are, without replaying them, so ten thousand calls cost
// about what reading their files once costs.
//
//	var t tally.Tally
//	t.Add(tally.Of("k3", call))
//	err := t.Text(w, true)
//
// May import: journal, session, house, source.
package tally
