package session

import (
	"slices"
	"testing"

	"stepdown/engine/house"
)

// A card touches nothing: no cover, no batteries, no meter where nobody said
// there is one, no screw behind a face.
func TestCardTouchesNothing(t *testing.T) {
	c := begin(t, Opening{Audience: house.Homeowner, Equipment: "cool-gas", Complaint: "not cooling"})
	c.b.Guide = leads{}
	f := c.b.finding(c.s, house.Finding(house.None.String()), []house.Fault{house.None}, Explanation{})
	if f.Again != nil {
		t.Fatalf("a card before the complaint is known: %v", f.Again)
	}
	c.answer("emergency", "no").ready()
	got := c.b.card(c.s)
	for _, want := range []house.Look{house.Display, house.OutdoorUnit, house.Air} {
		if !slices.Contains(got, want.Question()) {
			t.Errorf("not on the card: %s", want)
		}
	}
	for _, never := range []house.Look{house.BatteriesNew, house.ContactorLook, house.FuseLook} {
		if slices.Contains(got, never.Question()) {
			t.Errorf("on the card: %s", never)
		}
	}
}
