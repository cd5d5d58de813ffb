package circuit_test

import (
	"fmt"
	"os"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

func Example() {
	catalog, problems := circuit.Load(os.DirFS("../../trees/equipment"))
	if err := problems.Err(); err != nil {
		fmt.Println(err)
		return
	}
	h, err := circuit.NewHouse(catalog.Equipment(house.CoolGas).Nominal(), house.OpenYOutdoor)
	if err != nil {
		fmt.Println(err)
		return
	}
	s := house.DefaultSetup().With(house.CoolCall)
	s.CoverIndoor, s.CoverOutdoor = true, true
	for _, at := range []house.Place{house.AtIndoor, house.AtOutdoor} {
		r, err := h.Read(s, house.Volts(house.Y, house.C, at))
		fmt.Printf("Y–C at %s: %.1f V %v\n", at, r.Value, err)
	}
	a, _ := h.Look(s, house.OutdoorUnit)
	fmt.Println("outdoor unit:", house.OutdoorUnit.AnswerID(a))
	// Output:
	// Y–C at indoor: 26.7 V <nil>
	// Y–C at outdoor: 0.0 V <nil>
	// outdoor unit: stopped
}
