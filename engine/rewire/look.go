package rewire

import (
	"fmt"
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// jumperable are the board letters R may be joined to: never the common, never
// B, which may be one.
var jumperable = meaningOf(house.Y, house.Y2, house.W, house.W2, house.G, house.O)

// jumper asks what runs with conductor k joined to R: only where it can be
// nothing but a load.
func (m *mind) jumper(k int, set meaning) (Question, bool) {
	w := m.c.Conductors[k]
	if set == 0 || set&^jumperable != 0 || w.suspect() || len(m.references(k)) == 0 {
		return Question{}, false
	}
	look := house.NoLook
	switch {
	case set.has(house.Y):
		look = house.OutdoorUnit
	case set.has(house.G) && (set.has(house.W) || set.has(house.W2)):
		look = house.Air
	default:
		return Question{}, false
	}
	if slices.ContainsFunc(m.c.Looks, func(s Seen) bool { return s.Jumper == k && s.Look == look }) {
		return Question{}, false
	}
	letter := w.Old.Letter
	if w.Old.State != OnLetter || !jumperable.has(letter) {
		letter = w.Board.Letter
	}
	s := house.DefaultSetup()
	s.Thermostat = house.Removed
	s.Jumper = house.LettersOf(letter)
	q := Question{ID: "jumper:" + w.Name, Kind: AskLook, Conductor: k, Seen: Seen{Jumper: k, Look: look},
		Text: fmt.Sprintf("R is joined to %s. %s", w.label(), look.Question()), Why: m.whyRead(k), Answers: answersOf(look),
		Goal: planner.Goal{Setup: s, Probe: house.LookAt(look)}}
	if look == house.OutdoorUnit {
		q.Means = []string{"running: " + house.Y.String(), "anything else: it stays open; what does not run may have failed"}
	} else {
		q.Means = []string{"warm: heat", "anything else: it stays open"}
	}
	return q, m.can(q)
}

func answersOf(l house.Look) [][2]string {
	var out [][2]string
	for _, a := range l.Answers() {
		out = append(out, [2]string{l.AnswerID(a), l.AnswerText(a)})
	}
	return out
}

// energised asks what a homeowner can read with the face on: whether the old
// thermostat feeds a B in heating. It can show the valve, never the common.
func (m *mind) energised(k int, set meaning) (Question, bool) {
	if m.c.Audience == house.Tech || !m.c.Conductors[k].suspect() || !set.has(house.O) {
		return Question{}, false
	}
	for _, j := range m.references(k) {
		if isHot(may(m.loose, j).list()[0]) && !m.read(k, j, quantity.ACVolts) {
			return m.readingOf(k, j, quantity.ACVolts, house.ModeHeat)
		}
	}
	return Question{}, false
}

// board asks which screw conductor k lands on at the equipment.
func (m *mind) board(k int) (Question, bool) {
	w := m.c.Conductors[k]
	if w.Board.State != NotLooked {
		return m.ringOut(k)
	}
	why := "Nobody knows where it was. Its colour is a hint and no more."
	if !m.c.unmarked(k) {
		why = "No reading settles it: the screw at the equipment does."
	}
	q := Question{ID: "board:" + w.Name, Kind: AskBoard, Conductor: k, Why: why,
		Text: fmt.Sprintf("Which screw is %s on at the board in the %s?", w.label(), cabinetWord(m.c.Equipment)),
		Goal: m.behindCover(house.AtIndoor)}
	return q, m.can(q)
}

// ringOut asks for the screw again, found by an ohmmeter: the two ends of a
// conductor disagree, and nothing at the wall tells which is right.
func (m *mind) ringOut(k int) (Question, bool) {
	w := m.c.Conductors[k]
	if w.RungOut || !m.conflicts(k) {
		return Question{}, false
	}
	q := Question{ID: "ring-out:" + w.Name, Kind: AskBoard, Conductor: k, Why: m.whyRead(k) + " No reading at the wall tells which.",
		Text: fmt.Sprintf("Ring out %s: at the wall twist its bare end to one other conductor's. At the board in the %s lift conductors until two read under 4 ohms. Part the two at the wall: the reading goes OL. Which screw is %s from?",
			w.label(), cabinetWord(m.c.Equipment), w.Name),
		Goal: m.boardDead()}
	return q, m.can(q)
}

func cabinetWord(e house.Equipment) string {
	switch {
	case e.Packaged():
		return "outdoor cabinet"
	case e == house.NoEquipment:
		return "furnace or air handler"
	case e.Has(house.Gas1, house.AtIndoor):
		return "furnace"
	}
	return "air handler"
}

// aboutEquipment asks what only the equipment decides: the sense of the
// changeover, or the kind of system where landings or settings differ.
func (m *mind) aboutEquipment() (Question, bool) {
	if len(m.hyps) == 0 {
		return m.missing()
	}
	senses := map[house.Mode]bool{}
	clash := false
	for _, h := range m.hyps {
		if h.eq.Calls.Changeover != house.NoTerminal {
			senses[h.eq.Calls.EnergisedIn] = true
		}
		clash = clash || m.c.senseClash(h)
	}
	if _, known := m.c.rated(); !known && (len(senses) > 1 || clash) {
		for _, look := range []house.Look{house.ChangeoverRated, house.ChangeoverSetting} {
			if q, ok := m.changeover(look, clash); ok {
				return q, true
			}
		}
		return m.giveUp()
	}
	if !m.agree() {
		return m.kind()
	}
	return Question{}, false
}

// agree reports whether every hypothesis leads to one plan.
func (m *mind) agree() bool {
	first := place(m.hyps[0], m.c.New).key()
	return !slices.ContainsFunc(m.hyps, func(h hypothesis) bool { return place(h, m.c.New).key() != first })
}

func (m *mind) changeover(look house.Look, clash bool) (Question, bool) {
	q := Question{ID: look.String(), Kind: AskLook, Seen: Seen{Jumper: -1, Look: look}, Answers: answersOf(look),
		Why: "The reversing valve is energised in cooling on most heat pumps and in heating on some. The letter O/B does not say which."}
	if clash {
		q.Why = "The old letter and the equipment disagree on when the reversing valve is energised."
	}
	if look == house.ChangeoverRated {
		q.Text = "In which mode does the outdoor unit's own wiring diagram energise the reversing valve?"
		q.Goal = m.behindCover(house.AtOutdoor)
	} else {
		q.Text = "In the old thermostat's settings, in which mode is the reversing valve energised?"
		q.Goal = planner.Goal{Setup: house.DefaultSetup(), Probe: house.LookAt(look)}
	}
	return q, m.can(q)
}

// kind asks which system it is, among those that fit.
func (m *mind) kind() (Question, bool) {
	q := Question{ID: "equipment", Kind: AskChoose, NoGoal: true, Text: "Which system is it?",
		Why: "The wires alone fit each of these, and they are not set up alike."}
	for _, e := range m.equipment() {
		q.Answers = append(q.Answers, [2]string{e.String(), e.Title()})
	}
	if m.c.unable(q.ID) {
		return m.giveUp()
	}
	return q, true
}

// missing asks for the equipment where nothing fits and nobody named it.
func (m *mind) missing() (Question, bool) {
	if m.c.Equipment != house.NoEquipment || m.c.unable("equipment") {
		return Question{}, false
	}
	q := Question{ID: "equipment", Kind: AskChoose, NoGoal: true, Text: "Which system is it?",
		Why: "These letters fit no system as they are: one is missing, or one too many."}
	for _, e := range m.all {
		q.Answers = append(q.Answers, [2]string{e.ID.String(), e.ID.Title()})
	}
	return q, true
}

// giveUp leaves every conductor whose landing differs open.
func (m *mind) giveUp() (Question, bool) {
	for k := range m.c.Conductors {
		if len(m.open) == 0 || !may(m.hyps, k).one() {
			m.open = append(m.open, k)
		}
	}
	return Question{}, false
}
