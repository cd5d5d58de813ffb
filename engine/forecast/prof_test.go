package forecast
import ("testing";"stepdown/engine/house")
func TestProf(t *testing.T) {
	c := catalog(t)
	e := c.Equipment(house.PumpCoolingValve)
	goals := Goals(e)
	f := New(c, Options{Draws: 8, Workers: 1})
	sym := house.DefaultSetup(); sym.Mode, sym.Calling = house.ModeCool, true
	s, err := f.Sheet(Kind{Equipment: e.ID, Symptom: sym})
	if err != nil { t.Fatal(err) }
	if _, err = s.Columns(nil, goals...); err != nil { t.Fatal(err) }
}
