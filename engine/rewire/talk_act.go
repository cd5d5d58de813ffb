package rewire

import (
	"fmt"
	"strings"

	"stepdown/engine/house"
	"stepdown/engine/letter"
	"stepdown/engine/planner"
)

// solve thinks the case through again and goes on to what comes next.
func (t *Talk) solve() string {
	var r Report
	var text string
	var err error
	if t.check {
		var k Checked
		if k, err = t.solver.Check(t.c); err == nil {
			r, text = k.Report, k.Text()
			if !k.Good {
				t.exit = 1
			}
		}
	} else {
		r, err = t.solver.Solve(t.c)
		if err == nil {
			if text = r.Text(); t.Plain {
				text = r.Linear()
			}
		}
	}
	if err != nil {
		t.stage = atWires
		return mistake(err) + t.Begin()
	}
	if r.State == Asks {
		t.asked, t.stage = *r.Question, atGoal
		return t.goOn()
	}
	if r.State != Answer {
		t.exit = 1
	}
	return text + t.after(r)
}

// after is what is left to do once it is answered: the wires are landed with
// the power off, or the house is left as it stands, locked where a question
// stays open on bare wires.
func (t *Talk) after(r Report) string {
	switch {
	case t.check:
		t.stage, t.leaving = atLeave, planner.Ending{Locked: t.exit != 0}
	case r.State != Answer:
		t.stage, t.leaving = atLeave, planner.Ending{Locked: r.State == Undecided && len(t.c.Readings) > 0}
	case t.c.Audience == house.Dispatcher:
		t.stage, t.leaving = atLeave, planner.Ending{}
	default:
		t.stage = atHands
	}
	if t.stage == atLeave && t.state == planner.Start() {
		t.stage = atEnd
		return ""
	}
	return "\n" + t.goOn()
}

// next is the planner's next action in this stage.
func (t *Talk) next() planner.Action {
	f := t.c.Facts()
	switch t.stage {
	case atGoal:
		if t.asked.NoGoal {
			return planner.Action{Kind: planner.Ready, After: t.state}
		}
		return planner.Next(t.state, t.asked.Goal, t.c.Audience, f)
	case atHands:
		return planner.Next(t.state, t.hands(), t.c.Audience, f)
	}
	return planner.Leave(t.state, t.leaving, t.c.Audience, f)
}

// hands is a base that may be touched: dead for a technician, its breaker off
// for a homeowner.
func (t *Talk) hands() planner.Goal {
	m := &mind{c: t.c}
	if t.c.Audience == house.Tech {
		return m.baseDead()
	}
	s := house.DefaultSetup()
	s.Thermostat, s.PowerIndoor = house.Removed, house.Off
	return planner.Goal{Setup: s, Probe: house.LookAt(house.Display)}
}

// goOn follows the planner to the next thing a person has to do.
func (t *Talk) goOn() string {
	const most = 100
	for range most {
		a := t.next()
		switch {
		case a.Kind == planner.Refuse:
			if t.stage != atGoal {
				t.stage, t.exit = atEnd, 1
				return "This is for a licensed technician: " + a.Reason + ".\n"
			}
			t.c.Unable = append(t.c.Unable, t.asked.ID)
			return t.solve()
		case a.Kind != planner.Ready:
			t.pending = a
			return t.actionText(a)
		}
		switch t.stage {
		case atGoal:
			t.stage = atAsk
			return t.questionText()
		case atHands:
			t.stage = atLanding
			return "Land each wire as shown above, fit the jumpers, cap the rest. Tug each one.\n"
		default:
			t.stage = atEnd
			if t.exit == 0 && !t.check {
				return "Now call each mode and watch: " + t.trials() + ".\n"
			}
			return ""
		}
	}
	t.stage, t.exit = atEnd, 1
	return "error: the planner finds no way from here\n"
}

// trials names the calls to try.
func (t *Talk) trials() string {
	out := "fan, cooling, heating"
	if t.c.Equipment == house.HeatOnly {
		out = "heating"
	}
	return out
}

func (t *Talk) actionText(a planner.Action) string {
	var b strings.Builder
	switch a.Kind {
	case planner.Caution:
		c, ok := t.cautions.Get(a.Caution)
		if !ok {
			return "error: no caution " + a.Caution + "\n"
		}
		fmt.Fprintf(&b, "CAUTION: %s\n", c.Title)
		for _, l := range c.Text {
			fill(&b, "  ", l)
		}
		fmt.Fprintf(&b, "Type %s once it is read, or unable.\n", c.Word)
	case planner.Look:
		fill(&b, "", a.Look.Question())
		for _, w := range answersOf(a.Look) {
			fill(&b, "  ", w[0]+": "+w[1])
		}
	default:
		fill(&b, "", a.Text)
		if a.Wait > 0 {
			fmt.Fprintf(&b, "  Count %d minutes.\n", (a.Wait+59)/60)
		}
	}
	return b.String()
}

func (t *Talk) questionText() string {
	var b strings.Builder
	fill(&b, "", t.asked.Text)
	for _, a := range t.asked.Answers {
		fill(&b, "  ", a[0]+": "+a[1])
	}
	for _, m := range t.asked.Means {
		fill(&b, "  ", m)
	}
	return b.String()
}

// actionLine takes done, a caution's word, a look's answer, or unable.
func (t *Talk) actionLine(line string) string {
	a := t.pending
	if isUnable(line) {
		return t.cannot()
	}
	switch a.Kind {
	case planner.Do:
		if !isDone(line) {
			return "Type done when it is done, or unable.\n"
		}
	case planner.Caution:
		if c, ok := t.cautions.Get(a.Caution); !ok || !c.Passes(line) {
			return "Read it, then type the word it names, or unable.\n"
		}
	case planner.Look:
		answer, err := a.Look.ParseAnswer(strings.ToLower(line))
		if err != nil {
			return mistake(err)
		}
		if a.Look == house.StatKind && a.Look.AnswerID(answer) != "low-voltage" {
			t.stage, t.exit = atEnd, 1
			return "Stop. This thermostat switches line voltage: leave its wires alone and call a\nlicensed electrician.\n"
		}
		t.state = a.After.Saw(a.Look, answer)
		return t.goOn()
	}
	t.state = a.After
	return t.goOn()
}

// cannot makes the house safe after something could not be done, and gives the
// question up.
func (t *Talk) cannot() string {
	var b strings.Builder
	for range 10 {
		a := planner.MakeSafe(t.state, t.c.Audience, t.c.Facts())
		if a.Kind != planner.Do {
			break
		}
		fill(&b, "Before anything else: ", a.Text)
		t.state = a.After
	}
	if t.stage == atGoal {
		t.c.Unable = append(t.c.Unable, t.asked.ID)
		return b.String() + t.solve()
	}
	for _, w := range planner.Warn(t.state) {
		fmt.Fprintln(&b, w)
	}
	t.stage, t.exit = atEnd, 1
	return b.String() + "Leave it as it is and call a licensed technician.\n"
}

// Complete gives the words a line may go on to be; never a caution's.
func (t *Talk) Complete(line string) []string {
	words := []string{"help", "why", "wires", "quit", "unable"}
	switch t.stage {
	case atWires:
		words = append(append(words, letter.Jackets...), "done", "back")
	case atPower:
		words = append(words, powerWords[1:]...)
	case atSetting:
		words = append(words, "cooling", "heating", "unknown")
	case atEquipment:
		words = append(words, "unknown")
		for _, e := range house.Equipments() {
			words = append(words, e.String())
		}
	case atAsk:
		for _, a := range t.asked.Answers {
			words = append(words, a[0])
		}
	default:
		if t.pending.Kind == planner.Do {
			words = append(words, "done")
		}
	}
	var out []string
	for _, w := range words {
		if strings.HasPrefix(w, line) {
			out = append(out, w)
		}
	}
	return out
}

// mistake is an error as a line or two.
func mistake(err error) string {
	var b strings.Builder
	fill(&b, "error: ", err.Error())
	return b.String()
}
