package house

// Look is something a person sees, hears or feels; no meter.
type Look uint8

// The looks, in the order of the closed list.
const (
	NoLook Look = iota
	StatKind
	Display
	IndoorFan
	OutdoorUnit
	Air
	BreakerIndoor
	BreakerOutdoor
	DrainPan
	PanelIndoor
	FaultLight
	ChangeoverSetting
	BatteriesNew
	Burner
	ContactorLook
	Stage2Look
	FuseLook
	BoardLight
	ChangeoverRated
)

// Answer is an answer's id. Answers are kept apart per look, since the words
// of different looks coincide.
type Answer uint8

// NoAnswer is the zero answer; a look's answers count from one.
const NoAnswer Answer = 0

// lookRow is what the vocabulary says of one look.
type lookRow struct {
	id       string
	question string
	answers  []string
	says     []string // an answer in words, as a person would say it
	at       Place    // behind that place's cover, NoPlace where anyone can see it
	who      reach
	// needsPower: the look means nothing with the feeds off.
	needsPower bool
}

type reach uint8

const (
	byTech reach = 1 << iota
	byHomeowner
	byDispatcher
	everyone = byTech | byHomeowner | byDispatcher
)

var lookRows = []lookRow{
	{},
	{id: "stat-kind", question: "What kind of thermostat is it?", answers: []string{"low-voltage", "line-voltage"},
		says: []string{"an ordinary one: nothing on it says 120 or 240", "it runs a baseboard or wall heater, is marked 120 or 240, or has thick wires with twist-on connectors"}, who: everyone},
	{id: "display", question: "What does the thermostat's display show?", answers: []string{"lit", "blank", "low-battery", "waiting"},
		says: []string{"lit, as usual", "blank, nothing on it", "a low-battery sign", "lit, and it says wait or delay, or COOL or HEAT flashes"}, who: everyone, needsPower: true},
	{id: "indoor-fan", question: "Is the indoor fan running?", answers: []string{"running", "stopped"},
		says: []string{"running: air moves at the registers", "stopped: no air, no hum"}, who: everyone, needsPower: true},
	{id: "outdoor-unit", question: "What does the outdoor unit do?", answers: []string{"running", "fan-only", "humming", "chattering", "stopped"},
		says: []string{"running: fan turns, compressor hums", "only the fan turns", "it hums but nothing turns", "it chatters: a fast clicking or buzzing", "stopped and quiet"}, who: everyone, needsPower: true},
	{id: "air", question: "How is the air from a vent that blows into a room?", answers: []string{"warm", "cool", "room", "none"},
		says: []string{"warmer than the room", "cooler than the room", "as the room", "no air comes"}, who: everyone, needsPower: true},
	{id: "breaker-indoor", question: "How does the indoor unit's breaker handle stand?", answers: []string{"on", "off", "tripped"},
		says: []string{"fully on", "off", "in the middle, or it shows tripped"}, who: everyone},
	{id: "breaker-outdoor", question: "How does the outdoor unit's breaker handle stand?", answers: []string{"on", "off", "tripped"},
		says: []string{"fully on", "off", "in the middle, or it shows tripped"}, who: everyone},
	{id: "drain-pan", question: "Is there water in the pan under the indoor coil?", answers: []string{"dry", "full"},
		says: []string{"dry or nearly", "water stands in it"}, who: everyone},
	{id: "panel-indoor", question: "Does the indoor unit's door panel sit tight?", answers: []string{"seated", "loose"},
		says: []string{"tight and flush", "loose, ajar or off"}, who: everyone},
	{id: "fault-light", question: "Is a fault or service light on at the thermostat?", answers: []string{"off", "on"},
		says: []string{"no", "yes, it is on"}, who: everyone, needsPower: true},
	{id: "changeover-setting", question: "In the thermostat's setup menu: when is the reversing valve on?", answers: []string{"cooling", "heating"},
		says: []string{"in cooling (often shown as O)", "in heating (often shown as B)"}, who: byTech | byHomeowner},
	{id: "batteries-new", question: "Put in fresh batteries. Did that mend it?", answers: []string{"same", "fixed"},
		says: []string{"no, the same as before", "yes, it works now"}, who: everyone, needsPower: true},
	{id: "burner", question: "What does the burner do when heat is asked for?", answers: []string{"nothing", "inducer-only", "lights-then-quits", "burning"},
		says: []string{"nothing at all", "a small fan runs, no flame", "it lights, then goes out", "it burns"}, who: everyone, needsPower: true},
	{id: "contactor", question: "What does the contactor do?", answers: []string{"pulled-in", "released", "chattering"},
		says: []string{"pulled in", "released", "chattering"}, at: AtOutdoor, who: byTech, needsPower: true},
	{id: "stage2", question: "Is the second stage in?", answers: []string{"in", "out"},
		says: []string{"in", "out"}, at: AtOutdoor, who: byTech, needsPower: true},
	{id: "fuse-look", question: "How does the board's blade fuse look?", answers: []string{"good", "blown"},
		says: []string{"whole", "blown: the link is burnt through"}, at: AtIndoor, who: byTech},
	{id: "board-light", question: "What does the board's light do?", answers: []string{"off", "steady", "flashing"},
		says: []string{"off", "steady", "flashing (note the count, and read that unit's own label)"}, at: AtIndoor, who: byTech, needsPower: true},
	{id: "changeover-rated", question: "By the unit's own wiring diagram: when is the reversing valve energised?", answers: []string{"cooling", "heating"},
		says: []string{"in cooling", "in heating"}, at: AtOutdoor, who: byTech},
}

var looks = newList[Look]("look", lookIDs()...)

func lookIDs() []string {
	ids := make([]string, len(lookRows))
	for i, row := range lookRows {
		ids[i] = row.id
	}
	return ids
}

func (l Look) String() string { return looks.id(l) }

// ParseLook reads a look id.
func ParseLook(word string) (Look, error) { return looks.parse(word) }

// Looks lists every look.
func Looks() []Look { return looks.all() }

// Question is the look as a question.
func (l Look) Question() string { return lookRows[l].question }

// At is the place whose cover hides the look, NoPlace where none does.
func (l Look) At() Place { return lookRows[l].at }

// NeedsPower reports whether the look means anything with the feeds off.
func (l Look) NeedsPower() bool { return lookRows[l].needsPower }

// Answers lists the look's answers.
func (l Look) Answers() []Answer {
	out := make([]Answer, len(lookRows[l].answers))
	for i := range out {
		out[i] = Answer(i + 1)
	}
	return out
}

// AnswerID is the id of one of l's answers.
func (l Look) AnswerID(a Answer) string {
	if a == NoAnswer || int(a) > len(lookRows[l].answers) {
		return ""
	}
	return lookRows[l].answers[a-1]
}

// AnswerText is the answer as a person would say it.
func (l Look) AnswerText(a Answer) string {
	if l.AnswerID(a) == "" {
		return ""
	}
	return lookRows[l].says[a-1]
}

// ParseAnswer reads an answer id of l.
func (l Look) ParseAnswer(word string) (Answer, error) {
	for i, answer := range lookRows[l].answers { // a proof sees millions of answers: no list is made for a good one
		if answer == word {
			return Answer(i + 1), nil
		}
	}
	return newList[Answer](l.String()+" answer", append([]string{""}, lookRows[l].answers...)...).parse(word)
}
