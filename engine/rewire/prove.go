package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
)

// Proof is every call of one equipment tried in the model with a landing.
type Proof struct {
	Equipment house.Equipment
	Calls     []Call
}

// Good reports whether every call does what it should and nothing else.
func (p Proof) Good() bool {
	for _, c := range p.Calls {
		if len(c.Wrong) > 0 {
			return false
		}
	}
	return true
}

// Call is one call tried.
type Call struct {
	ID, Title string
	Live      house.Letters // screws the thermostat energises
	Wanted    []string      // parts that should come in
	In        []string      // parts that do
	Extra     []string      // parts that do and should not
	Blown     bool          // the board's fuse
	Lit       bool          // the thermostat keeps its supply
	Coils     []circuit.CoilVolts
	Sources   []circuit.SourceLoad
	Wrong     []string // what is wrong, in plain words; none where the call is right
}

// partTitles are the loads in plain words.
var partTitles = map[string]string{
	"contactor": "outdoor unit", "stage2": "second stage", "reversing-valve": "reversing valve",
	"fan-relay": "indoor fan", "fan-input": "indoor fan", "burner-control": "furnace", "gas-valve": "gas valve",
	"sequencer": "electric heat", "transformer": "transformer", "heat-transformer": "furnace's transformer",
	"thermostat": "thermostat", "call-sense": "outdoor control",
}

// land makes the model's landing of the conductors a hypothesis knows, in one
// house.
func (h hypothesis) land(d circuit.Draw, p Plan, b Base, joined [][2]house.Terminal) (circuit.Draw, error) {
	have := h.conductors()
	for choice, t := range map[circuit.Choice]house.Terminal{circuit.CommonWire: house.C, circuit.FaultWire: house.L} {
		option := "no"
		if have.Has(t) {
			option = "yes"
		}
		// Battery first: a supply by the common would bring its conductor in.
		var err error
		if d, err = d.With(circuit.Supply, "battery"); err == nil {
			d, err = d.With(choice, option)
		}
		if err != nil {
			return d, err
		}
	}
	l := circuit.Landing{Screws: b.Letters, Joined: joined, Supply: p.Power.String(), On: map[house.Terminal]house.Terminal{}}
	for k, t := range h.is {
		if s := p.To[k]; t != spare && s != house.NoTerminal {
			if _, twice := l.On[t]; twice && l.On[t] != s {
				// Two conductors from one board screw join the two they lie under.
				l.Joined = append(slices.Clone(l.Joined), [2]house.Terminal{l.On[t], s})
			}
			l.On[t] = s
		}
	}
	return d.Land(l)
}

// prove calls every mode in the house at the centre of every range.
func (h hypothesis) prove(p Plan, b Base, joined [][2]house.Terminal) (Proof, error) {
	return h.proveIn(h.eq.Nominal(), p, b, joined)
}

// proveIn calls every mode in one house.
func (h hypothesis) proveIn(d circuit.Draw, p Plan, b Base, joined [][2]house.Terminal) (Proof, error) {
	out := Proof{Equipment: h.eq.ID}
	d, err := h.land(d, p, b, joined)
	if err != nil {
		return out, err
	}
	model, err := circuit.NewHouse(d)
	if err != nil {
		return out, err
	}
	for _, c := range callsOf(h.eq, b) {
		live := c.live(p, b)
		e, err := model.Effect(live)
		if err != nil {
			return out, err
		}
		out.Calls = append(out.Calls, h.judge(c, live, e, p, b, h.crossed(p, joined)))
	}
	return out, nil
}

// crossed reports whether two transformers' R lie on one screw, or on two that
// are joined.
func (h hypothesis) crossed(p Plan, by [][2]house.Terminal) bool {
	rc, rh := slices.Index(h.is, house.Rc), slices.Index(h.is, house.Rh)
	return rc >= 0 && rh >= 0 && joined(by, p.To[rc], p.To[rh])
}

// judge holds what a call did against what it should do.
func (h hypothesis) judge(c call, live house.Letters, e circuit.Effect, p Plan, b Base, crossed bool) Call {
	out := Call{ID: c.ID, Title: c.Title, Live: live, In: e.In, Blown: e.Blown, Lit: e.Lit, Coils: e.Coils, Sources: e.Sources}
	may := meaningOf()
	want := c.wants(h.eq)
	if c.ID == "emergency" && h.eq.Calls.EnergisedIn == house.ModeHeat {
		may = meaningOf(h.eq.Calls.Changeover) // some thermostats hold the valve, some do not
	}
	if !b.Letters.Has(house.Y2) {
		want = want.Minus(house.LettersOf(house.Y2)) // said apart: the base cannot call it
	}
	for _, t := range want.List() {
		out.Wanted = append(out.Wanted, h.eq.Driven(t)...)
	}
	missing, extra := h.differ(out.Wanted, e.In, may)
	out.Extra = extra
	out.Wrong = append(out.Wrong, strained(e, p, crossed)...)
	if len(missing) > 0 && !e.Blown {
		out.Wrong = append(out.Wrong, "does not come on: "+titles(missing))
	}
	if len(extra) > 0 {
		out.Wrong = append(out.Wrong, "comes on and should not: "+titles(extra))
	}
	return out
}

// strained is what is electrically wrong, whatever was wanted.
func strained(e circuit.Effect, p Plan, crossed bool) []string {
	var out []string
	switch {
	case e.Blown && crossed:
		out = append(out, "the two transformers drive each other: the board's fuse blows")
	case e.Blown:
		out = append(out, "R is shorted to the common: the board's fuse blows")
	}
	if !e.Lit && p.Power != PowerBattery {
		out = append(out, "the thermostat is dark")
	}
	if e.Blown {
		return out
	}
	for _, s := range e.Sources {
		if s.VA > s.Rating {
			out = append(out, fmt.Sprintf("the %s gives %.0f VA of %.0f: too much", partTitles[s.Part], s.VA, s.Rating))
		}
	}
	if len(e.Chatter) > 0 {
		out = append(out, "chatters: "+titles(e.Chatter))
	}
	for _, coil := range e.Coils {
		if slices.Contains(e.In, coil.Part) && coil.Pulling < coil.PickUp {
			out = append(out, fmt.Sprintf("%s: %.1f V to pull in, and it needs %.1f", partTitles[coil.Part], coil.Pulling, coil.PickUp))
		}
	}
	return out
}

// differ lists wanted parts that stay out, and parts in that nobody wanted.
func (h hypothesis) differ(wanted, in []string, may meaning) (missing, extra []string) {
	allowed := slices.Clone(wanted)
	for _, t := range may.list() {
		if t != spare {
			allowed = append(allowed, h.eq.Driven(t)...)
		}
	}
	for _, w := range wanted {
		if !slices.Contains(in, w) {
			missing = append(missing, w)
		}
	}
	for _, i := range in {
		if !slices.Contains(allowed, i) {
			extra = append(extra, i)
		}
	}
	return missing, extra
}

// titles writes parts in plain words, each once.
func titles(parts []string) string {
	var out []string
	for _, p := range parts {
		if t := partTitles[p]; !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return strings.Join(out, ", ")
}
