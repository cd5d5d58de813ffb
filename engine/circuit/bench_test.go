package circuit

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// BenchmarkNewBench builds, factorises and reduces one house, at AC and on ohms.
func BenchmarkNewBench(b *testing.B) {
	e := loadAll(b).Equipment(house.PumpCoolingValve)
	d := e.Nominal()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NewBench(d); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFault is one fault on a factorised house: as an update, as the
// whole settled House with its refined answer, and by factorising again.
func BenchmarkFault(b *testing.B) {
	e := loadAll(b).Equipment(house.PumpCoolingValve)
	bench, err := NewBench(e.Nominal())
	if err != nil {
		b.Fatal(err)
	}
	h, err := bench.House(house.ShortYC)
	if err != nil {
		b.Fatal(err)
	}
	y := append([]complex128(nil), bench.ac.base...)
	for _, o := range h.overrides {
		y[o.element] = o.ac
	}
	port := pair(bench.plan.terminal(house.Y, house.AtIndoor), ground)
	for name, u := range map[string]*update{"update": {}, "refactor": {forced: true}} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := u.to(bench.ac, y); err != nil {
					b.Fatal(err)
				}
				_ = u.voltage(port)
			}
		})
	}
	b.Run("settled", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			h.forget()
			if err := h.settle(cool); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkEveryFault puts every fault into every equipment on one draw, plays
// a call and reads every control terminal; then ngspice does the same from
// exported decks in one process. Divide one by the other.
func BenchmarkEveryFault(b *testing.B) {
	cat := loadAll(b)
	var benches []*Bench
	for _, id := range cat.IDs() {
		bench, err := NewBench(cat.Equipment(id).Nominal())
		if err != nil {
			b.Fatal(err)
		}
		benches = append(benches, bench)
	}
	each := func(do func(h *House, s house.Setup)) {
		for _, bench := range benches {
			h, err := bench.House(house.None)
			if err != nil {
				b.Fatal(err)
			}
			e := bench.plan.eq
			for _, f := range e.Faults() {
				if err := h.Become(f); err != nil {
					b.Fatal(err)
				}
				do(h, threeSetups(e)[0])
			}
		}
	}
	probes := map[*Equipment][]house.Probe{}
	each(func(h *House, s house.Setup) {
		if probes[h.bench.plan.eq] == nil {
			probes[h.bench.plan.eq] = everyTerminal(h, quantity.ACVolts, false)
		}
	})
	b.Run("own", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			each(func(h *House, s house.Setup) {
				if err := h.Play(s); err != nil {
					b.Fatal(err)
				}
				for _, p := range probes[h.bench.plan.eq] {
					if _, err := h.Exact(s, p); err != nil {
						continue // a terminal this fault's house lacks
					}
				}
			})
		}
	})
	b.Run("ngspice", func(b *testing.B) {
		path := ngspice(b)
		dir := b.TempDir()
		var driver bytes.Buffer
		fmt.Fprint(&driver, "* driver\nR1 a 0 1\n.control\n")
		i := 0
		each(func(h *House, s house.Setup) {
			d, err := h.deck(s, everyTerminal(h, quantity.ACVolts, false))
			if err != nil {
				b.Fatal(err)
			}
			var text bytes.Buffer
			d.network(&text, "deck")
			fmt.Fprintln(&text, ".end")
			file := filepath.Join(dir, fmt.Sprintf("%d.cir", i))
			if err := os.WriteFile(file, text.Bytes(), 0o600); err != nil {
				b.Fatal(err)
			}
			fmt.Fprintf(&driver, "source %s\n", file)
			d.commands(&driver)
			fmt.Fprintln(&driver, "remcirc")
			i++
		})
		fmt.Fprint(&driver, "quit 0\n.endc\n.end\n")
		main := filepath.Join(dir, "driver.cir")
		if err := os.WriteFile(main, driver.Bytes(), 0o600); err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			if out, err := exec.Command(path, "-b", main).CombinedOutput(); err != nil {
				b.Fatalf("%v: %s", err, out[:min(len(out), 300)])
			}
		}
	})
}
