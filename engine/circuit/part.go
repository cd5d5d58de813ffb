package circuit

// kind is how a part enters the network.
type kind uint8

const (
	feedKind        kind = iota // line voltage behind a breaker
	switchKind                  // closed unless a fault opens it
	transformerKind             // four ends: primary, secondary
	fuseKind
	coilKind   // an armature: its impedance changes when it pulls in
	heaterKind // resistive, with a threshold at which it acts
	loadKind   // resistive, always there
	motorKind  // a load whose windings leak to the cabinet
	senseKind  // looks at a voltage and draws nothing
	makeKind   // a control's or contactor's contact, open at rest
	breakKind  // a control's contact, closed at rest
	bondKind   // a joint to the cabinet
)

// partRow is what the program knows of one kind of part: how it enters the
// network and which group of values it uses unless the file says otherwise.
type partRow struct {
	kind kind
	uses string
}

// partRows is the closed list of parts an equipment file may name.
var partRows = map[string]partRow{
	"feed":             {kind: feedKind},
	"feed2":            {kind: feedKind},
	"feed-outdoor":     {kind: feedKind},
	"door":             {kind: switchKind, uses: "joint"},
	"float":            {kind: switchKind, uses: "joint"},
	"limit":            {kind: switchKind, uses: "joint"},
	"rollout":          {kind: switchKind, uses: "joint"},
	"pressure":         {kind: switchKind, uses: "joint"},
	"transformer":      {kind: transformerKind, uses: "transformer"},
	"heat-transformer": {kind: transformerKind, uses: "transformer"},
	"fuse":             {kind: fuseKind, uses: "fuse"},
	"contactor":        {kind: coilKind, uses: "contactor"},
	"fan-relay":        {kind: coilKind, uses: "fan-relay"},
	"reversing-valve":  {kind: coilKind, uses: "reversing-valve"},
	"stage2":           {kind: coilKind, uses: "stage2"},
	"sequencer":        {kind: heaterKind, uses: "sequencer"},
	"gas-valve":        {kind: heaterKind, uses: "gas-valve"},
	"burner-control":   {kind: heaterKind, uses: "burner-control"},
	"fan-input":        {kind: heaterKind, uses: "fan-input"},
	"sensing":          {kind: loadKind, uses: "sensing"},
	"defrost-control":  {kind: loadKind, uses: "defrost-control"},
	"compressor":       {kind: motorKind, uses: "compressor"},
	"call-sense":       {kind: senseKind, uses: "defrost-control"},
	"pole-1":           {kind: makeKind, uses: "joint"},
	"pole-2":           {kind: makeKind, uses: "joint"},
	"gas-output":       {kind: makeKind, uses: "joint"},
	"fault-output":     {kind: makeKind, uses: "joint"},
	"heat-output":      {kind: makeKind, uses: "joint"},
	"valve-output":     {kind: makeKind, uses: "joint"},
	"lockout-contact":  {kind: breakKind, uses: "joint"},
	"valve-release":    {kind: breakKind, uses: "joint"},
	"bond":             {kind: bondKind, uses: "joint"},
	"heat-bond":        {kind: bondKind, uses: "joint"},
}

// keys lists the values a kind of part reads from its group.
func (k kind) keys() []string {
	switch k {
	case feedKind:
		return []string{"volts", "source-ohms"}
	case transformerKind:
		return []string{"open-circuit-volts", "series-ohms", "primary-ohms", "rated-volt-amperes"}
	case fuseKind:
		return []string{"ohms", "amperes", "blows-at-times"}
	case coilKind:
		return []string{"dc-ohms", "sealed-ohms", "inrush-ohms", "pick-up-volts", "drop-out-volts"}
	case heaterKind:
		return []string{"ohms", "pick-up-volts", "drop-out-volts"}
	case motorKind:
		return []string{"ohms", "insulation-ohms", "shell-nanofarads"}
	case senseKind:
		return []string{"lockout-volts", "reset-volts"}
	}
	return []string{"ohms"}
}

// ends is how many ends a kind of part has.
func (k kind) ends() int {
	if k == transformerKind {
		return 4
	}
	return 2
}

// alwaysUsed are the groups of values every equipment reads.
var alwaysUsed = map[string][]string{
	"joint": {"ohms"},
	"cable": {"stat-metres", "outdoor-metres", "celsius", "picofarads-per-metre"},
	"stat": {"closed-ohms", "open-ohms", "volt-amperes", "off-ohms", "least-volts",
		"leak-ohms", "leak-least-volts", "leak-least-amperes"},
	"fault": {"short-ohms", "bridge-ohms", "loose-ohms", "weak-times", "overload-ohms", "shorted-coil-ohms"},
}

// Choice is one thing about a house that is one of a few, drawn like a value.
type Choice uint8

// The choices. Those after Gauge say how a fault shows, and matter only to it.
const (
	FloatIn        Choice = iota // the float switch in R, or in Y
	Sensing                      // the board loads Y to C
	Supply                       // what feeds the thermostat
	LeakInto                     // the load a supply through a load leaks into
	CommonWire                   // the C conductor to the thermostat is there
	BaseR                        // one R screw, or Rc and Rh joined
	FaultWire                    // the L conductor is there
	EScrew                       // the base has E joined to W2
	EmergencyValve               // B stays energised in emergency heat
	Poles                        // contactor poles
	Gauge                        // AWG of both cables
	TapWrong                     // which way the tap is wrong
	NoHeatShows                  // what a failed furnace board's burner does
	BeyondShows                  // what an outdoor unit failed past its contactor does
	BreakerShows                 // how the breaker of a dead feed stands
	DoorShows                    // how the panel over an open door switch sits
	PanShows                     // the pan under an open float switch
	BatteryShows                 // the display on dead batteries
	DelayShows                   // the display during a compressor delay
	ValveSticks                  // the position a stuck valve stays in
	choiceCount
)

// choiceRow is one choice's word and legal options, the nominal one first.
type choiceRow struct {
	id      string
	options []string
	always  bool // every equipment draws it
}

var choiceRows = [choiceCount]choiceRow{
	FloatIn:        {id: "float-in", options: []string{"R", "Y"}},
	Sensing:        {id: "sensing", options: []string{"no", "yes"}},
	Supply:         {id: "stat-supply", options: []string{"common", "battery", "through-load"}},
	LeakInto:       {id: "leak-into", options: []string{"W", "Y"}},
	CommonWire:     {id: "common-wire", options: []string{"yes", "no"}},
	BaseR:          {id: "base-r", options: []string{"single", "rc-rh"}},
	FaultWire:      {id: "fault-wire", options: []string{"no", "yes"}},
	EScrew:         {id: "e-screw", options: []string{"no", "yes"}},
	EmergencyValve: {id: "emergency-valve", options: []string{"no", "yes"}},
	Poles:          {id: "poles", options: []string{"2", "1"}},
	Gauge:          {id: "gauge", options: []string{"18", "20"}, always: true},
	TapWrong:       {id: "tap-wrong", options: []string{"up", "down"}, always: true},
	NoHeatShows:    {id: "no-heat-shows", options: []string{"nothing", "inducer-only"}, always: true},
	BeyondShows:    {id: "beyond-shows", options: []string{"fan-only", "humming", "stopped"}, always: true},
	BreakerShows:   {id: "breaker-shows", options: []string{"tripped", "off", "on"}, always: true},
	DoorShows:      {id: "door-shows", options: []string{"loose", "seated"}, always: true},
	PanShows:       {id: "pan-shows", options: []string{"full", "dry"}, always: true},
	BatteryShows:   {id: "battery-shows", options: []string{"blank", "low-battery"}, always: true},
	DelayShows:     {id: "delay-shows", options: []string{"waiting", "lit"}, always: true},
	ValveSticks:    {id: "valve-sticks", options: []string{"released", "energised"}, always: true},
}

func (c Choice) String() string { return choiceRows[c].id }
