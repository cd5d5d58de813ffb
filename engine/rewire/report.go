package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/letter"
)

// State is what a case came to.
type State string

// A landing that is proven; one question first; no landing is right on this
// base; nobody here can settle it.
const (
	Answer    State = "answer"
	Asks      State = "question"
	Blocked   State = "blocked"
	Undecided State = "undecided"
)

// Report is the answer to a case.
type Report struct {
	Case      Case
	State     State
	Why       []string  // what stands in the way, or what is open
	Question  *Question // where State is Asks
	Equipment []house.Equipment

	// Where State is Answer:
	Plan     Plan
	Landing  []Placement
	Settings []Setting
	Lost     []string // what the new base cannot do, though the rest works
	Common   []Option // where there is no common
	Proofs   []Proof  // in the house at the centre of every range
	Edges    []Edge   // at the ends of the ranges: no wrong load, no short
	Tight    []string // what strains there
}

// Confidence is how sure a placement is.
type Confidence string

// Confidences, surest first.
const (
	ByReading   Confidence = "read"       // a reading decides
	ByBoth      Confidence = "sure"       // the equipment and the old base agree
	ByEquipment Confidence = "good"       // the screw at the equipment
	ByOldLetter Confidence = "fair"       // the old base's letter alone
	ByNotNeeded Confidence = "not needed" // capped: the rest covers every call
)

// Placement is where one conductor goes and why.
type Placement struct {
	Conductor  Conductor
	Is         house.Terminal // its board screw; NoTerminal for a spare
	To         house.Terminal // on the new base; NoTerminal: capped
	Confidence Confidence
	Reason     string
}

// Setting is one setting of the new thermostat and how to tell.
type Setting struct{ ID, Value, Why string }

// Option is a way to feed a thermostat where no conductor is the common.
type Option struct {
	ID, Text string
	Means    string
	Proven   bool // the model bears it out
}

func (m *mind) placements(p Plan) []Placement {
	h := m.hyps[0]
	out := make([]Placement, len(h.is))
	for k, w := range m.c.Conductors {
		out[k] = Placement{Conductor: w, Is: h.is[k], To: p.To[k]}
		out[k].Confidence, out[k].Reason = m.evidence(h, k)
	}
	return out
}

// evidence says which evidence decided conductor k.
func (m *mind) evidence(h hypothesis, k int) (Confidence, string) {
	w, t := m.c.Conductors[k], h.is[k]
	is := meaningWord(t)
	on := func(mark Mark) bool { return mark.State == OnLetter || mark.State == OnNone }
	var conf Confidence
	var why string
	switch {
	case m.told(k):
		conf, why = ByReading, "a reading shows "+is
		if on(w.Old) && !w.Old.agrees(t) {
			why += ", though the old base says " + w.Old.String()
		}
	case w.RungOut:
		conf, why = ByReading, "rung out to "+w.Board.String()+" at the equipment"
		if on(w.Old) && !w.Old.agrees(t) {
			why += ", though the old base says " + w.Old.String()
		}
	case m.conflicts(k):
		conf, why = ByReading, "the readings leave it "+is
	case w.Board.State == OnLetter && w.Old.State == OnLetter:
		conf, why = ByBoth, fmt.Sprintf("%s at the equipment and %s on the old base", w.Board, w.Old)
	case w.Board.State == OnLetter:
		conf, why = ByEquipment, w.Board.String()+" at the equipment"
	case w.Old.State == OnLetter:
		conf, why = ByOldLetter, w.Old.String()+" on the old base; nobody looked at the equipment"
	case on(w.Board):
		conf, why = ByEquipment, "on no screw at the equipment"
	case on(w.Old):
		conf, why = ByOldLetter, "on no screw of the old base"
	default:
		return ByNotNeeded, "nobody knows what it is; the rest covers every call"
	}
	return conf, why + w.colourNote(t)
}

// agrees reports whether a mark is the usual letter of a board screw.
func (m Mark) agrees(t house.Terminal) bool {
	switch {
	case m.State == OnNone:
		return t == spare
	case m.OB:
		return t == house.O || t == house.B
	case m.Letter == house.Rc || m.Letter == house.Rh:
		return t == m.Letter || t == house.R
	case m.Letter == house.W || m.Letter == house.E:
		return t == m.Letter || t == house.W2
	}
	return m.Letter == t
}

// colourNote says that a colour was not believed.
func (w Conductor) colourNote(t house.Terminal) string {
	hint := letter.Hint(w.Colour)
	if t == spare || len(hint) == 0 || slices.Contains(letter.Colours(t), w.Colour) {
		return ""
	}
	return fmt.Sprintf("; %s is more often %s, but a colour decides nothing", w.Colour, hint[0])
}

// settings are what the new thermostat is told, and how to tell.
func settings(m *mind, p Plan) []Setting {
	out := []Setting{{"system", "conventional", "no reversing valve"}}
	if p.Pump {
		out[0] = Setting{"system", "heat pump", "there is a reversing valve"}
		out = append(out, m.changeoverSetting(p))
		backup := Setting{"auxiliary", "electric", "the strips help the heat pump"}
		if p.GasBackup {
			backup = Setting{"auxiliary", "gas", "the furnace takes over from the heat pump; never both"}
		}
		out = append(out, backup)
	} else if m.c.New.Letters.Has(house.G) {
		fan := Setting{"fan-in-heat", "by the furnace", "the furnace starts its own blower"}
		if p.FanOnHeat {
			fan = Setting{"fan-in-heat", "by the thermostat", "electric heat: the thermostat calls G with W"}
		}
		out = append(out, fan)
	}
	return out
}

func (m *mind) changeoverSetting(p Plan) Setting {
	s := Setting{ID: "changeover", Value: "energised in cooling"}
	if p.Changeover == house.ModeHeat {
		s.Value = "energised in heating"
	}
	_, rated := m.c.saw(house.ChangeoverRated)
	_, old := m.c.saw(house.ChangeoverSetting)
	switch {
	case rated:
		s.Why = "the outdoor unit's diagram says so"
	case old:
		s.Why = "the old thermostat was set so"
	default:
		s.Why = "by the letter; the outdoor unit's diagram has the last word"
	}
	s.Why += ". Cooling that blows warm and heating that blows cool means it is the other way"
	return s
}

// common adds what can be done without a common, each tried in the model.
func (m *mind) common(r Report, h hypothesis) (Report, error) {
	if h.conductors().Has(house.C) {
		return r, nil
	}
	b := m.c.New
	if b.Letters.Has(house.C) {
		for k, w := range m.c.Conductors {
			if h.is[k] == spare && (w.Old.State == OnNone || w.Board.State == OnNone) {
				with := hypothesis{h.eq, slices.Clone(h.is)}
				with.is[k] = house.C
				good, err := m.tried(with, b)
				if err != nil {
					return r, err
				}
				r.Common = append(r.Common, Option{"spare-conductor", fmt.Sprintf("Use the spare %s: C at the equipment, C here.", w.Name),
					"A technician lands its other end on C at the board, power locked out. The thermostat is then fed all the time.", good})
			}
		}
		with := hypothesis{h.eq, append(slices.Clone(h.is), house.C)}
		good, err := m.tried(with, b)
		if err != nil {
			return r, err
		}
		r.Common = append(r.Common, Option{"added-common", "Have a conductor added, from C at the equipment to C here.",
			"A technician pulls a cable with one conductor more.", good})
	}
	battery := Option{"battery", "Use a thermostat that runs on batteries.", "No common is needed. Flat batteries stop every call: change them each year.", false}
	if b.Power == PowerBattery || b.Power == PowerEither {
		battery.Text = "Run this thermostat on batteries."
	}
	b.Power = PowerBattery
	var err error
	battery.Proven, err = m.tried(h, b)
	r.Common = append(r.Common, battery)
	return r, err
}

// tried reports whether a hypothesis lands and every call is right.
func (m *mind) tried(h hypothesis, b Base) (bool, error) {
	p := place(h, b)
	if len(p.lack) > 0 {
		return false, nil
	}
	proof, err := h.prove(p.Plan, b, p.Joined)
	return err == nil && proof.Good(), err
}

func (m *mind) ask(r Report, q Question) Report {
	r.State, r.Question, r.Equipment = Asks, &q, m.equipment()
	return r
}

// undecided says what is open and who can close it.
func (m *mind) undecided(r Report) Report {
	r.State, r.Equipment = Undecided, m.equipment()
	for _, k := range m.open {
		w := m.c.Conductors[k]
		set := may(m.loose, k)
		if w.suspect() {
			set |= meaningOf(spare)
		}
		var words []string
		for _, t := range set.list() {
			if t == spare {
				words = append(words, "a spare")
				continue
			}
			words = append(words, meaningWord(t))
		}
		line := fmt.Sprintf("%s may be %s.", w.label(), strings.Join(words, " or "))
		if len(words) == 0 {
			line = fmt.Sprintf("Nobody knows what %s is.", w.label())
		}
		r.Why = append(r.Why, line)
	}
	switch {
	case m.vague:
		r.Why = append(r.Why, "Too many of these wires may be too many things. Follow them to the screws at the equipment first.")
	case len(m.hyps) == 0:
		r.Why = append(r.Why, m.whyNone()...)
	}
	switch {
	case m.c.Audience != house.Tech:
		r.Why = append(r.Why, "Land none of these wires. A licensed technician can read them with the power locked out.")
	case len(m.open) > 0:
		r.Why = append(r.Why, "Land none of these wires before it is known. Follow the cable to the equipment.")
	}
	return r
}

// whyNone says what keeps the letters from fitting.
func (m *mind) whyNone() []string {
	if m.clash {
		return []string{"The readings fit no wiring of these letters. Start again from the screws at the equipment."}
	}
	if m.c.Equipment == house.NoEquipment || len(m.all) != 1 {
		return []string{"These letters fit no system known here."}
	}
	e := m.all[0]
	var have meaning
	var out []string
	for _, w := range m.c.Conductors {
		wide, _ := w.wide(e)
		have |= wide
		if wide == 0 && (w.Old.State == OnLetter || w.Board.State == OnLetter) {
			out = append(out, fmt.Sprintf("%s has no place in %s.", w.label(), e.ID.Title()))
		}
	}
	for _, t := range required(e).List() {
		if !have.has(t) {
			out = append(out, fmt.Sprintf("No conductor is known to be %s, and %s needs it.", t, e.ID.Title()))
		}
	}
	for i, a := range m.c.Conductors {
		for _, b := range m.c.Conductors[:i] {
			if twoHots(a, b) && e.ID != house.SplitPower {
				out = append(out, fmt.Sprintf("%s and %s are on Rc and Rh: that is two transformers, not %s.", b.Name, a.Name, e.ID.Title()))
			}
		}
	}
	if len(out) == 0 {
		out = append(out, "Two conductors would have to be the same one.")
	}
	return out
}
