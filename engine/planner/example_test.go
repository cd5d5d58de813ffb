package planner_test

import (
	"fmt"

	"stepdown/engine/house"
	"stepdown/engine/planner"
)

func Example() {
	s := planner.Start()
	goal := planner.Goal{
		Setup: house.DefaultSetup().With(house.CoolCall),
		Probe: house.Volts(house.Y, house.C, house.AtOutdoor),
	}
	facts := house.Facts{Equipment: house.CoolGas}
	for {
		a := planner.Next(s, goal, house.Tech, facts)
		if a.Kind == planner.Ready || a.Kind == planner.Refuse {
			break
		}
		fmt.Println(a.ID)
		s = a.After
	}
	// Output:
	// lockout
	// set-thermostat
	// lock-out-outdoor
	// try-controls-outdoor
	// open-cover-outdoor
	// live-dead-live-outdoor
	// discharge-outdoor
	// set-thermostat
	// control-power
}
