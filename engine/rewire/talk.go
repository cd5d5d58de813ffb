package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/caution"
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// Talk is a swap asked for one thing at a time. It reads no terminal: Begin
// gives the first text, OneShot takes a line and gives the next, until Ended.
type Talk struct {
	Plain bool // no drawing

	solver   *Solver
	cautions caution.Set
	check    bool
	c        Case
	state    planner.State
	stage    stage
	asked    Question
	pending  planner.Action // what is to be done, acknowledged or looked at now
	leaving  planner.Ending
	exit     int
}

// stage is what a Talk waits for.
type stage uint8

const (
	atWires stage = iota
	atBase
	atPower
	atJoined
	atSetting
	atEquipment
	atGoal    // on the way to the question
	atAsk     // the question itself
	atHands   // on the way to a base that may be touched
	atLanding // the wires are being landed
	atLeave   // on the way out
	atEnd
)

// Talk starts a conversation from what is known already; check is for a
// landing already made.
func (s *Solver) Talk(c Case, cautions caution.Set, check bool) *Talk {
	return &Talk{solver: s, cautions: cautions, check: check, c: c, state: planner.Start()}
}

// Ended reports whether nothing is left to ask.
func (t *Talk) Ended() bool { return t.stage == atEnd }

// Exit is the exit code: 0 for a landing or a check that is right, 1 where it
// stayed open.
func (t *Talk) Exit() int {
	if !t.Ended() {
		return 1
	}
	return t.exit
}

// Prompt is what stands before the cursor.
func (t *Talk) Prompt() string {
	switch t.stage {
	case atWires:
		return "wire > "
	case atBase:
		return "letters > "
	case atGoal, atHands, atLeave:
		switch t.pending.Kind {
		case planner.Do:
			return "done > "
		case planner.Caution:
			return "type the word > "
		}
	case atLanding:
		return "done > "
	case atAsk:
		if t.asked.Kind == AskReading {
			return t.asked.Reading.Quantity.String() + " > "
		}
	}
	return "> "
}

const wiresText = `Name each wire out of the wall, one a line: its colour, its letter on the old
base, and its letter at the equipment if somebody looked there.
  blue B        blue on B of the old base
  blue B C      and on C at the equipment
  brown none    brown on no screw
What was measured, power locked out, wires bare: blue to red 3.1 ohms
Type done when every wire is named, back to take the last one out.
`

const checkText = `Name each wire out of the wall, one a line: its colour, its letter on the old
base or at the equipment, and its screw on the new base.
  blue B now O/B               blue, once on B, is now on O/B
  white equipment W now W      white, on W at the equipment, is now on W
Type done when every wire is named, back to take the last one out.
`

// Begin is the first text.
func (t *Talk) Begin() string {
	if t.check {
		return "Leave the power off until this is done.\n" + checkText
	}
	return "Touch no wire before its power is off. Take a picture of the old base first.\n" + wiresText
}

const helpText = `done        it is done; or every wire is named
unable      it cannot be done, or nobody can tell
back        take the last wire out
why         why this is asked
wires       the wires as they are known
quit        leave
`

// OneShot takes one line and gives what to show next.
func (t *Talk) OneShot(line string) string {
	line = strings.TrimSpace(line)
	switch strings.ToLower(line) {
	case "":
		return ""
	case "quit", "exit":
		return t.quit()
	case "help", "?":
		return helpText
	case "wires":
		return t.wires()
	case "why":
		return t.why()
	}
	if text, ok := t.readLine(line); ok {
		return text
	}
	switch t.stage {
	case atWires:
		return t.wireLine(line)
	case atBase, atPower, atJoined, atSetting, atEquipment:
		return t.formLine(line)
	case atAsk:
		return t.answerLine(line)
	case atLanding:
		if !isDone(line) {
			return "Type done once every wire is landed or capped.\n"
		}
		t.stage, t.leaving = atLeave, planner.Ending{}
		return t.goOn()
	case atEnd:
		return ""
	}
	return t.actionLine(line)
}

// quit says how the house stands.
func (t *Talk) quit() string {
	t.stage, t.exit = atEnd, 1
	var b strings.Builder
	for _, w := range planner.Warn(t.state) {
		fmt.Fprintln(&b, w)
	}
	return b.String()
}

func (t *Talk) why() string {
	switch t.stage {
	case atGoal, atAsk:
		return t.asked.Why + "\n"
	case atWires, atBase, atPower, atJoined, atSetting, atEquipment:
		return "The letters tell what each wire does; the model then tries every mode.\n"
	case atHands:
		return "Nobody touches a wire before its power is off.\n"
	}
	return "The house is left as it was found.\n"
}

func (t *Talk) wires() string {
	var b strings.Builder
	for _, w := range t.c.Conductors {
		fmt.Fprintf(&b, "  %-12s", w.Name)
		for _, m := range []struct {
			at   string
			mark Mark
		}{{"old", w.Old}, {"equipment", w.Board}, {"now", w.Now}} {
			if m.mark.State != NotLooked {
				fmt.Fprintf(&b, " %s %s", m.at, m.mark)
			}
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// formLine reads the new base, its supply and the equipment.
func (t *Talk) formLine(line string) string {
	var err error
	switch t.stage {
	case atBase:
		power := t.c.New.Power
		if t.c.New, err = ParseBase(line); err == nil {
			t.c.New.Power, t.stage = power, atPower
		}
	case atPower:
		if t.c.New.Power, err = ParsePower(line); err == nil {
			t.stage = atEquipment
			if t.check {
				t.stage = atJoined
			}
		}
	case atJoined:
		if t.c.Joined, err = parseJumpers(line); err == nil {
			t.stage = atEquipment
			if t.c.New.OB {
				t.stage = atSetting
			}
		}
	case atSetting:
		if !isUnable(line) {
			t.c.Setting, err = parseSense(strings.ToLower(line))
		}
		if err == nil {
			t.stage = atEquipment
		}
	case atEquipment:
		if !strings.EqualFold(line, "unknown") {
			t.c.Equipment, err = house.ParseEquipment(line)
		}
		if err == nil {
			return t.solve()
		}
	}
	if err != nil {
		return mistake(err) + formHints[t.stage]
	}
	return t.formText()
}

// parseJumpers reads "Rc-Rh, W2-E", or none.
func parseJumpers(line string) ([][2]house.Terminal, error) {
	var out [][2]house.Terminal
	for _, word := range strings.FieldsFunc(line, func(r rune) bool { return r == ' ' || r == ',' }) {
		if strings.EqualFold(word, "none") {
			continue
		}
		j, err := parseJoined(word)
		if err != nil {
			return nil, err
		}
		out = append(out, j)
	}
	return out, nil
}

// formHints are the mends of a line that was not understood.
var formHints = map[stage]string{
	atBase:    "hint: such as: R C Y G O/B W2 E\n",
	atPower:   "hint: common, battery, either or through-load\n",
	atJoined:  "hint: such as: Rc-Rh W2-E, or none\n",
	atSetting: "hint: cooling, heating, or unknown\n",
}

const powerText = `What can feed the new thermostat? Its sheet says.
  common         the C wire
  battery        batteries
  either         the C wire, or batteries
  through-load   neither: a little current through what it switches
`

func (t *Talk) formText() string {
	switch t.stage {
	case atPower:
		return powerText
	case atJoined:
		return "The jumpers on the new base, such as Rc-Rh W2-E, or none?\n"
	case atSetting:
		return "In the new thermostat's settings, when is O/B energised: cooling, heating, or\nunknown?\n"
	case atEquipment:
		if t.c.Equipment != house.NoEquipment {
			return t.solve()
		}
		var b strings.Builder
		b.WriteString("Which system is it? Type unknown where nobody knows.\n")
		for _, e := range house.Equipments() {
			fill(&b, fmt.Sprintf("  %-20s ", e), e.Title())
		}
		return b.String()
	}
	return ""
}

// answerLine takes the answer to the question.
func (t *Talk) answerLine(line string) string {
	q := t.asked
	if isUnable(line) {
		t.c.Unable = append(t.c.Unable, q.ID)
		return t.solve()
	}
	var err error
	switch q.Kind {
	case AskReading:
		q.Reading.Value, err = quantity.Parse(line, q.Reading.Quantity)
		if err == nil {
			t.take(q.Reading)
			if strings.HasSuffix(q.ID, ":again") {
				t.c.Unable = append(t.c.Unable, q.ID) // twice is enough
			}
		}
	case AskLook:
		q.Seen.Answer, err = q.Seen.Look.ParseAnswer(strings.ToLower(line))
		if err == nil {
			t.c.Looks = append(slices.Clone(t.c.Looks), q.Seen)
		}
	case AskBoard:
		w := &t.c.Conductors[q.Conductor]
		w.Board, err = ParseMark(line)
		w.RungOut = err == nil && strings.HasPrefix(q.ID, "ring-out:") && w.Board.State == OnLetter
	case AskChoose:
		t.c.Equipment, err = house.ParseEquipment(strings.ToLower(line))
	}
	if err != nil {
		return mistake(err)
	}
	return t.solve()
}

func isDone(line string) bool {
	return slices.Contains([]string{"done", "y", "yes", "ok"}, strings.ToLower(line))
}

func isUnable(line string) bool {
	return slices.Contains([]string{"unable", "unknown", "cannot", "can't"}, strings.ToLower(line))
}
