package circuit

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"stepdown/engine/house"
)

// anySetup draws a setup an equipment's thermostat can have.
func anySetup(t *rapid.T, e *Equipment) house.Setup {
	s := house.DefaultSetup()
	var modes []house.Mode
	for m := house.ModeOff; m <= house.ModeEmergency; m++ {
		if e.modeError(m) == nil {
			modes = append(modes, m)
		}
	}
	s.Mode = rapid.SampledFrom(modes).Draw(t, "mode")
	s.Calling = rapid.Bool().Draw(t, "calling")
	s.FanOn = e.Calls.Fan != 0 && rapid.Bool().Draw(t, "fan")
	if rapid.IntRange(0, 2).Draw(t, "face") == 0 {
		s.Thermostat = house.Removed
		s.JumperAt = rapid.SampledFrom([]house.Place{house.AtThermostat, house.AtIndoor}).Draw(t, "jumper-at")
		for _, l := range jumpered.List() {
			if rapid.IntRange(0, 3).Draw(t, "jumper") == 0 {
				s.Jumper = s.Jumper.Add(l)
			}
		}
	}
	powers := []house.Power{house.On, house.On, house.On, house.Off, house.LockedOut}
	s.PowerIndoor = rapid.SampledFrom(powers).Draw(t, "power-indoor")
	s.PowerOutdoor = rapid.SampledFrom(powers).Draw(t, "power-outdoor")
	s.Fuse = rapid.SampledFrom([]house.Fuse{house.FuseAsFound, house.FuseAsFound, house.FuseOut, house.FuseNew, house.FuseBreaker}).Draw(t, "fuse")
	for range rapid.IntRange(0, 2).Draw(t, "lifted") {
		s.Lifted = s.Lifted.Add(rapid.SampledFrom(house.AllConductors()).Draw(t, "conductor"))
	}
	return s
}

// anyHouse draws a house with up to two faults.
func anyHouse(t *rapid.T, cat *Catalog) (*House, house.Setup) {
	e := cat.Equipment(rapid.SampledFrom(cat.IDs()).Draw(t, "equipment"))
	d := e.Sample(rand.New(rand.NewPCG(rapid.Uint64Range(0, 40).Draw(t, "draw"), 7)), 1)
	var faults []house.Fault
	for range rapid.IntRange(0, 2).Draw(t, "faults") {
		faults = append(faults, rapid.SampledFrom(e.Faults()).Draw(t, "fault"))
	}
	h, err := NewHouse(d, faults...)
	if err != nil {
		t.Fatal(err)
	}
	return h, anySetup(t, e)
}

// nodeVolts is every node's voltage as the update gives it.
func (h *House) nodeVolts() []complex128 {
	v := make([]complex128, len(h.bench.plan.nodes))
	for i := range v {
		v[i] = h.ac.voltage(pair(i, ground))
	}
	return v
}

// TestKirchhoffAndPower: at every node the currents sum to nothing within 1 nA,
// and what the sources give is what the parts turn to heat, within 1e-9 of it
// and 1 nW. Every setup comes to rest or names what does not.
func TestKirchhoffAndPower(t *testing.T) {
	cat := loadAll(t)
	rapid.Check(t, func(t *rapid.T) {
		h, s := anyHouse(t, cat)
		if err := h.Play(s); err != nil {
			t.Fatalf("%s: %v", s, err)
		}
		if h.cycle > 0 {
			if names, _ := h.Chatter(s); len(names) == 0 {
				t.Fatalf("%s: a chatter without a name", s)
			}
		}
		n, v := &h.bench.plan.network, h.nodeVolts()
		node := make([]complex128, len(v))
		var given, taken float64
		for i, j := range n.inject {
			node[i] += j - v[i]/leakOhms
			given += real(v[i] * cmplx.Conj(j))
			taken += real(v[i]*cmplx.Conj(v[i])) / leakOhms
		}
		for i := range n.elements {
			e := &n.elements[i]
			port := e.port(v)
			current := port * h.y[i]
			taken += real(port * cmplx.Conj(current))
			for k := 0; k < e.ends; k++ {
				if e.nodes[k] != ground {
					node[e.nodes[k]] -= complex(e.weight[k], 0) * current
				}
			}
		}
		for i, sum := range node {
			if cmplx.Abs(sum) > 1e-9 {
				t.Fatalf("%s: %g A is left over at %s (whole %v, weakest %g)", s, cmplx.Abs(sum), n.nodes[i], h.ac.whole, h.ac.small.Weakest())
			}
		}
		if math.Abs(given-taken) > 1e-9*given+1e-9 {
			t.Fatalf("%s: %.12g W given, %.12g W taken", s, given, taken)
		}
	})
}

// TestUpdateIsTheWholeNetwork: the low-rank update gives what factorising the
// state whole gives, within 1e-6 or 1 nV, on readings at AC and on ohms.
func TestUpdateIsTheWholeNetwork(t *testing.T) {
	cat := loadAll(t)
	rapid.Check(t, func(t *rapid.T) {
		h, s := anyHouse(t, cat)
		if err := h.settle(s); err != nil {
			t.Fatal(err)
		}
		whole := update{forced: true}
		if err := whole.to(h.bench.ac, h.y); err != nil {
			t.Fatal(err)
		}
		whole.refine(h.y)
		p := h.bench.plan
		for range 20 {
			a := rapid.IntRange(ground, len(p.nodes)-1).Draw(t, "red")
			b := rapid.IntRange(ground, len(p.nodes)-1).Draw(t, "black")
			port := pair(a, b)
			for _, meter := range []float64{HighImpedanceOhms, LowImpedanceOhms} {
				got, want := h.loaded(port, meter), loaded(&whole, port, h.y, meter)
				if math.Abs(got-want) > max(1e-6*want, 1e-9) {
					t.Fatalf("%s: %d to %d reads %.12g, whole %.12g (weakest %g)", s, a, b, got, want, h.ac.small.Weakest())
				}
			}
		}
	})
}

// TestGonumAgreesOnNetworks solves real networks, faults in them, as gonum's
// real 2n system. Tolerance as for ngspice: 1e-6 or 1 nV, but for
// knownDifferences: gonum's matrix loses the same picosiemens, under 10 mV.
func TestGonumAgreesOnNetworks(t *testing.T) {
	cat := loadAll(t)
	for _, id := range cat.IDs() {
		e := cat.Equipment(id)
		b, err := NewBench(e.Nominal())
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range e.Faults() {
			h, err := b.House(f)
			if err != nil {
				t.Fatal(err)
			}
			s := threeSetups(e)[i%3]
			if err := h.settle(s); err != nil {
				t.Fatal(err)
			}
			n := len(h.bench.plan.nodes)
			a := make([]complex128, n*n)
			h.bench.plan.assemble(a, h.y)
			m, v := realSystem(n, a, h.bench.plan.inject)
			var x mat.VecDense
			if err := x.SolveVec(m, v); err != nil {
				if _, ill := err.(mat.Condition); !ill {
					t.Fatal(err)
				}
			}
			for k := range n {
				got, want := h.ac.voltage(pair(k, ground)), complex(x.AtVec(k), x.AtVec(n+k))
				diff, size := cmplx.Abs(got-want), cmplx.Abs(got)
				known := knownDifferences[f] != "" && size < 10e-3 && diff < 0.01*size
				if diff > max(1e-6*size, 1e-9) && !known {
					t.Errorf("%s, %s, %s: node %s: gonum %.12g, model %.12g", id, f, s, h.bench.plan.nodes[k], want, got)
				}
			}
		}
	}
}
