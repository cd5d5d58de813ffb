package rewire

import (
	"fmt"
	"slices"
	"strings"

	"stepdown/engine/house"
)

// Checked is what a landing somebody already made does.
type Checked struct {
	Report // its question or why, where it is not known what the conductors are
	Good   bool
	Wrong  []string // what is wrong with the landing
	// Effects are each call in the model: one proof where it is known what the
	// conductors are, else one for each way it may be.
	Effects []Proof
	Blown   []string // what it may have blown
}

// ErrNotLanded is a check of a case without a landing.
var ErrNotLanded = fmt.Errorf("no conductor says where it is on the new base")

// Check tries a landing somebody already made. Good is said only where it is
// known what each conductor is, every call does what it should, and each lies
// under its screw or one joined to it.
func (s *Solver) Check(c Case) (Checked, error) {
	out := Checked{Report: Report{Case: c}}
	if err := c.check(); err != nil {
		return out, err
	}
	made := make([]house.Terminal, len(c.Conductors))
	landed := 0
	for k, w := range c.Conductors {
		if w.Now.State != OnLetter {
			continue
		}
		if !c.New.Letters.Has(w.Now.Letter) {
			return out, fmt.Errorf("%s is on %s, and the new base has no such screw", w.Name, w.Now)
		}
		made[k] = w.Now.Letter
		landed++
	}
	if landed == 0 {
		return out, ErrNotLanded
	}
	for _, j := range c.Joined {
		if !c.New.Letters.Has(j[0]) || !c.New.Letters.Has(j[1]) {
			return out, fmt.Errorf("the new base has no screws %s and %s to join", j[0], j[1])
		}
	}
	if stopped(c, &out.Report) {
		return out, nil
	}
	m := s.mind(c)
	if q, ok := m.next(); ok {
		out.Report = m.ask(out.Report, q)
	} else if m.vague || len(m.open) > 0 || len(m.hyps) == 0 {
		out.Report = m.undecided(out.Report)
	} else {
		out.State, out.Equipment = Answer, m.equipment()
		out.Settings = settings(m, place(m.hyps[0], c.New).Plan)
	}
	hs := m.hyps
	if out.State != Answer {
		hs = m.loose
	}
	return m.tryMade(out, hs, made)
}

// tryMade runs the landing for each way things may be.
func (m *mind) tryMade(out Checked, hs []hypothesis, made []house.Terminal) (Checked, error) {
	b := m.c.New
	known := out.State == Answer
	for _, h := range hs {
		right := place(h, b)
		p := right.Plan
		p.To = made
		p.Power = m.madePower(h, made)
		wrongSetting := b.OB && p.Pump && m.c.Setting != house.ModeOff && m.c.Setting != right.Changeover
		if wrongSetting {
			p.Changeover = m.c.Setting
		}
		proof, err := h.prove(p, b, m.c.Joined)
		if err != nil {
			return out, err
		}
		if slices.ContainsFunc(out.Effects, func(o Proof) bool { return o.Equipment == proof.Equipment && sameEffects(o, proof) }) {
			continue
		}
		out.Effects = append(out.Effects, proof)
		if known && len(out.Effects) == 1 {
			if wrongSetting {
				out.Wrong = append(out.Wrong, "The changeover is set the other way round.")
			}
			out.Wrong = append(out.Wrong, m.misplaced(h, right, made)...)
			out.Wrong = append(out.Wrong, right.lack...)
		}
		if known && len(out.Wrong) == 0 && proof.Good() {
			if out.Edges, err = m.edge(h, p, m.c.Joined); err != nil {
				return out, err
			}
			for _, e := range out.Edges {
				out.Wrong = append(out.Wrong, e.stray()...)
			}
			out.Tight = tight(out.Edges)
		}
		out.Blown = append(out.Blown, h.blown(proof, b, m.c.Joined, made)...)
	}
	slices.Sort(out.Blown)
	out.Blown = slices.Compact(out.Blown)
	out.Good = known && len(out.Wrong) == 0 && !slices.ContainsFunc(out.Effects, func(p Proof) bool { return !p.Good() })
	return out, nil
}

// madePower is what feeds the thermostat as it was landed.
func (m *mind) madePower(h hypothesis, made []house.Terminal) Power {
	if m.c.New.Power != PowerEither {
		return m.c.New.Power
	}
	for k, t := range h.is {
		if t == house.C && made[k] == house.C {
			return PowerCommon
		}
	}
	return PowerBattery
}

func sameEffects(a, b Proof) bool {
	return slices.EqualFunc(a.Calls, b.Calls, func(x, y Call) bool { return slices.Equal(x.Wrong, y.Wrong) })
}

// misplaced lists the conductors that do not lie where they belong, jumpers
// counted.
func (m *mind) misplaced(h hypothesis, right placed, made []house.Terminal) []string {
	b := m.c.New
	var out []string
	for k, w := range m.c.Conductors {
		have, want := made[k], right.To[k]
		word := "capped"
		if have != house.NoTerminal {
			word = "on " + b.Word(have)
		}
		switch {
		case joined(m.c.Joined, have, want):
		case want == house.NoTerminal && h.is[k] == spare:
			out = append(out, fmt.Sprintf("%s is %s: it is a spare. Cap it.", w.Name, word))
		case want == house.NoTerminal:
			out = append(out, fmt.Sprintf("%s is %s: it is %s, which this base has no screw for. Cap it.", w.Name, word, meaningWord(h.is[k])))
		case have == house.NoTerminal && (h.is[k] == house.L || h.is[k] == house.C && right.Power == PowerBattery):
			// A fault light and a common nobody needs may be left off.
		default:
			out = append(out, fmt.Sprintf("%s is %s: it is %s and belongs on %s.", w.Name, word, meaningWord(h.is[k]), b.Word(want)))
		}
	}
	return append(out, m.jumpersWrong(right)...)
}

// jumpersWrong lists jumpers that lack or are one too many.
func (m *mind) jumpersWrong(right placed) []string {
	var out []string
	for _, j := range right.Joined {
		if !joined(m.c.Joined, j[0], j[1]) {
			out = append(out, fmt.Sprintf("%s and %s are not joined: fit the jumper.", m.c.New.Word(j[0]), m.c.New.Word(j[1])))
		}
	}
	for _, j := range m.c.Joined {
		if !joined(right.Joined, j[0], j[1]) {
			out = append(out, fmt.Sprintf("%s and %s are joined: take the jumper out.", m.c.New.Word(j[0]), m.c.New.Word(j[1])))
		}
	}
	return out
}

// joined reports whether two screws are one, by jumpers or by being the same.
func joined(by [][2]house.Terminal, a, b house.Terminal) bool {
	if a == b {
		return true
	}
	if a == house.NoTerminal || b == house.NoTerminal {
		return false
	}
	reached := house.LettersOf(a)
	for range by {
		for _, j := range by {
			if reached.Has(j[0]) || reached.Has(j[1]) {
				reached = reached.Add(j[0]).Add(j[1])
			}
		}
	}
	return reached.Has(b)
}

// blown is what a landing may have damaged where it was powered: what bore the
// short, once for all calls that make it.
func (h hypothesis) blown(p Proof, b Base, by [][2]house.Terminal, made []house.Terminal) []string {
	var fuse, out []string
	contacts := house.Letters(0)
	over := map[string][]string{}
	for _, c := range p.Calls {
		if c.Blown {
			fuse = append(fuse, when(c))
			for k, t := range h.is {
				for _, s := range c.Live.List() {
					if t == house.C && joined(by, made[k], s) {
						contacts = contacts.Add(s)
					}
				}
			}
			continue
		}
		for _, s := range c.Sources {
			if s.VA > 2*s.Rating {
				over[s.Part] = append(over[s.Part], when(c))
			}
		}
	}
	if len(fuse) > 0 {
		if p.Calls[0].Blown {
			fuse = fuse[:1] // nothing has to be called
		}
		out = append(out, "the board's control fuse: "+strings.Join(fuse, ", ")+". Find the short first; never a larger one")
	}
	for _, t := range contacts.List() {
		out = append(out, "the new thermostat's contact for "+b.Word(t)+", which carried the short")
	}
	for _, part := range []string{"transformer", "heat-transformer"} {
		if len(over[part]) > 0 {
			out = append(out, "the "+partTitles[part]+", over twice its rating and no fuse blew: "+strings.Join(over[part], ", "))
		}
	}
	return out
}

// when is a call as the moment something blows.
func when(c Call) string {
	if c.ID == "off" {
		return "as soon as the power is on"
	}
	return "on " + c.Title
}
