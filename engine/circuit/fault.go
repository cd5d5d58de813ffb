package circuit

import "stepdown/engine/house"

// override holds an element at an admittance whatever the setup says.
type override struct {
	element int
	ac, dc  complex128
}

// conductorOf names the letter a conductor fault is about.
var conductorOf = map[house.Fault]house.Terminal{
	house.OpenR: house.R, house.OpenC: house.C, house.OpenY: house.Y, house.OpenY2: house.Y2, house.OpenG: house.G,
	house.OpenW: house.W, house.OpenW2: house.W2,
	house.OpenYOutdoor: house.Y, house.OpenCOutdoor: house.C, house.OpenROutdoor: house.R, house.OpenW2Outdoor: house.W2,
	house.LooseR: house.R, house.LooseC: house.C,
	house.ShortRC: house.R, house.ShortYC: house.Y, house.ShortGC: house.G, house.ShortWC: house.W, house.ShortW2C: house.W2,
	house.CrossedRY: house.Y, house.CrossedRG: house.G, house.CrossedRW: house.W, house.CrossedRW2: house.W2,
	house.StatYOpen: house.Y, house.StatY2Open: house.Y2, house.StatGOpen: house.G, house.StatWOpen: house.W, house.StatW2Open: house.W2,
	house.StatYStuck: house.Y, house.StatGStuck: house.G, house.StatWStuck: house.W, house.StatW2Stuck: house.W2,
}

// partOf names the part a fault needs, and sits in.
var partOf = map[house.Fault]string{
	house.NoLineIndoor: "feed", house.NoLineOutdoor: "feed-outdoor", house.DoorSwitchOpen: "door",
	house.FloatOpen: "float", house.PressureSwitchOpen: "pressure", house.LockoutOutdoor: "call-sense",
	house.LimitOpen: "limit", house.RolloutOpen: "rollout",
	house.ContactorCoilOpen: "contactor", house.ContactorCoilShorted: "contactor",
	house.ValveCoilOpen: "reversing-valve", house.ValveCoilShorted: "reversing-valve",
	house.FanRelayOpen: "fan-relay", house.SequencerOpen: "sequencer", house.Stage2Open: "stage2",
	house.ContactorStuckOpen: "contactor", house.ContactorContactsOpen: "contactor", house.ContactorWelded: "contactor",
	house.FanRelayWelded: "fan-relay", house.SequencerWelded: "sequencer",
	house.FurnaceBoardNoHeat: "gas-output", house.BoardNoFanOutput: "fan-input",
	house.OutdoorBoardNoOutput: "lockout-contact", house.DefrostStuck: "heat-output",
	house.ValveStuck: "reversing-valve", house.OutdoorBeyondContactor: "compressor",
}

// letter is the letter a fault is about on this equipment: a conductor's, the
// changeover's, R's own mark.
func (e *Equipment) letter(f house.Fault) house.Terminal {
	switch f {
	case house.OpenChangeover, house.OpenChangeoverOutdoor, house.ShortChangeoverC, house.CrossedRChangeover,
		house.StatChangeoverOpen, house.StatChangeoverStuck:
		return e.Calls.Changeover
	}
	t := conductorOf[f]
	if t == house.R {
		return e.Hot(house.Y)
	}
	return t
}

// Fits reports whether a fault can be in this equipment.
func (e *Equipment) Fits(f house.Fault) bool {
	if part, ok := partOf[f]; ok {
		return e.has(part)
	}
	switch f {
	case house.TransformerTapWrong:
		feed, _ := e.Part("feed")
		return feed.Uses == "line-240"
	case house.ShortYCOutdoor:
		return e.Conductor(house.AtOutdoor, house.Y)
	case house.ChangeoverWrong:
		return e.Calls.Changeover != house.NoTerminal
	case house.DelayRunning:
		return (e.Calls.Cool | e.Calls.Heat).Has(house.Y)
	case house.JumperRcRhMissing:
		return e.Draws(BaseR)
	case house.JumperRcRhWrong:
		return e.ID == house.SplitPower
	case house.CommonOnB:
		return e.ID == house.PumpHeatingValve
	case house.OpenROutdoor, house.OpenCOutdoor, house.OpenYOutdoor, house.OpenW2Outdoor, house.OpenChangeoverOutdoor:
		return e.Conductor(house.AtOutdoor, e.letter(f))
	}
	if _, about := conductorOf[f]; about || isChangeover(f) {
		return e.Conductor(house.AtThermostat, e.letter(f))
	}
	return f != house.NoFault
}

func isChangeover(f house.Fault) bool {
	switch f {
	case house.OpenChangeover, house.ShortChangeoverC, house.CrossedRChangeover, house.StatChangeoverOpen, house.StatChangeoverStuck:
		return true
	}
	return false
}

// Faults lists the faults that fit, none first.
func (e *Equipment) Faults() []house.Fault {
	var out []house.Fault
	for _, f := range house.Faults() {
		if e.Fits(f) {
			out = append(out, f)
		}
	}
	return out
}

// forced is the draw as a fault needs it: a dead battery needs batteries.
func (d Draw) forced(f house.Fault) Draw {
	switch f {
	case house.JumperRcRhMissing:
		d.set(BaseR, "rc-rh")
	case house.StatBatteryDead:
		d.set(Supply, "battery")
	case house.CommonOnB:
		d.set(Supply, "battery")
		d.set(CommonWire, "yes")
	case house.OpenC, house.LooseC, house.ShortRC, house.ShortYC, house.ShortGC, house.ShortWC, house.ShortW2C, house.ShortChangeoverC:
		d.set(CommonWire, "yes")
	}
	return d
}

// opened and closedAt are the two ends of what a fault does to an element.
func opened(i int) override { return override{i, siemens(openOhms), siemens(openOhms)} }

func held(i int, ohms float64) override { return override{i, siemens(ohms), siemens(ohms)} }

// overrides appends what a fault holds fixed in the network; what depends on
// the call or the armatures is in thermostat.go and steady.go.
func (p *plan) overrides(f house.Fault, out []override) []override {
	if over, ok := p.conductorOverride(f); ok {
		return append(out, over)
	}
	switch f.Family() {
	case house.Supply, house.Transformer:
		return p.supplyOverrides(f, out)
	}
	switch f {
	case house.FloatOpen, house.PressureSwitchOpen, house.LimitOpen, house.RolloutOpen,
		house.ContactorCoilOpen, house.ValveCoilOpen, house.FanRelayOpen, house.SequencerOpen, house.Stage2Open,
		house.FurnaceBoardNoHeat, house.OutdoorBoardNoOutput:
		return append(out, opened(p.part[partOf[f]]))
	case house.ContactorCoilShorted, house.ValveCoilShorted:
		out = append(out, held(p.part[partOf[f]], p.draw.Value("fault.shorted-coil-ohms")))
	case house.ContactorContactsOpen:
		out = append(out, opened(p.part["pole-1"]))
	case house.ContactorWelded:
		out = append(out, held(p.part["pole-1"], p.joint()), held(p.part["pole-2"], p.joint()))
	case house.DefrostStuck:
		out = append(out, held(p.part["heat-output"], p.joint()))
		if i, ok := p.part["valve-output"]; ok {
			out = append(out, held(i, p.joint()))
		} else {
			out = append(out, opened(p.part["valve-release"]))
		}
	case house.JumperRcRhMissing:
		out = append(out, opened(p.link))
	case house.JumperRcRhWrong:
		out = append(out, held(p.link, p.joint()))
	case house.CommonOnB:
		out = append(out, opened(p.runs[0][house.C].far), held(p.onB, p.joint()))
	}
	return out
}

// supplyOverrides is what a fault of line, door switch or transformer does.
func (p *plan) supplyOverrides(f house.Fault, out []override) []override {
	d := p.draw
	switch f {
	case house.DoorSwitchOpen:
		out = append(out, opened(p.part[partOf[f]]))
	case house.NoLineIndoor, house.NoLineOutdoor:
		for _, b := range p.breakers {
			if (b.feed == "feed-outdoor") == (f == house.NoLineOutdoor) {
				out = append(out, opened(b.element))
			}
		}
	case house.TransformerPrimaryOpen:
		out = append(out, override{p.couple, 0, p.elements[p.couple].dc}, opened(p.primary))
	case house.TransformerSecondaryOpen:
		out = append(out, override{p.couple, 0, 0}, override{p.secondary, siemens(openOhms), siemens(openOhms)})
	case house.TransformerWeak:
		out = append(out, override{p.couple, p.elements[p.couple].ac / complex(d.Value("fault.weak-times"), 0), 0})
	case house.TransformerTapWrong:
		out = append(out, override{p.couple, 0, 0}, override{p.tap, p.elements[p.couple].ac, 0})
	case house.TransformerOverloaded:
		out = append(out, held(p.overload, d.Value("fault.overload-ohms")))
	}
	return out
}

// conductorOverride is what a fault of one conductor does: open or loose in a
// half, shorted to C or bridged to R in the middle.
func (p *plan) conductorOverride(f house.Fault) (override, bool) {
	d, t := p.draw, p.eq.letter(f)
	switch f {
	case house.OpenR, house.OpenC, house.OpenY, house.OpenY2, house.OpenG, house.OpenW, house.OpenW2, house.OpenChangeover:
		return opened(p.runs[0][t].boardHalf), true
	case house.OpenYOutdoor, house.OpenCOutdoor, house.OpenROutdoor, house.OpenW2Outdoor, house.OpenChangeoverOutdoor:
		return opened(p.runs[1][t].boardHalf), true
	case house.LooseR, house.LooseC:
		return held(p.runs[0][t].far, d.Value("fault.loose-ohms")), true
	case house.ShortRC, house.ShortYC, house.ShortGC, house.ShortWC, house.ShortW2C, house.ShortChangeoverC:
		return held(p.shorts[t], d.Value("fault.short-ohms")), true
	case house.ShortYCOutdoor:
		return held(p.outShort, d.Value("fault.short-ohms")), true
	case house.CrossedRY, house.CrossedRG, house.CrossedRW, house.CrossedRW2, house.CrossedRChangeover:
		return held(p.bridges[t], d.Value("fault.bridge-ohms")), true
	}
	return override{}, false
}
