package session

import (
	"slices"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/tree"
)

// end takes a finding, lays it against what still explains the readings, and
// turns to leaving the house safe.
func (b *Book) end(s State, f house.Finding) State {
	x := Explanation{}
	faults := b.named(s, f)
	if f == house.Undecided {
		x = b.Suspects(s)
		if faults = narrow(faults, x); len(s.left) > 0 {
			faults = s.left
		}
	}
	s.found = b.finding(s, f, faults, x)
	s.log = push(s.log, Entry{Kind: EntryFinding, Text: string(f)})
	s.phase = leaving
	way := b.leaving(f)
	s.ending = planner.Ending{Finding: f, Locked: way.Off(s.who), Call: s.home.Setup}
	if t := b.Trees.Trees[s.gates.complaint]; t != nil && way != tree.LockedForRepair {
		s.ending.Call = t.Base().Over(house.DefaultSetup())
	}
	if t := b.Trees.Finding(f); t != nil && s.who == house.Homeowner && t.For(s.who).LeavesOff() {
		s.ending.Call = house.DefaultSetup() // the last thing asked for is not undone
	}
	return s
}

// disputed are the faults that a call stays open between where the model rules
// out everything the tree's finding stands for while something else explains all
// that was seen; else none. The tree proposes: such a call ends open, with what
// either names. Where nothing explains everything a slip is likelier, and the
// tree's word stands.
func (b *Book) disputed(s State, f house.Finding) []house.Fault {
	x, proposed := b.Suspects(s), f.Faults()
	if len(x.Left) == 0 || x.Doubt != nil || len(proposed) == 0 {
		return nil
	}
	var left []house.Fault
	for _, sus := range x.Left {
		if sus.With != house.NoFault || slices.Contains(proposed, sus.Fault) {
			return nil
		}
		left = append(left, sus.Fault)
	}
	return append(left, proposed...)
}

// named are the faults a finding stands for: its own, or, for `undecided`,
// every fault still reachable from the first step that could not be made.
func (b *Book) named(s State, f house.Finding) []house.Fault {
	if f != house.Undecided {
		return f.Faults()
	}
	from := s.step
	if s.openFrom != nil {
		from = s.openFrom
	}
	if from == nil {
		return nil
	}
	out := b.reachable(from)
	if t := b.Trees.Trees[s.gates.complaint]; len(out) == 0 && t != nil {
		out = b.reachable(t.First) // the tree itself ends here, open
	}
	return out
}

// reachable are the faults of the findings a step can still lead to.
func (b *Book) reachable(from *tree.Step) []house.Fault {
	var set house.FaultSet
	var out []house.Fault
	for _, id := range b.Trees.Reachable(from) {
		for _, fault := range id.Faults() {
			if !set.Has(fault) {
				set, out = set.Add(fault), append(out, fault)
			}
		}
	}
	return out
}

// Suspects is what still explains everything seen, most likely first; empty
// while no model is attached or nothing was seen.
func (b *Book) Suspects(s State) Explanation {
	if b.Explain == nil || len(s.seen) == 0 || s.gates.complaint == house.NoComplaint {
		return Explanation{}
	}
	return b.Explain.Explain(s.facts, s.gates.complaint, s.seen)
}

// narrow leaves the faults that still explain everything seen, most likely
// first; all of them where the model knows none that does.
func narrow(faults []house.Fault, x Explanation) []house.Fault {
	var out []house.Fault
	for _, sus := range x.Left {
		if len(faults) == 0 || slices.Contains(faults, sus.Fault) {
			out = append(out, sus.Fault)
		}
	}
	if len(out) == 0 {
		return faults
	}
	return out
}

// finding puts the end into words for this audience.
func (b *Book) finding(s State, id house.Finding, faults []house.Fault, x Explanation) *FindingEffect {
	out := &FindingEffect{ID: id, Faults: faults, Urgency: s.urgency(), Evidence: s.standing()}
	out.Family, out.Condemns = sharedFamily(faults)
	for _, sus := range x.Left {
		for _, f := range faults {
			if sus.Fault == f {
				out.Probability += sus.Probability
			}
		}
	}
	t := b.Trees.Finding(id)
	if t == nil {
		out.Title = string(id)
		return out
	}
	text := t.For(s.who)
	e := s.facts.Equipment
	out.Title, out.Verdict = e.Words(t.Title), t.Verdict(s.who)
	out.Text = append([]string{e.Words(text.Is)}, nonEmpty(e.Words(text.Proof))...)
	out.Do, out.Tell = words(e, text.Do), words(e, text.Tell)
	out.Confirm, out.Commonly = e.Words(text.Confirm), e.Words(t.Commonly)
	out.Parts, out.Skills, out.Hazards = t.Parts, t.Skills, b.hazards(t)
	if id == house.EmergencyFinding {
		b.onlySign(out, s.gates.emergency, s.who)
	}
	if id == house.FindingOf(house.None, s.facts.Equipment) {
		out.Again = b.card(s)
	}
	if id == house.Undecided {
		out.Settles, out.Partly = b.settling(s, faults)
		out.Commonly = ""    // several causes have no one cause
		out.Condemns = false // what is left is not proven, even where one fault alone is left
		out.Parts, out.Skills = b.sendable(faults, s.facts.Equipment)
	}
	return out
}

// hazards are those of a finding's cautions.
func (b *Book) hazards(t *tree.Finding) []string {
	var out []string
	for _, id := range t.Cautions {
		if c, ok := b.Cautions.Get(id); ok {
			out = append(out, c.Hazard)
		}
	}
	return out
}

// words are lines as they read on e.
func words(e house.Equipment, lines []string) []string {
	out := slices.Clone(lines)
	for i, line := range out {
		out[i] = e.Words(line)
	}
	return out
}

func nonEmpty(line string) []string {
	if line == "" {
		return nil
	}
	return []string{line}
}

// sharedFamily is the family all faults share, and whether all of them replace
// the thermostat.
func sharedFamily(faults []house.Fault) (house.Family, bool) {
	if len(faults) == 0 {
		return house.NoFamily, false
	}
	family, condemns := faults[0].Family(), true
	for _, f := range faults {
		condemns = condemns && f.Condemns()
		if f.Family() != family {
			family = house.NoFamily
		}
	}
	return family, condemns
}

// sendable joins the parts and skills of the findings a visit may need.
func (b *Book) sendable(faults []house.Fault, e house.Equipment) (parts, skills []string) {
	for _, f := range faults {
		t := b.Trees.Finding(house.FindingOf(f, e))
		if t == nil {
			continue
		}
		parts, skills = merge(parts, t.Parts), merge(skills, t.Skills)
	}
	return parts, skills
}

func merge(to, from []string) []string {
next:
	for _, word := range from {
		for _, have := range to {
			if have == word {
				continue next
			}
		}
		to = append(to, word)
	}
	return to
}

// leaving is how a finding leaves the house.
func (b *Book) leaving(f house.Finding) tree.Leaving {
	if t := b.Trees.Finding(f); t != nil {
		return t.Leave
	}
	return tree.Restored
}

// leave asks for the next thing on the way to a house left safe. In an
// emergency people leave; nobody goes back to a cover.
func (b *Book) leave(s State) (State, Effect, bool) {
	if s.ending.Finding == house.EmergencyFinding || s.untouched() {
		s.phase = ended
		return s, Effect{}, false
	}
	s.next = planner.Leave(s.home, s.ending, s.who, s.facts)
	if s.next.Kind == planner.Ready || s.next.Kind == planner.Refuse {
		s.phase = ended
		return s, Effect{}, false
	}
	return b.plannerQuestion(s)
}

// leftOff says why a house that is left without power is.
func (s State) leftOff() []Effect {
	if !s.ending.Locked || s.found == nil {
		return nil
	}
	what := ""
	switch p := []house.Power{s.home.PowerIndoor, s.home.PowerOutdoor}; {
	case slices.Contains(p, house.LockedOut):
		what = "The power stays off and locked"
	case slices.Contains(p, house.Off):
		what = "The breaker stays off"
	default:
		return nil
	}
	until := "that is put right"
	if s.found.ID == house.Undecided {
		until = "the fault is found"
	}
	return []Effect{tell(what + " until " + until + ".")}
}

// cannotLeave ends a call whose house could not be put back: it says what
// stands open or live, worst first.
func (b *Book) cannotLeave(s State) (State, []Effect) {
	out := []Effect{tell("The house is not as it was found. What is off stays off.")}
	for _, line := range planner.Warn(s.home) {
		out = append(out, tell(line))
	}
	if s.who != house.Tech {
		out = append(out, tell("Call a licensed technician before anyone uses it."))
	}
	s.phase, s.pending, s.asked = ended, Effect{}, askedNothing
	return s, append(out, Effect{End: &End{Exit: s.exit()}})
}

// exit is 1 for a call that stayed undecided, else 0.
func (s State) exit() int {
	if s.found == nil || s.found.ID == house.Undecided {
		return 1
	}
	return 0
}

// untouched reports whether the house still stands as its people left it.
func (s State) untouched() bool {
	return s.home.Setup == planner.Start().Setup && s.home.StatUnknown && s.home.Unknown == 0 && !s.ending.Locked
}
