package planner

import (
	"testing"

	"stepdown/engine/house"
)

func BenchmarkNext(b *testing.B) {
	g := Goal{Setup: coolCall, Probe: house.Volts(house.Y, house.C, house.AtIndoor)}
	s := Start()
	s.StatUnknown = false
	b.ReportAllocs()
	for b.Loop() {
		Next(s, g, house.Tech, coolGas)
	}
}
