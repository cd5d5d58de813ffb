package circuit

import (
	"testing"

	"stepdown/engine/house"
)

// mutants are models with one thing wrong. Each must fail a signature or a hand
// deck, or neither would notice the same mistake in the real builder.
var mutants = []struct {
	name   string
	change func(*plan)
}{
	{"float switch moved to the other conductor", func(p *plan) {
		other := p.draw
		if other.Choice(FloatIn) == "R" {
			other.set(FloatIn, "Y")
		} else {
			other.set(FloatIn, "R")
		}
		if p.eq.has("float") {
			*p = *newPlan(other)
		}
	}},
	{"contactor coil dropped", dropPart("contactor")},
	{"fan relay dropped", dropPart("fan-relay")},
	{"reversing valve dropped", dropPart("reversing-valve")},
	{"sequencer dropped", dropPart("sequencer")},
	{"gas valve dropped", dropPart("gas-valve")},
	{"burner control's input dropped", dropPart("burner-control")},
	{"fan input dropped", dropPart("fan-input")},
	{"defrost control's load dropped", dropPart("defrost-control")},
	{"sensing input dropped", dropPart("sensing")},
	{"capacitance dropped", func(p *plan) {
		for i := range p.elements {
			if p.elements[i].farads {
				p.elements[i].ac = 0
			}
		}
	}},
	{"capacitance tenfold against R only", func(p *plan) {
		r := p.runs[0][p.eq.Hot(house.Y)]
		for i := range p.elements {
			e := &p.elements[i]
			if e.farads && (e.nodes[0] == r.farEnd || e.nodes[1] == r.farEnd) {
				e.ac *= 10
			}
		}
	}},
	{"Y and G exchanged at the base", exchange(0, house.Y, house.G)},
	{"R and C exchanged at the base", exchange(0, house.R, house.C)},
	{"Y and C exchanged outdoors", exchange(1, house.Y, house.C)},
	{"O and Y exchanged outdoors", exchange(1, house.Y, house.O)},
	{"conductors without resistance", func(p *plan) {
		for _, runs := range p.runs {
			for _, r := range runs {
				if r != nil {
					for _, i := range []int{r.boardHalf, r.farHalf} {
						p.elements[i].ac, p.elements[i].dc = 1e3, 1e3
					}
				}
			}
		}
	}},
	{"pick-up removed", func(p *plan) {
		for i := range p.armatures {
			p.armatures[i].pickUp = p.armatures[i].drop
		}
	}},
	{"drop-out raised to pick-up", func(p *plan) {
		for i := range p.armatures {
			p.armatures[i].drop = p.armatures[i].pickUp
		}
	}},
	{"armatures stay at inrush", func(p *plan) {
		for i := range p.armatures {
			p.armatures[i].in = p.armatures[i].out
		}
	}},
	{"coils start at their sealed impedance", func(p *plan) {
		for i := range p.armatures {
			a := &p.armatures[i]
			a.out = a.in
			p.elements[a.element].ac = a.in
		}
	}},
	{"transformer without impedance", func(p *plan) { p.elements[p.couple].ac *= 100 }},
	{"thermostat's own supply dropped", func(p *plan) {
		if p.supply != none {
			p.elements[p.supply].ac = 0
		}
	}},
	{"bond to the cabinet dropped", dropPart("bond")},
	{"contacts that leak", func(p *plan) {
		for _, i := range p.contacts {
			if i != none {
				p.elements[i].ac = siemens(20e3)
			}
		}
	}},
	{"jumper from the wrong side of the base", func(p *plan) {
		if p.link != none {
			p.elements[p.link].ac, p.elements[p.link].dc = siemens(0.02), siemens(0.02)
		}
	}},
	{"lifts and conductors of another letter", func(p *plan) {
		for i := range p.lifts {
			if p.lifts[i].conductor.Terminal == house.Y {
				p.lifts[i].conductor.Terminal = house.W
			}
		}
	}},
	{"wrong tap is the right tap", func(p *plan) { p.elements[p.tap].weight = p.elements[p.couple].weight }},
	{"second transformer in phase", func(p *plan) {
		if i, ok := p.part["heat-transformer"]; ok {
			for k := range 2 {
				p.elements[i].weight[k] *= -1
			}
		}
	}},
}

func dropPart(id string) func(*plan) {
	return func(p *plan) {
		i, ok := p.part[id]
		if !ok {
			return
		}
		p.elements[i].ac, p.elements[i].dc = siemens(openOhms), siemens(openOhms)
		if k := p.armature(id); k >= 0 {
			p.armatures[k].in, p.armatures[k].out = siemens(openOhms), siemens(openOhms)
		}
	}
}

// exchange swaps the far screws of two conductors of a cable.
func exchange(cable int, a, b house.Terminal) func(*plan) {
	return func(p *plan) {
		x, y := p.runs[cable][a], p.runs[cable][b]
		if x != nil && y != nil {
			p.elements[x.far].nodes[1], p.elements[y.far].nodes[1] = p.elements[y.far].nodes[1], p.elements[x.far].nodes[1]
		}
	}
}

func TestMutantsAreCaught(t *testing.T) {
	if testing.Short() {
		t.Skip("minutes under the race detector, which has little to see here")
	}
	cat := loadAll(t)
	decks, expected := handDecks(t), handExpected(t)
	var all []signature
	for _, list := range [][]signature{contactSignatures, wireSignatures, coilSignatures, supplySignatures} {
		all = append(all, list...)
	}
	for _, m := range mutants {
		t.Run(m.name, func(t *testing.T) {
			r := &rig{t: t, cat: cat, change: m.change}
			for _, s := range all {
				if fails := r.run([]signature{s}); len(fails) > 0 {
					t.Log(fails[0])
					return
				}
			}
			for _, d := range decks {
				h, s := handHouse(t, cat, d, m.change)
				if fails := handDiffers(t, h, s, expected[d.file]); len(fails) > 0 {
					t.Log(d.file, fails[0])
					return
				}
			}
			t.Error("neither a signature nor a hand deck fails")
		})
	}
}
