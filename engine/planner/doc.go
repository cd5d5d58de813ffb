// Package planner takes a house from the state it is in to the state a probe
// needs, one action at a time, in a safe order.
//
// Everything about order and safety lives here: who may touch what, what is
// locked out before a cover comes off, what must be proven dead before a hand
// goes in, when an acknowledgement lapses. Whoever asks for a probe (a tree, a
// drill, a rewiring check) says only what the probe needs and calls Next until
// it answers Ready. Each action carries the state after it, which the caller
// takes over once the action is done, acknowledged or answered:
//
//	s := planner.Start()
//	for {
//		a := planner.Next(s, goal, house.Tech, facts)
//		if a.Kind == planner.Ready || a.Kind == planner.Refuse {
//			break
//		}
//		s = a.After
//	}
//
// A goal may be changed, given up or resumed between any two actions: Next
// looks only at the state, never at how it came about. The probe is made in
// the setup of the state at Ready. That is the goal's setup, except where
// safety asks for less: ohms are read with every feed locked out and nothing
// called; control readings at the outdoor strip with the outdoor disconnect
// locked out; a cover nobody works behind is closed before its cabinet is on.
//
// May import: house, caution, quantity.
package planner
