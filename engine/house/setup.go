package house

import "strings"

// Power is the state of one cabinet's feeds.
type Power uint8

// On: every feed closed. Off: opened but not locked. LockedOut: opened,
// locked and tagged.
const (
	On Power = iota
	Off
	LockedOut
)

// Mount tells whether the thermostat's face is on its base. Removed, it calls
// nothing.
type Mount uint8

// Mounted and Removed are the two.
const (
	Mounted Mount = iota
	Removed
)

// Mode is the thermostat's system switch.
type Mode uint8

// The four modes.
const (
	ModeOff Mode = iota
	ModeCool
	ModeHeat
	ModeEmergency
)

// Fuse is what sits in the board's fuse holder.
type Fuse uint8

// FuseBreaker is a resettable 3 A breaker in the fuse's place, for finding a
// short.
const (
	FuseAsFound Fuse = iota
	FuseOut
	FuseNew
	FuseBreaker
)

var (
	powers = newList[Power]("power", "on", "off", "locked-out")
	mounts = newList[Mount]("thermostat state", "mounted", "removed")
	modes  = newList[Mode]("mode", "off", "cool", "heat", "emergency")
	fuses  = newList[Fuse]("fuse state", "as-found", "out", "new", "breaker")
)

func (p Power) String() string { return powers.id(p) }
func (m Mount) String() string { return mounts.id(m) }
func (m Mode) String() string  { return modes.id(m) }
func (f Fuse) String() string  { return fuses.id(f) }

// Setup is the state of the house that a probe needs, or that it is in. The
// zero value is the default: everything on, thermostat mounted and off, no
// call, fan auto, no jumper, nothing lifted, fuse as found, covers closed.
// It is comparable.
type Setup struct {
	PowerIndoor, PowerOutdoor Power
	Thermostat                Mount
	Mode                      Mode
	Calling, FanOn            bool
	// Jumper joins R to each of its letters (R itself is implied and left
	// out) at JumperAt.
	Jumper                    Letters
	JumperAt                  Place
	Lifted                    Conductors
	Fuse                      Fuse
	CoverIndoor, CoverOutdoor bool // open
}

// DefaultSetup is the house as its people left it, thermostat off.
func DefaultSetup() Setup { return Setup{JumperAt: AtThermostat} }

// Power tells the feeds' state of the cabinet at p; the thermostat is fed
// from indoors.
func (s Setup) Power(p Place) Power {
	if p == AtOutdoor {
		return s.PowerOutdoor
	}
	return s.PowerIndoor
}

// CoverOpen tells whether the cover at p is off; the thermostat has none.
func (s Setup) CoverOpen(p Place) bool {
	return p == AtIndoor && s.CoverIndoor || p == AtOutdoor && s.CoverOutdoor
}

// Key is one key of a setup.
type Key uint8

// The keys, in the order they are shown.
const (
	KeyPowerIndoor Key = iota
	KeyPowerOutdoor
	KeyThermostat
	KeyMode
	KeyCalling
	KeyFan
	KeyJumper
	KeyJumperAt
	KeyLifted
	KeyFuse
	KeyCoverIndoor
	KeyCoverOutdoor
	keyCount
)

var keys = newList[Key]("setup key", "power-indoor", "power-outdoor", "thermostat", "mode",
	"calling", "fan", "jumper", "jumper-at", "lifted", "fuse", "cover-indoor", "cover-outdoor")

func (k Key) String() string { return keys.id(k) }

// ParseKey reads a setup key.
func ParseKey(word string) (Key, error) { return keys.parse(word) }

// Keys lists the keys in order.
func Keys() []Key { return keys.all() }

// IsList reports whether the key's value is a list of words.
func (k Key) IsList() bool { return k == KeyJumper || k == KeyLifted }

// Takes lists the words a plain key takes; none for a list.
func (k Key) Takes() []string {
	switch k {
	case KeyPowerIndoor, KeyPowerOutdoor:
		return powers.words()
	case KeyThermostat:
		return mounts.words()
	case KeyMode:
		return modes.words()
	case KeyCalling:
		return []string{"yes", "no"}
	case KeyFan:
		return []string{"auto", "on"}
	case KeyJumperAt:
		return []string{AtThermostat.String(), AtIndoor.String()}
	case KeyFuse:
		return fuses.words()
	case KeyCoverIndoor, KeyCoverOutdoor:
		return []string{"closed", "open"}
	}
	return nil
}

// Words gives the value of a key as its words: one for a plain key, any
// number for a list.
func (s Setup) Words(k Key) []string {
	switch k {
	case KeyPowerIndoor:
		return []string{s.PowerIndoor.String()}
	case KeyPowerOutdoor:
		return []string{s.PowerOutdoor.String()}
	case KeyThermostat:
		return []string{s.Thermostat.String()}
	case KeyMode:
		return []string{s.Mode.String()}
	case KeyCalling:
		return []string{either(s.Calling, "yes", "no")}
	case KeyFan:
		return []string{either(s.FanOn, "on", "auto")}
	case KeyJumper:
		return jumperWords(s.Jumper)
	case KeyJumperAt:
		return []string{s.JumperAt.String()}
	case KeyLifted:
		words := []string{}
		for _, c := range s.Lifted.List() {
			words = append(words, c.String())
		}
		return words
	case KeyFuse:
		return []string{s.Fuse.String()}
	case KeyCoverIndoor:
		return []string{either(s.CoverIndoor, "open", "closed")}
	case KeyCoverOutdoor:
		return []string{either(s.CoverOutdoor, "open", "closed")}
	}
	return nil
}

func jumperWords(j Letters) []string {
	words := []string{}
	if j == 0 {
		return words
	}
	words = append(words, R.String())
	for _, t := range j.List() {
		words = append(words, t.String())
	}
	return words
}

// String lists what differs from the default.
func (s Setup) String() string {
	var parts []string
	def := DefaultSetup()
	for _, k := range Keys() {
		words := s.Words(k)
		if k.IsList() && len(words) == 0 || !k.IsList() && words[0] == def.Words(k)[0] {
			continue
		}
		parts = append(parts, k.String()+"="+strings.Join(words, ","))
	}
	if len(parts) == 0 {
		return "as the house stands, thermostat off"
	}
	return strings.Join(parts, " ")
}

func either(b bool, yes, no string) string {
	if b {
		return yes
	}
	return no
}
