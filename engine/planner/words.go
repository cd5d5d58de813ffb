package planner

import (
	"strings"

	"stepdown/engine/house"
)

// words is what an action says: plain words, short lines. Where the audience
// makes a difference the homeowner's wording comes first.
func (j *job) words(v verb, at house.Place, after State) string {
	tech := j.who == house.Tech
	switch v {
	case setThermostat:
		said := callWords(j.s, after, j.fanSwitch()) + j.defrostWords(after)
		if j.s.on(j.feed()) {
			return said
		}
		if after.Calling || after.FanOn {
			return said + " If its display is dark, do it as soon as it lights."
		}
		return said + " If its display is dark, leave it: it calls for nothing."
	case pullFace:
		return "Pull the thermostat's face straight off its base. Let no bare wires touch."
	case mountFace:
		return "Put the thermostat's face back on its base. Press until it clicks."
	case powerOff, powerOn, lockOut, stopPower, resetBreaker:
		return j.powerWords(v, at, tech)
	case jumperIn:
		return "Put one short insulated jumper " + j.spot(at) + ", from " + j.f.Equipment.JumperWords(after.Jumper) + "."
	case jumperOut:
		return "Take the jumper " + j.spot(at) + " out."
	case lift:
		return "Lift " + j.spot(at) + ", and cap each end: " + liftedWords(after.Lifted.Minus(j.s.Lifted)) + "."
	case land:
		return "Land again " + j.spot(at) + ", each on its own screw: " + liftedWords(j.s.Lifted.Minus(after.Lifted)) + "."
	case changeFuse:
		return fuseWords(after.Fuse)
	case countCall:
		return "Leave it calling for five counted minutes: the thermostat may hold the compressor back after a break. Stand clear meanwhile."
	case rest:
		return "Wait five minutes with the power off. The jumper has no compressor delay."
	}
	return j.lockoutWords(v, at)
}

// fanSwitch reports whether the thermostat can run a fan by itself, as far as is
// known: a furnace that only heats has no G.
func (j *job) fanSwitch() bool {
	return j.f.Equipment.Sets(house.Setup{FanOn: true})
}

// defrostWords: air that a heat pump cools on purpose is no sign of anything. A
// quarter of an hour is common practice.
func (j *job) defrostWords(s State) string {
	e := j.f.Equipment
	if !j.t.air || s.Mode != house.ModeHeat || !s.Calling || e != house.NoEquipment && e.Changeover() == house.NoTerminal {
		return ""
	}
	return " A heat pump that melts ice blows cool for up to 15 minutes: wait that out."
}

// lockoutWords are the steps of a lockout.
func (j *job) lockoutWords(v verb, at house.Place) string {
	unit := j.unit(at)
	switch v {
	case tryControls:
		return j.tryWords(unit)
	case openCover:
		return "Take the " + j.cover(at) + " off. Treat everything inside as live."
	case closeCover:
		holder := ""
		if j.hasDoor(at) && j.s.Energised.Has(at) {
			holder = "Take the holder off the door switch. "
		}
		return holder + "Put the " + j.cover(at) + " back on. Keep hands and tools out."
	case liveDeadLive:
		return "Prove the " + unit + " dead. Try the meter on a source you know. " +
			"At " + j.incoming(at) + " read leg to leg, then each leg to ground: no volts. Try the meter on the known source again."
	case discharge:
		return "Discharge every capacitor in the " + unit + " through a bleed resistor. Measure volts DC: next to nothing."
	case stripDead:
		return "Prove the outdoor strip dead. Try the meter on a source you know. Read volts AC from C to each letter: nothing. Try the meter again."
	case baseDead:
		return "Prove the wall base dead. Try the meter on a source you know. Read volts AC from each R to every other screw: nothing. Try the meter again."
	}
	return ""
}

// tryWords try the controls with whatever can call as the house stands.
func (j *job) tryWords(unit string) string {
	switch {
	case j.s.Jumper != 0:
		return "Look and listen: the jumper still calls, and the " + unit + " must stay still."
	case j.s.Thermostat == house.Mounted:
		return "Try to start the " + unit + ": call for everything at the thermostat. Nothing may start. Set it to OFF again."
	case j.atBase(j.s.Setup):
		return "Try to start the " + unit + " by its own switches. Nothing may start."
	}
	return "Try to start the " + unit + ". Hold the thermostat's face on, call for everything. Nothing may start. Take it off again."
}

// incoming names where a cabinet's line comes in; electric heat may have two
// feeds, two transformers have two cabinets.
func (j *job) incoming(at house.Place) string {
	switch e := j.f.Equipment; {
	case e == house.SplitPower && at == house.AtIndoor:
		return "the incoming line of both cabinets"
	case e == house.NoEquipment || e.Has(house.SecondFeed1, at):
		return "every incoming feed (electric heat may have two)"
	}
	return "the incoming line"
}

// powerWords are what is said about feeds and breakers.
func (j *job) powerWords(v verb, at house.Place, tech bool) string {
	unit := j.unit(at)
	switch v {
	case powerOff:
		return "Turn the " + unit + "'s breaker off." + j.eachFeed(at)
	case lockOut:
		return "Turn off, lock and tag every feed of the " + unit + "." + j.eachFeed(at) + " Keep the key."
	case resetBreaker:
		return "Reset the " + unit + "'s breaker once: fully off, then on. Stand to one side. If it trips again, leave it off."
	case stopPower:
		if tech {
			return "At the breaker panel, turn off, lock and tag the " + unit + ". Touch nothing else."
		}
		return "At the breaker panel, turn the " + unit + "'s breaker off and leave it off. Touch nothing else."
	}
	switch {
	case j.s.CoverOpen(at):
		return j.holdDoor(at) + "Hands and tools clear. Put the " + unit + "'s power on. One hand only from here."
	case j.s.Unknown.Has(at) && tech:
		return "Check the " + unit + ": cover on, nobody at work. Take your own lock off if there is one. See that its power is on."
	case j.s.Unknown.Has(at):
		return "See that the " + unit + "'s breaker is on."
	case j.s.locked(at):
		return "Hands and tools clear, cover on. Take the lock and tag off and put the " + unit + "'s power on."
	}
	return "Turn the " + unit + "'s breaker on again." + j.eachFeed(at)
}

func (j *job) eachFeed(at house.Place) string {
	e := j.f.Equipment
	switch {
	case e == house.SplitPower && at == house.AtIndoor:
		return " There are two cabinets: both."
	case at != house.AtOutdoor && (e == house.NoEquipment || e.Has(house.SecondFeed1, at)):
		return " Electric heat may have two: both."
	}
	return ""
}

// holdDoor: many cabinets cut their own power when the door is off.
func (j *job) holdDoor(at house.Place) string {
	if !j.hasDoor(at) {
		return ""
	}
	return "If the door switch cuts the power, hold it in with a holder made for it, never a hand. "
}

func (j *job) hasDoor(at house.Place) bool {
	e := j.f.Equipment
	if e == house.NoEquipment {
		return at == house.AtIndoor
	}
	return e.Has(house.Door1, at)
}

// unit names a cabinet as people call it.
func (j *job) unit(at house.Place) string {
	e := j.f.Equipment
	switch {
	case e.Packaged():
		return "packaged unit"
	case at == house.AtOutdoor:
		return "outdoor unit"
	case e == house.SplitPower:
		return "furnace and air handler"
	case e == house.NoEquipment:
		return "indoor unit"
	case e.Has(house.Gas1, house.AtIndoor):
		return "furnace"
	}
	return "air handler"
}

// cover names what is taken off a cabinet; two cabinets have two.
func (j *job) cover(at house.Place) string {
	if at != house.AtOutdoor && j.f.Equipment == house.SplitPower {
		return "covers of the furnace and the air handler"
	}
	return j.unit(at) + "'s cover"
}

// spot names a place hands go to.
func (j *job) spot(at house.Place) string {
	switch at {
	case house.AtThermostat:
		return "at the thermostat's wall base"
	case house.AtIndoor:
		return "at the indoor board"
	}
	return "in the " + j.unit(at)
}

// liftedWords lists conductors as a person finds them.
func liftedWords(set house.Conductors) string {
	var words []string
	for _, c := range set.List() {
		word := c.Terminal.String()
		switch c.To {
		case house.AtThermostat:
			word += " (the one to the thermostat)"
		case house.AtOutdoor:
			word += " (the one to the outdoor unit)"
		}
		words = append(words, word)
	}
	return strings.Join(words, ", ")
}

func fuseWords(f house.Fuse) string {
	switch f {
	case house.FuseOut:
		return "Take the control fuse out of its holder."
	case house.FuseNew:
		return "Fit one new control fuse, of the rating marked on the board, never larger."
	case house.FuseBreaker:
		return "Put a resettable 3 A breaker in the control fuse's place."
	}
	return "Put the old control fuse back in its holder."
}

// callWords says how to set the thermostat, which stands as in before, and its
// fan where it has a switch for that.
func callWords(before, s State, fanSwitch bool) string {
	fan := ""
	switch {
	case s.FanOn:
		fan = " Set the fan to ON."
	case before.FanOn:
		fan = " Set the fan to AUTO."
	}
	switch {
	case s.Mode == house.ModeOff && s.FanOn:
		return "Set the thermostat to OFF, and its fan to ON."
	case s.Mode == house.ModeOff && !fanSwitch:
		return "Set the thermostat to OFF."
	case s.Mode == house.ModeOff:
		return "Set the thermostat to OFF, and its fan to AUTO."
	case s.Mode == house.ModeCool && s.Calling:
		return "Set the thermostat to COOL, five degrees below the room." + fan
	case s.Mode == house.ModeCool:
		return "Set the thermostat to COOL, five degrees above the room, so that it does not call." + fan
	case s.Mode == house.ModeHeat && s.Calling:
		return "Set the thermostat to HEAT, five degrees above the room." + fan
	case s.Mode == house.ModeHeat:
		return "Set the thermostat to HEAT, five degrees below the room, so that it does not call." + fan
	case s.Calling:
		return "Set the thermostat to EMERGENCY HEAT, five degrees above the room." + fan
	}
	return "Set the thermostat to EMERGENCY HEAT, five degrees below the room, so that it does not call." + fan
}
