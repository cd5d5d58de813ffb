package house

// Family groups faults for a verdict.
type Family uint8

// The families.
const (
	NoFamily Family = iota
	FamilyNone
	Waiting
	Supply
	Transformer
	Protection
	ConductorFamily
	Coil
	Contactor
	Board
	Setting
	Thermostat
	BeyondControl
)

var families = newList[Family]("family", "", "none", "waiting", "supply", "transformer", "protection",
	"conductor", "coil", "contactor", "board", "setting", "thermostat", "beyond-control")

func (f Family) String() string { return families.id(f) }

// Fault is one thing that can be wrong with the circuit, or none.
type Fault uint8

// The faults, family by family.
const (
	NoFault Fault = iota // not a fault id: nothing chosen
	None
	DelayRunning
	NoLineIndoor
	NoLineOutdoor
	DoorSwitchOpen
	TransformerPrimaryOpen
	TransformerSecondaryOpen
	TransformerWeak
	TransformerTapWrong
	TransformerOverloaded
	FuseBlown
	FloatOpen
	PressureSwitchOpen
	LockoutOutdoor
	LimitOpen
	RolloutOpen
	OpenR
	OpenC
	OpenY
	OpenY2
	OpenG
	OpenW
	OpenW2
	OpenChangeover
	OpenYOutdoor
	OpenCOutdoor
	OpenROutdoor
	OpenW2Outdoor
	OpenChangeoverOutdoor
	LooseR
	LooseC
	ShortRC
	ShortYC
	ShortGC
	ShortWC
	ShortW2C
	ShortChangeoverC
	ShortYCOutdoor
	CrossedRY
	CrossedRG
	CrossedRW
	CrossedRW2
	CrossedRChangeover
	ContactorCoilOpen
	ContactorCoilShorted
	ValveCoilOpen
	ValveCoilShorted
	FanRelayOpen
	SequencerOpen
	Stage2Open
	ContactorStuckOpen
	ContactorContactsOpen
	ContactorWelded
	FanRelayWelded
	SequencerWelded
	FurnaceBoardNoHeat
	BoardNoFanOutput
	OutdoorBoardNoOutput
	DefrostStuck
	ChangeoverWrong
	StatSetting
	StatBatteryDead
	StatNotSeated
	JumperRcRhMissing
	JumperRcRhWrong
	CommonOnB
	StatDead
	StatYOpen
	StatY2Open
	StatGOpen
	StatWOpen
	StatW2Open
	StatChangeoverOpen
	StatYStuck
	StatGStuck
	StatWStuck
	StatW2Stuck
	StatChangeoverStuck
	ValveStuck
	BlowerNoResponse
	OutdoorBeyondContactor
	faultCount
)

var faults = newList[Fault]("fault", "",
	"none", "delay-running",
	"no-line-indoor", "no-line-outdoor", "door-switch-open",
	"transformer-primary-open", "transformer-secondary-open", "transformer-weak", "transformer-tap-wrong", "transformer-overloaded",
	"fuse-blown", "float-open", "pressure-switch-open", "lockout-outdoor", "limit-open", "rollout-open",
	"open-r", "open-c", "open-y", "open-y2", "open-g", "open-w", "open-w2", "open-changeover",
	"open-y-outdoor", "open-c-outdoor", "open-r-outdoor", "open-w2-outdoor", "open-changeover-outdoor",
	"loose-r", "loose-c",
	"short-r-c", "short-y-c", "short-g-c", "short-w-c", "short-w2-c", "short-changeover-c", "short-y-c-outdoor",
	"crossed-r-y", "crossed-r-g", "crossed-r-w", "crossed-r-w2", "crossed-r-changeover",
	"contactor-coil-open", "contactor-coil-shorted", "valve-coil-open", "valve-coil-shorted", "fan-relay-open", "sequencer-open", "stage2-open",
	"contactor-stuck-open", "contactor-contacts-open", "contactor-welded", "fan-relay-welded", "sequencer-welded",
	"furnace-board-no-heat", "board-no-fan-output", "outdoor-board-no-output", "defrost-stuck",
	"changeover-wrong", "stat-setting", "stat-battery-dead", "stat-not-seated", "jumper-rc-rh-missing", "jumper-rc-rh-wrong", "common-on-b",
	"stat-dead", "stat-y-open", "stat-y2-open", "stat-g-open", "stat-w-open", "stat-w2-open", "stat-changeover-open",
	"stat-y-stuck", "stat-g-stuck", "stat-w-stuck", "stat-w2-stuck", "stat-changeover-stuck",
	"valve-stuck", "blower-no-response", "outdoor-beyond-contactor")

func (f Fault) String() string { return faults.id(f) }

// ParseFault reads a fault id.
func ParseFault(word string) (Fault, error) { return faults.parse(word) }

// Faults lists every fault, none first.
func Faults() []Fault { return faults.all() }

// familyEnds gives the last fault of each family, in order.
var familyEnds = []struct {
	last   Fault
	family Family
}{
	{None, FamilyNone}, {DelayRunning, Waiting}, {DoorSwitchOpen, Supply}, {TransformerOverloaded, Transformer},
	{RolloutOpen, Protection}, {CrossedRChangeover, ConductorFamily}, {Stage2Open, Coil}, {SequencerWelded, Contactor},
	{DefrostStuck, Board}, {CommonOnB, Setting}, {StatChangeoverStuck, Thermostat}, {OutdoorBeyondContactor, BeyondControl},
}

// Family is the group f belongs to.
func (f Fault) Family() Family {
	if f == NoFault {
		return NoFamily
	}
	for _, end := range familyEnds {
		if f <= end.last {
			return end.family
		}
	}
	return NoFamily
}

// Condemns reports whether f's repair replaces the thermostat.
func (f Fault) Condemns() bool { return f.Family() == Thermostat }

// FaultSet is a set of faults; comparable.
type FaultSet [2]uint64

// FaultsOf makes a set.
func FaultsOf(fs ...Fault) FaultSet {
	var s FaultSet
	for _, f := range fs {
		s = s.Add(f)
	}
	return s
}

// Add returns the set with f in it.
func (s FaultSet) Add(f Fault) FaultSet { s[f/64] |= 1 << (f % 64); return s }

// Has reports whether f is in the set.
func (s FaultSet) Has(f Fault) bool { return s[f/64]&(1<<(f%64)) != 0 }

// Union returns what is in either.
func (s FaultSet) Union(o FaultSet) FaultSet { return FaultSet{s[0] | o[0], s[1] | o[1]} }

// Intersect returns what is in both.
func (s FaultSet) Intersect(o FaultSet) FaultSet { return FaultSet{s[0] & o[0], s[1] & o[1]} }

// Minus returns what is in s and not in o.
func (s FaultSet) Minus(o FaultSet) FaultSet { return FaultSet{s[0] &^ o[0], s[1] &^ o[1]} }

// Empty reports whether the set has no member.
func (s FaultSet) Empty() bool { return s == FaultSet{} }

// List gives the members in the order of the closed list.
func (s FaultSet) List() []Fault {
	var out []Fault
	for f := None; f < faultCount; f++ {
		if s.Has(f) {
			out = append(out, f)
		}
	}
	return out
}
