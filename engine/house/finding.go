package house

import "stepdown/engine/source"

// Finding is what a call can end with: a fault, two faults that no reading
// tells apart, or an end without a fault.
type Finding string

// The findings that are not a fault's own id.
const (
	TransformerFailed  Finding = "transformer-failed" // primary or secondary open
	OutdoorPairOpen    Finding = "outdoor-pair-open"  // Y or C open where only two conductors run out
	Undecided          Finding = "undecided"          // several faults still explain what was seen
	EmergencyFinding   Finding = "emergency"          // leave, call for help
	NotThisCircuit     Finding = "not-this-circuit"   // outside the control circuit
	DeclinedEquipment  Finding = "declined-equipment" // recognised, not metered
	LineVoltageStat    Finding = "line-voltage-thermostat"
	ControlVoltageHigh Finding = "control-voltage-high" // 30 to 50 V on control
	LineVoltageCrossed Finding = "line-voltage-crossed" // over 50 V on control: stop
)

var special = []Finding{TransformerFailed, OutdoorPairOpen, Undecided, EmergencyFinding, NotThisCircuit,
	DeclinedEquipment, LineVoltageStat, ControlVoltageHigh, LineVoltageCrossed}

// FindingOf is the finding that names f on e.
func FindingOf(f Fault, e Equipment) Finding {
	switch f {
	case TransformerPrimaryOpen, TransformerSecondaryOpen:
		return TransformerFailed
	case OpenYOutdoor, OpenCOutdoor:
		if strip := e.Strip(); e == NoEquipment || strip == LettersOf(Y, C) {
			return OutdoorPairOpen
		}
	}
	return Finding(f.String())
}

// Faults are the faults a finding names; none for an end without a fault.
func (f Finding) Faults() []Fault {
	switch f {
	case TransformerFailed:
		return []Fault{TransformerPrimaryOpen, TransformerSecondaryOpen}
	case OutdoorPairOpen:
		return []Fault{OpenYOutdoor, OpenCOutdoor}
	case ControlVoltageHigh:
		return []Fault{TransformerTapWrong}
	}
	if fault, err := ParseFault(string(f)); err == nil {
		return []Fault{fault}
	}
	return nil
}

// Findings lists every finding: the faults that have a name of their own,
// then the rest.
func Findings() []Finding {
	var out []Finding
	for _, f := range Faults() {
		if f != TransformerPrimaryOpen && f != TransformerSecondaryOpen {
			out = append(out, Finding(f.String()))
		}
	}
	return append(out, special...)
}

// ParseFinding reads a finding id.
func ParseFinding(word string) (Finding, error) {
	var words []string
	for _, f := range Findings() {
		if string(f) == word {
			return f, nil
		}
		words = append(words, string(f))
	}
	near, _ := source.Nearest(word, words)
	return "", &UnknownWord{Kind: "finding", Word: word, Nearest: near}
}

// Verdict is the sort of end a call comes to.
type Verdict uint8

// The verdicts.
const (
	VerdictUndecided Verdict = iota
	VerdictRepair
	VerdictSetting
	VerdictCallAPro
	VerdictEmergency
	VerdictNotControl
	VerdictWorks
)

var verdicts = newList[Verdict]("verdict", "undecided", "repair", "setting", "call-a-pro", "emergency", "not-control", "works")

func (v Verdict) String() string { return verdicts.id(v) }

var verdictWords = [...]string{"not decided", "repair", "something to set right, no part to change", "call a licensed technician",
	"emergency", "not the control circuit", "it works as asked"}

// Words say the verdict to a person.
func (v Verdict) Words() string { return verdictWords[v] }

// ParseVerdict reads a verdict id.
func ParseVerdict(word string) (Verdict, error) { return verdicts.parse(word) }

// Complaint is what the house does not do; one tree each.
type Complaint uint8

// The complaints; the last three are entered from other trees only.
const (
	NoComplaint Complaint = iota
	NoCooling
	NoHeat
	WrongWay
	DarkDisplay
	FanDead
	FanAlways
	OutdoorAlways
	HeatAlways
	AuxDead
	AuxAlways
	SecondStage
	Chatter
	FuseBlows
	FaultLightOn
	AfterSwap
	NoControlPower
	WeakControlPower
	TwoTransformers
)

var complaints = newList[Complaint]("complaint", "", "no-cooling", "no-heat", "wrong-way", "dark-display", "fan-dead",
	"fan-always", "outdoor-always", "heat-always", "aux-dead", "aux-always", "second-stage", "chatter", "fuse-blows",
	"fault-light", "after-swap", "no-control-power", "weak-control-power", "two-transformers")

func (c Complaint) String() string { return complaints.id(c) }

// ParseComplaint reads a complaint id.
func ParseComplaint(word string) (Complaint, error) { return complaints.parse(word) }

// Entered reports whether nobody calls about c: its tree is entered from others.
func (c Complaint) Entered() bool { return c >= NoControlPower }

// Complaints lists every complaint.
func Complaints() []Complaint { return complaints.all() }
