package letter

import "stepdown/engine/house"

// Letter is one screw of a thermostat's wall base.
type Letter struct {
	Terminal house.Terminal
	Marks    []string // what else the same screw is marked
	Name     string   // in a few words
	Does     string
	Goes     []string // from the base on, hop by hop
	Live     string   // when it has 24 volts to C on a sound system
	Careful  []string
}

// letters follow a base from top to bottom.
var letters = []Letter{
	{Terminal: house.R, Name: "24 volts in, the hot side",
		Does: "Feeds every contact of the thermostat: a call joins R to that call's letter.",
		Goes: []string{"board R", "fuse", "transformer"},
		Live: "always",
		Careful: []string{"R that touches C or bare metal blows the board's fuse.",
			"A float switch may sit in it: water in the drain pan then takes R away."}},
	{Terminal: house.Rc, Marks: []string{"RC"}, Name: "24 volts in for cooling",
		Does:    "Feeds the cooling and fan contacts. With one transformer a jumper joins it to Rh.",
		Goes:    []string{"R of the cooling transformer"},
		Live:    "always",
		Careful: []string{"Two transformers, one on Rc and one on Rh: take the jumper out, or they drive each other."}},
	{Terminal: house.Rh, Marks: []string{"RH"}, Name: "24 volts in for heating",
		Does:    "Feeds the heating contacts. With one transformer a jumper joins it to Rc.",
		Goes:    []string{"R of the heating transformer"},
		Live:    "always",
		Careful: []string{"Two transformers, one on Rc and one on Rh: take the jumper out, or they drive each other."}},
	{Terminal: house.C, Name: "the common, the way back",
		Does: "The transformer's other side: every coil returns to it, and it feeds a thermostat that has no batteries.",
		Goes: []string{"board C", "transformer"},
		Live: "never: readings are made against it",
		Careful: []string{"Many houses have no C at the wall: the thermostat then runs on batteries or through a load.",
			"Its conductor is often blue, and an old base may hold it on B.",
			"Two transformers: C is the cooling one's. The furnace has a common of its own, at its board."}},
	{Terminal: house.Y, Marks: []string{"Y1"}, Name: "the call for the compressor",
		Does: "Pulls in the outdoor unit's contactor.",
		Goes: []string{"board Y", "outdoor Y", "pressure switches", "contactor coil", "C"},
		Live: "on a call for cooling, and for heat from a heat pump",
		Careful: []string{"After a stop a compressor is held back three to five minutes, often by the thermostat.",
			"It was joined to R? Count five minutes first: a jumper passes the delay by."}},
	{Terminal: house.Y2, Name: "the call for the second stage",
		Does: "Brings in the second stage of the compressor, sometimes a faster blower too.",
		Goes: []string{"board Y2", "outdoor Y2", "second-stage solenoid", "C"},
		Live: "with Y, when one stage is not enough"},
	{Terminal: house.G, Name: "the call for the indoor fan",
		Does: "Starts the indoor fan.",
		Goes: []string{"board G", "fan relay, or the furnace board's fan output", "C"},
		Live: "on a call for cooling, for heat from a heat pump or from electric strips, and with the fan switch on ON"},
	{Terminal: house.O, Marks: []string{"O/B"}, Name: "the reversing valve, energised in cooling",
		Does:    "Turns a heat pump round. Most heat pumps energise the valve in cooling: O.",
		Goes:    []string{"board O", "outdoor O", "reversing-valve coil", "C"},
		Live:    "in cooling mode, call or not",
		Careful: []string{"O/B is one screw for either kind: a setting says when it is live, and the unit's own diagram has the last word."}},
	{Terminal: house.B, Marks: []string{"O/B"}, Name: "the reversing valve, energised in heating; or the common",
		Does: "Turns a heat pump round that energises its valve in heating: a minority do. On some thermostats and units B is the common.",
		Goes: []string{"board B", "outdoor B", "reversing-valve coil", "C"},
		Live: "in heating mode, call or not, where it drives a valve",
		Careful: []string{"B that drives the valve, with the common landed on it, shorts the transformer whenever the thermostat heats.",
			"A blue conductor is often the common, and may lie on B. Read it before it lands anywhere: stepdown rewire leads there."}},
	{Terminal: house.W, Marks: []string{"W1"}, Name: "the call for heat",
		Does: "Starts a furnace's burner control, or electric strips.",
		Goes: []string{"board W", "limit and rollout switches", "burner control", "C"},
		Live: "on a call for heat; on a heat pump with a furnace, when the furnace takes over",
		Careful: []string{"An open limit or rollout switch is usually doing its job. It is never bridged.",
			"Two transformers: read W against the furnace's own common. To C it tells nothing."}},
	{Terminal: house.W2, Marks: []string{"AUX", "W2/AUX"}, Name: "auxiliary heat",
		Does: "Brings in electric strips beside a heat pump, or a furnace in its place; the second stage of other heat.",
		Goes: []string{"board W2", "heat sequencer, or the furnace's W", "C"},
		Live: "when the heat pump is not enough, in emergency heat, and from the outdoor board during defrost"},
	{Terminal: house.E, Name: "emergency heat",
		Does: "Runs the strips alone, for when the outdoor unit is out of order.",
		Goes: []string{"W2 at the base, joined to it", "heat sequencer", "C"},
		Live: "in emergency heat"},
	{Terminal: house.L, Name: "a fault signal, often unused",
		Does: "Lights the thermostat's fault lamp when the outdoor board has locked itself out.",
		Goes: []string{"board L", "outdoor L", "the outdoor board's signal"},
		Live: "while the outdoor unit is locked out"},
}

// Sort is where the text is from.
const Sort = "Common practice; no published table of letters was found."

// All lists the letters as a base has them from top to bottom.
func All() []Letter { return append([]Letter(nil), letters...) }

// Of is the card of a letter; false for a terminal that is none.
func Of(t house.Terminal) (Letter, bool) {
	for _, l := range letters {
		if l.Terminal == t {
			return l, true
		}
	}
	return Letter{}, false
}

// Equipment lists the modelled systems whose thermostat has the letter, and
// those of which only some do.
func (l Letter) Equipment() (all, some []house.Equipment) {
	for _, e := range house.Equipments() {
		switch {
		case e.Letters().Has(l.Terminal):
			all = append(all, e)
		case e.SometimesLetters().Has(l.Terminal):
			some = append(some, e)
		}
	}
	return all, some
}
