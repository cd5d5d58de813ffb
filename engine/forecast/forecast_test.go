package forecast

import (
	"os"
	"testing"
	"time"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

func catalog(t testing.TB) *circuit.Catalog {
	t.Helper()
	c, problems := circuit.Load(os.DirFS("../../trees/equipment"))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return c
}

func TestScratch(t *testing.T) {
	c := catalog(t)
	for _, id := range c.IDs() {
		e := c.Equipment(id)
		goals := Goals(e)
		f := New(c, Options{})
		t0 := time.Now()
		sym := house.DefaultSetup()
		sym.Mode, sym.Calling = house.ModeCool, true
		if e.Calls.Cool == 0 {
			sym.Mode = house.ModeHeat
		}
		s, err := f.Sheet(Kind{Equipment: id, Symptom: sym})
		if err != nil {
			t.Fatal(err)
		}
		t1 := time.Now()
		_, err = s.Columns(nil, goals[:5]...)
		if err != nil {
			t.Fatal(err)
		}
		t2 := time.Now()
		cols, err := s.Columns(nil, goals...)
		if err != nil {
			t.Fatal(err)
		}
		setups := map[house.Setup]bool{}
		pieces, empty := 0, 0
		for _, c := range cols {
			setups[c.Goal.Setup] = true
			for r := range c.rows { pieces += len(c.rows[r]) }
			if len(c.rows[0]) == 0 {
				empty++
				t.Log("empty", c.Goal.Probe, c.Goal.Setup)
			}
		}
		t.Log(id, "rows", len(s.Rows()), "goals", len(goals), "setups", len(setups), "pieces", pieces, "empty", empty, "sheet", t1.Sub(t0), "five", t2.Sub(t1), "all", time.Since(t2))
	}
}
