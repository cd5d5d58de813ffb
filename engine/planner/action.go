package planner

import "stepdown/engine/house"

// Kind is what an action asks of the person.
type Kind uint8

// Ready: the house is as the probe needs it. Do: something for the hands.
// Caution: a text to acknowledge by its word. Look: a look to answer first;
// After holds for its safe answer only. Refuse: this will not be done, for
// Reason; the house stays as it is.
const (
	Ready Kind = iota
	Do
	Caution
	Look
	Refuse
)

var kindNames = [...]string{"ready", "do", "caution", "look", "refuse"}

func (k Kind) String() string { return kindNames[k] }

// Action is the one next thing.
type Action struct {
	Kind    Kind
	ID      string // what it is, with its place: `lock-out-indoor`; stable
	Text    string // what a Do says
	Wait    int    // seconds to count before it is done, 0 where none
	Caution string // the caution's id
	Look    house.Look
	Reason  string // why it is refused
	After   State
}

// The cautions the planner asks for.
const (
	cautionLockout      = "lockout"
	cautionEnergised    = "energised-work"
	cautionLine         = "line-voltage"
	cautionControlPower = "control-power"
	cautionFacePull     = "face-pull"
	cautionJumper       = "jumper"
	cautionFuse         = "fuse"
	cautionBreaker      = "breaker"
)

// Cautions lists the id of every caution the planner may ask for.
func Cautions() []string {
	return []string{cautionLockout, cautionEnergised, cautionLine, cautionControlPower,
		cautionFacePull, cautionJumper, cautionFuse, cautionBreaker}
}

// SetThermostat is the id of setting mode, call and fan.
const SetThermostat = "set-thermostat"

// CountCall is the id of the counted wait after which no compressor delay runs
// any more: the thermostat's own call has stood through it.
const CountCall = "count-call"

// verb is what an action does; with its place it makes the id.
type verb uint8

const (
	setThermostat verb = iota
	pullFace
	mountFace
	powerOff
	powerOn
	lockOut
	tryControls
	openCover
	closeCover
	liveDeadLive
	discharge
	stripDead
	baseDead
	jumperIn
	jumperOut
	lift
	land
	changeFuse
	rest
	countCall
	resetBreaker
	stopPower
	verbCount
)

var verbNames = [verbCount]string{SetThermostat, "pull-face", "mount-face", "power-off", "power-on", "lock-out",
	"try-controls", "open-cover", "close-cover", "live-dead-live", "discharge", "strip-dead", "base-dead", "jumper-in",
	"jumper-out", "lift", "land", "change-fuse", "rest", CountCall, "reset-breaker", "stop-power"}

// ids holds every id, so that planning makes no strings.
var ids = func() (all [verbCount][4]string) {
	for v, name := range verbNames {
		all[v][house.NoPlace] = name
		for _, p := range house.Places() {
			all[v][p] = name + "-" + p.String()
		}
	}
	return all
}()

// do is verb v at place at, leading to after.
func (j *job) do(v verb, at house.Place, after State) Action {
	if why := j.forbidden(v, at); why != "" {
		return j.refuse(why)
	}
	after = j.settle(j.s, after)
	a := Action{Kind: Do, ID: ids[v][at], After: after, Text: j.words(v, at, after)}
	if v == rest || v == countCall {
		a.Wait = restSeconds
	}
	return a
}

// caution asks for the caution id; after holds the acknowledgement.
func (j *job) caution(id string, after State) Action {
	return Action{Kind: Caution, ID: id, Caution: id, After: after}
}

func (j *job) refuse(why string) Action {
	return Action{Kind: Refuse, ID: "refuse", Reason: why, After: j.s}
}

// forbidden tells why this audience may not do v, or nothing. A homeowner
// moves the thermostat and the indoor breaker; a dispatcher's caller sets the
// thermostat.
func (j *job) forbidden(v verb, at house.Place) string {
	if j.who == house.Tech || !j.has(RuleTechnician) {
		return ""
	}
	switch v {
	case setThermostat:
		return ""
	case pullFace, mountFace, stopPower:
		if j.who == house.Homeowner {
			return ""
		}
	case powerOff, powerOn, resetBreaker:
		if j.who == house.Homeowner && (at == house.AtIndoor || j.f.Equipment.Packaged()) {
			return ""
		}
	}
	return "this is work for a licensed technician"
}
