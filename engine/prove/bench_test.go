package prove

import (
	"fmt"
	"math"
	"runtime"
	"testing"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

// slope reports how the cost grows from the first size on, as a power of the
// size: 1 is in proportion, 2 with the square; what is fixed makes it less.
type slope struct{ size, nanoseconds float64 }

func (s *slope) add(b *testing.B, size int) {
	ns := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
	b.ReportMetric(ns/float64(size), "ns/one")
	if s.size == 0 || s.size == float64(size) {
		s.size, s.nanoseconds = float64(size), ns
		return
	}
	b.ReportMetric(math.Log(ns/s.nanoseconds)/math.Log(float64(size)/s.size), "power")
}

// BenchmarkBranchesSteps proves the branches of a library of n steps.
func BenchmarkBranchesSteps(b *testing.B) {
	var s slope
	for _, n := range []int{100, 1000, 10_000} {
		lib := large(b, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				r := source.NewReporter()
				for _, tr := range lib.InOrder() {
					ProveBranches(tr, r)
				}
			}
			s.add(b, n)
		})
	}
}

// calls is the proof of calls about some complaints in some houses, the
// forecast worked out.
func calls(b *testing.B, o Options) *physics {
	b.Helper()
	o.Equipment, o.Workers = house.CoolGas, 1
	p := newPhysics(embedded(b), forecast.New(catalog(b), forecast.Options{Draws: 8, Workers: 1}), o)
	for _, s := range p.stages {
		if err := s.open(p.f); err != nil {
			b.Fatal(err)
		}
		s.draws = s.draws[1:] // the nominal house has more callers than the others
	}
	return p
}

func hold(b *testing.B, p *physics) *tally {
	b.Helper()
	var sum *tally
	for b.Loop() {
		var err error
		if sum, err = p.run(); err != nil {
			b.Fatal(err)
		}
	}
	return sum
}

// BenchmarkCallsSteps holds the calls of more and more trees; the number is of
// the steps such calls can come to.
func BenchmarkCallsSteps(b *testing.B) {
	var s slope
	all := []house.Complaint{house.NoCooling, house.NoHeat, house.FanDead, house.DarkDisplay, house.FanAlways, house.HeatAlways,
		house.OutdoorAlways, house.Chatter}
	for _, trees := range []int{2, 4, 8} {
		p := calls(b, Options{Complaints: all[:trees], Houses: 4})
		steps := 0
		for _, a := range p.stages[0].acts {
			steps += len(reachable(a.tree))
		}
		b.Run(fmt.Sprintf("%d-steps", steps), func(b *testing.B) {
			hold(b, p)
			s.add(b, steps)
		})
	}
}

// BenchmarkCallsFaults holds the calls of more and more faults.
func BenchmarkCallsFaults(b *testing.B) {
	var s slope
	p := calls(b, Options{Complaints: []house.Complaint{house.NoCooling}, Houses: 4})
	all := p.stages[0].faults
	for _, n := range []int{len(all) / 4, len(all) / 2, len(all)} {
		b.Run(fmt.Sprintf("%d-faults", n), func(b *testing.B) {
			p.stages[0].faults = nil
			for i := range n { // spread, as some cost more than others
				p.stages[0].faults = append(p.stages[0].faults, all[i*len(all)/n])
			}
			hold(b, p)
			s.add(b, n)
		})
	}
}

// BenchmarkCallsDraws holds the calls of more and more houses.
func BenchmarkCallsDraws(b *testing.B) {
	var s slope
	p := calls(b, Options{Complaints: []house.Complaint{house.NoCooling}, Houses: 33})
	all := p.stages[0].draws
	for _, n := range []int{8, 16, 32} {
		b.Run(fmt.Sprintf("%d-houses", n), func(b *testing.B) {
			p.stages[0].draws = all[:n]
			sum := hold(b, p)
			s.add(b, n)
			b.ReportMetric(float64(sum.Variants)*float64(b.N)/b.Elapsed().Minutes()/1e6, "Mvariants/min-a-core")
		})
	}
}

// BenchmarkMemory shows what a proof keeps once it has gone over 4, 16 and 64
// seeded houses beside the corners: the same, but for the houses' own values and
// the courses of calls, which grow to coursesMost.
func BenchmarkMemory(b *testing.B) {
	for _, draws := range []int{4, 16, 64} {
		b.Run(fmt.Sprintf("%d-draws", draws), func(b *testing.B) {
			var kept, most uint64
			for b.Loop() {
				o := Options{Complaints: []house.Complaint{house.NoCooling}, Equipment: house.CoolGas, Draws: draws, Seed: 1, Workers: 2}
				o.Progress = func(done, total int) {
					var m runtime.MemStats
					if runtime.ReadMemStats(&m); m.HeapAlloc > most {
						most = m.HeapAlloc
					}
					if done == total {
						runtime.GC()
						runtime.ReadMemStats(&m)
						kept = m.HeapAlloc
					}
				}
				proven(b, o)
			}
			b.ReportMetric(float64(kept)/1e6, "MB-kept")
			b.ReportMetric(float64(most)/1e6, "MB-at-most")
		})
	}
}

// BenchmarkLibrary proves everything embedded, as the command does, on two
// workers, and prints the aims beside it: nothing fails on a slow machine.
func BenchmarkLibrary(b *testing.B) {
	o := Options{Draws: 8, Seed: 1, Workers: 2}
	o.Prices, o.Weights = prices(b)
	book, cat := embedded(b), catalog(b)
	for b.Loop() {
		f := forecast.New(cat, forecast.Options{Seed: 1, Workers: 2})
		r, err := Prove(&session.Book{Trees: book.Trees, Cautions: book.Cautions}, f, nil, o)
		if err != nil {
			b.Fatal(err)
		}
		b.Logf("%v; the aims are two minutes on two cores that do nothing else, and 10 Mvariants/min", b.Elapsed())
		b.ReportMetric(float64(r.Physics.Variants)/1e6, "Mvariants")
		b.ReportMetric(float64(r.Physics.Variants)/1e6/b.Elapsed().Minutes()*float64(b.N), "Mvariants/min")
	}
}
