package suspects

import (
	"fmt"
	"os"
	"testing"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// noCooling is a call about a heat pump, some readings in.
func noCooling(b *testing.B, fault house.Fault, readings int) (*Call, Seen) {
	cat := catalog(b)
	e := New(forecast.New(cat, forecast.Options{Seed: 1, SlowFuse: forecast.SlowFuseUsual}), weights(b))
	bench, err := circuit.NewBench(cat.Equipment(house.PumpCoolingValve).Nominal())
	if err != nil {
		b.Fatal(err)
	}
	d := newDwelling(b, bench, complaints[0].symptoms[0].Setup, fault)
	call, err := e.Open(Case{Facts: d.house.Draw().Facts(), Symptoms: complaints[0].symptoms})
	if err != nil {
		b.Fatal(err)
	}
	var last Seen
	for n := 0; n < readings; {
		p, ok, err := call.Next(nil, house.DefaultSetup(), false)
		if err != nil || !ok {
			b.Fatal("no probe left", err)
		}
		s, ok := d.probe(p.Goal, p.Rested)
		if !ok {
			b.Fatal("refused", p.Goal)
		}
		if _, err := call.Observe(s); err != nil {
			b.Fatal(err)
		}
		last = s
		n++
	}
	return call, last
}

// One reading weighed into every hypothesis, its column known.
func BenchmarkReRank(b *testing.B) {
	call, last := noCooling(b, house.PressureSwitchOpen, 3)
	columns := call.cols[len(call.cols)-1]
	b.ReportAllocs()
	b.ReportMetric(float64(len(call.hyps)), "faults")
	for b.Loop() {
		call.weigh(last, columns)
	}
}

// A retake weighs every reading of the call again.
func BenchmarkReplay(b *testing.B) {
	call, _ := noCooling(b, house.PressureSwitchOpen, 5)
	for b.Loop() {
		call.replay(-1)
	}
}

// The next probe, columns known, by how many readings are in: among fifty
// probes, and among all of the equipment's.
func BenchmarkNext(b *testing.B) {
	for _, among := range []int{50, 1000} {
		for _, n := range []int{0, 1, 3, 5} {
			b.Run(fmt.Sprintf("among-%d/after-%d", among, n), func(b *testing.B) {
				call, _ := noCooling(b, house.PressureSwitchOpen, n)
				known := map[forecast.Goal]bool{}
				allow := func(g forecast.Goal) bool {
					if len(known) < among {
						known[g] = true
					}
					return known[g]
				}
				if _, _, err := call.Next(allow, house.DefaultSetup(), false); err != nil {
					b.Fatal(err)
				}
				b.ReportAllocs()
				for b.Loop() {
					if _, _, err := call.Next(allow, house.DefaultSetup(), false); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(float64(len(call.picker.live)), "live")
				b.ReportMetric(float64(len(call.picker.tests)), "probes")
			})
		}
	}
}

func Example() {
	catalog, problems := circuit.Load(os.DirFS("../../trees/equipment"))
	weights, more := LoadWeights(os.DirFS("../../trees"), "weights.yaml")
	if len(problems)+len(more) > 0 {
		fmt.Println(problems, more)
		return
	}
	engine := New(forecast.New(catalog, forecast.Options{Draws: 8}), weights)
	call, err := engine.Open(Case{Facts: house.Facts{Equipment: house.CoolGas},
		Symptoms: []Symptom{look(house.Air, "room", "none", "warm").calling(house.ModeCool)}})
	if err != nil {
		fmt.Println(err)
		return
	}
	_, err = call.Observe(Seen{Probe: house.LookAt(house.PanelIndoor), Answer: 2, Setup: house.DefaultSetup()})
	for _, s := range call.Explain().Left {
		fmt.Println(s.Fault, err)
	}
	// Output: door-switch-open <nil>
}

// A probe sought that shows the one finding left by itself, beside two others at
// once, nothing of pairs known.
func BenchmarkProof(b *testing.B) {
	call, _ := noCooling(b, house.OpenY, 0)
	bench, err := circuit.NewBench(catalog(b).Equipment(house.PumpCoolingValve).Nominal())
	if err != nil {
		b.Fatal(err)
	}
	d := newDwelling(b, bench, complaints[0].symptoms[0].Setup, house.OpenY)
	at := house.DefaultSetup()
	for settled := false; !settled; {
		p, _, err := call.Next(nil, at, false)
		if err != nil {
			b.Fatal(err)
		}
		s, _ := d.probe(p.Goal, p.Rested)
		if _, err = call.Observe(s); err == nil {
			settled, err = call.Settled()
		}
		if err != nil {
			b.Fatal(err)
		}
		at = p.Goal.Setup
	}
	for b.Loop() {
		call.proofs, call.sifted, call.engine.joints = proofs{}, sifted{}, newJoints()
		if p, ok, err := call.Next(nil, at, false); !ok || err != nil || p.Retake {
			b.Fatal(p.Goal, ok, err)
		}
	}
}
