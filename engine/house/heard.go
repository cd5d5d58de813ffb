package house

import "strings"

// heard are the other words people use for a look's answers, in the order of
// the answers; rows of words stand between commas. They are read only against
// the very look that is asked, so that "no" may mean a different thing each
// time.
var heard = map[Look][]string{
	StatKind:          {"low voltage, ordinary, normal, thin wires, 24 volt, 24 volts", "line voltage, 240, 120, thick wires, baseboard"},
	Display:           {"on, normal, working, fine, ok", "off, dark, dead, black, nothing, empty, not lit", "battery, low batt, batteries", "wait, delay, blinking, flashing"},
	IndoorFan:         {"yes, on, runs, blowing, air moves", "no, off, not running, nothing, quiet, silent, no air"},
	OutdoorUnit:       {"on, runs", "fan only, only fan, just fan, fan", "hums", "chatters, clicking, clicks, buzzing", "off, not running, nothing, dead, quiet, silent"},
	Air:               {"hot, warmer, warm air, hot air", "cold, cooler, cold air, cool air", "same, neither, room temperature, same as room, as room", "nothing, no air"},
	BreakerIndoor:     {"fully on", "", "trip, middle, in middle"},
	BreakerOutdoor:    {"fully on", "", "trip, middle, in middle"},
	DrainPan:          {"no, empty, nothing, no water", "yes, wet, water, standing water"},
	PanelIndoor:       {"yes, tight, closed, flush, shut", "no, open, ajar, off, missing"},
	FaultLight:        {"no, none, not on", "yes, lit, red"},
	ChangeoverSetting: {"o, cool", "b, heat"},
	BatteriesNew:      {"no, nothing, no change, still same", "yes, works, working, it works"},
	Burner:            {"none, off", "inducer, only inducer, small fan", "goes out, went out, lights then goes out", "on, lit, burns, stays lit"},
	ContactorLook:     {"in, pulled, closed", "out, open, not pulled in", "chatters, buzzing, clicking"},
	Stage2Look:        {"yes, pulled in", "no, not in, released"},
	FuseLook:          {"ok, fine, whole, intact, not blown", "burnt, burned, bad, popped, open"},
	BoardLight:        {"dark, none", "on, solid", "blinking, blinks, flashes"},
	ChangeoverRated:   {"o, cool", "b, heat"},
}

// Heard reads words said in answer to l: an answer's id, or another word for
// it. The words are lower case, single-spaced and without articles.
func (l Look) Heard(words string) (Answer, bool) {
	for _, a := range l.Answers() {
		if words == strings.ReplaceAll(l.AnswerID(a), "-", " ") || words == l.AnswerID(a) {
			return a, true
		}
	}
	for i, rows := range heard[l] {
		for row := range strings.SplitSeq(rows, ", ") {
			if row != "" && words == row {
				return Answer(i + 1), true
			}
		}
	}
	return NoAnswer, false
}
