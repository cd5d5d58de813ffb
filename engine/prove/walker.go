package prove

import (
	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
	"stepdown/engine/source"
	"stepdown/engine/tree"
)

// walker follows calls through the trees on one house at a time. It does what
// the conversation does, and nothing else, on numbers in place of texts; the
// tests hold it against whole conversations. From each step of a call that
// goes as asked it also follows what would come of being unable there, and of
// each wrong answer. It serves one goroutine.
type walker struct {
	*atlas
	lib              *tree.Library
	envs             map[*tree.Tree]*tree.Env
	lastTree         *tree.Tree // … of which most moves are
	lastEnv          *tree.Env
	cuts             map[*tree.Name][]quantity.Reading // one reading for each part of its range
	limit            map[*tree.Name][]float64
	learns           map[learnKey]learnt
	guard, guardLowZ float64 // V, beyond control_max before a reading is too high

	// The house.
	values *values
	truth  house.Facts // what the caller knows of it

	truthID int32

	// The call.
	seen     []seen
	asked    []*tree.Step
	straight bool // side ways are left out
	// again are the steps where a call that went wrong once goes wrong again.
	again map[*tree.Step]bool
	ends  func(*ending)
	// hinges, where set, hears of everything about the house that decides.
	hinges func(hinge)
	hits   map[*tree.Step]*hits
	// probed and edged, where set, hear of every probe made and every edge taken.
	probed func(s *tree.Step, pair int, x shows, side SlipKind)
	edged  func(s *tree.Step, edge int, side SlipKind)
}

// batchUsual is the room kept for a batch without asking for memory; a larger
// one is no mistake.
const batchUsual = 8

// seen is one probe made in the call, and the faults left after it where
// somebody has asked.
type seen struct {
	glance
	shows
	lied bool // it is what was wrong
	left house.FaultSet
	held bool // left is worked out
}

// shows is what a probe shows: a reading or an answer, or that it cannot be
// made.
type shows struct {
	reading quantity.Reading
	answer  house.Answer
	unable  bool
}

// place is where a call stands.
type place struct {
	step   *tree.Step
	state  int32
	facts  int32
	rested bool      // five minutes were counted
	side   deviation // what was done otherwise than asked; none on the main way
	twice  bool      // and once more since
}

// deviation is the one thing that was done otherwise than asked.
type deviation struct {
	kind  SlipKind
	step  *tree.Step
	nth   int // how many steps of the same name were asked before
	seen  int // … and how many probes made
	pair  int
	goal  glance // the probe that was misread
	said  shows
	fact  house.Fact
	cut   float64 // the constant that a wrong reading is across, nearest to the truth; +Inf for none
	truth float64
}

// ending is where a call comes to.
type ending struct {
	finding house.Finding
	pos     source.Pos // of what ended it
	because string     // what the last step or branch says for its width
	rested  bool
	side    deviation
}

// call follows one call about the tree t from its start.
func (w *walker) call(t *tree.Tree, known house.Facts, slip SlipKind) {
	w.seen, w.asked = w.seen[:0], w.asked[:0]
	w.truthID = w.factsID(w.truth)
	w.follow(place{step: t.First, state: w.state(planner.Start()), facts: w.factsID(known), side: deviation{kind: slip}})
}

// follow goes on from a place to the end of the call.
func (w *walker) follow(p place) {
	for p.step != nil {
		p = w.move(p)
	}
}

// move makes one move in the tree. Where it returns no step the call has ended.
func (w *walker) move(p place) place {
	if p.step.Kind == tree.AskStep {
		return w.ask(p)
	}
	a := w.arrive(p.step, p.state, p.facts)
	switch {
	case a.fact != house.NoFact:
		p.state = a.state
		return w.learn(p, a.fact)
	case a.cut:
		p.state = a.state
		return w.cut(p)
	}
	if w.recall(p.step, a.wants) {
		return w.decide(p)
	}
	p.state, p.rested = a.state, p.rested || a.rests
	if a.refuse {
		return w.cut(p)
	}
	return w.probe(p, a)
}

// ask runs a step about the house.
func (w *walker) ask(p place) place {
	f := w.facts[p.facts]
	if !f.Known(p.step.Fact) {
		return w.learn(p, p.step.Fact)
	}
	t, branch, err := p.step.Choose(f.Answer(p.step.Fact))
	if err != nil {
		return w.cut(p)
	}
	w.hit(p, branch)
	return w.take(p, t, p.step.Branches[branch].Because)
}

// The edges of a step that are no branch.
const (
	edgeOL     = 62
	edgeUnable = 63
)

func (w *walker) hit(p place, edge int) {
	if w.hits != nil {
		if taken := w.hitsOf(p.step); p.twice {
			taken.twice |= 1 << edge
		} else {
			taken.edges |= 1 << edge
		}
	}
	if w.edged != nil {
		w.edged(p.step, edge, p.side.kind)
	}
}

func (w *walker) hitsOf(s *tree.Step) *hits {
	taken := w.hits[s]
	if taken == nil {
		taken = new(hits)
		w.hits[s] = taken
	}
	return taken
}

// errs reports whether a call that is here goes wrong here, on a side way.
func (w *walker) errs(p place) bool {
	return !w.straight && (p.side.kind == NoSlip || !p.twice && w.again[p.step])
}

// astray is the place with one more thing gone wrong.
func (p place) astray(d deviation) place {
	if p.side.kind != NoSlip {
		p.twice = true
		return p
	}
	p.side = d
	return p
}

// learn asks a house fact; the caller knows it, or on a side way does not.
func (w *walker) learn(p place, f house.Fact) place {
	got := w.learnt(p.facts, f)
	if w.errs(p) {
		other := p.astray(deviation{kind: SlipUnable, step: p.step, seen: len(w.seen), fact: f})
		other.facts = got.unknown
		w.aside(other)
	}
	p.facts = got.known
	return p
}

// learnt is what is known of the house once a fact was answered, or nobody
// could say.
func (w *walker) learnt(facts int32, f house.Fact) learnt {
	key := learnKey{facts, w.truthID, f}
	got, ok := w.learns[key]
	if !ok {
		got.unknown = w.factsID(unknown(w.facts[facts], f))
		got.known = got.unknown
		if known, err := w.facts[facts].Set(f, w.truth.Answer(f)); err == nil {
			got.known = w.factsID(known)
		}
		w.learns[key] = got
	}
	return got
}

type learnKey struct {
	facts, truth int32
	fact         house.Fact
}

type learnt struct{ known, unknown int32 }

// unknown takes "cannot say" as unknown; a meter nobody can name is no meter.
func unknown(f house.Facts, k house.Fact) house.Facts {
	if k == house.FactMeter {
		f.Meter = house.MeterNone
		return f
	}
	if got, err := f.Set(k, "unknown"); err == nil {
		return got
	}
	return f
}

// aside follows a side way to its end and comes back.
func (w *walker) aside(p place) {
	seen, asked := len(w.seen), len(w.asked)
	w.follow(p)
	w.seen, w.asked = w.seen[:seen], w.asked[:asked]
}

// nth counts the steps of the same name that were asked before.
func (w *walker) nth(s *tree.Step) int {
	n := 0
	for _, other := range w.asked {
		if other.ID == s.ID {
			n++
		}
	}
	return n
}

// recall answers a step from what was seen in the same setup.
func (w *walker) recall(s *tree.Step, wants []goalID) bool {
	env := w.env(s.Tree)
	var room [batchUsual]*seen
	found := room[:0]
	for _, g := range wants {
		x := w.known(g)
		if x == nil {
			return false
		}
		found = append(found, x)
	}
	for i, x := range found {
		w.hang(s, i, x)
		w.put(env, s, i, x.shows)
	}
	return true
}

func (w *walker) env(t *tree.Tree) *tree.Env {
	if t == w.lastTree {
		return w.lastEnv
	}
	e := w.envs[t]
	if e == nil {
		e = t.NewEnv()
		w.envs[t] = e
	}
	w.lastTree, w.lastEnv = t, e
	return e
}

// put gives the tree what a step showed.
func (w *walker) put(env *tree.Env, s *tree.Step, pair int, x shows) {
	if s.Kind == tree.LookStep {
		_ = env.See(s, x.answer)
		return
	}
	_ = env.ReadPair(s, pair, x.reading)
}

// probe makes the step's probes, all of a batch that were not made before, and
// takes its edge.
func (w *walker) probe(p place, a *arrival) place {
	var room [batchUsual]shows
	said := room[:0]
	given := uint64(0) // by pair: known already
	for i := range a.goals {
		x := w.known(a.ids[i])
		if x != nil {
			given |= 1 << i
		} else {
			x = &seen{glance: w.goals.glance(a.ids[i], a.goals[i], p.rested), shows: w.values.at(a.ids[i], a.goals[i], p.side.kind, p.rested)}
		}
		w.hang(p.step, i, x)
		said = append(said, x.shows)
	}
	if w.hits != nil {
		w.hitsOf(p.step).asked = true
	}
	if w.errs(p) {
		w.deviate(p, a, said, given)
	}
	if p.side.kind == NoSlip && !w.straight {
		w.asked = append(w.asked, p.step)
	}
	if w.probed != nil {
		for i, x := range said {
			w.probed(p.step, i, x, p.side.kind)
		}
	}
	return w.answer(p, a, said, given, noPair)
}

// noPair is that of a batch which no lie is told about.
const noPair = -1

// hang notes that what a name of a step stands for decides how the call goes on.
// A lie does not hang on the house.
func (w *walker) hang(s *tree.Step, i int, x *seen) {
	if w.hinges != nil && !x.lied {
		w.hinges(hinge{s.Names()[i], x.glance})
	}
}

// known is what a probe showed before in this call; nil where it was not made.
func (w *walker) known(g goalID) *seen {
	for i := len(w.seen) - 1; i >= 0; i-- {
		if w.seen[i].goal == g {
			return &w.seen[i]
		}
	}
	return nil
}

// answer takes what a batch showed, or in one pair is said to have shown.
func (w *walker) answer(p place, a *arrival, said []shows, given uint64, lie int) place {
	env := w.env(p.step.Tree)
	var high house.Finding
	missing := 0
	for i, x := range said {
		if x.unable {
			missing++
			continue
		}
		w.put(env, p.step, i, x)
		if given&(1<<i) != 0 {
			continue
		}
		w.seen = append(w.seen, seen{glance: w.goals.glance(a.ids[i], a.goals[i], p.rested), shows: x, lied: i == lie})
		if h := w.tooHigh(a.goals[i].probe, x, w.facts[p.facts]); h != "" && high != house.LineVoltageCrossed {
			high = h
		}
	}
	if a.moves {
		p.state = w.moved(p.state, a, said, given)
	}
	switch {
	case high != "":
		return w.end(p, high, tree.Target{Pos: p.step.Pos}, "")
	case missing > 0:
		return w.cut(p)
	}
	return w.decide(p)
}

// moved is the planner's state once it has heard what the probes showed.
func (w *walker) moved(state int32, a *arrival, said []shows, given uint64) int32 {
	s := w.states[state]
	for i, x := range said {
		switch p := a.goals[i].probe; {
		case x.unable, given&(1<<i) != 0:
		case p.IsLook():
			s = s.Saw(p.Look, x.answer)
		default:
			s = s.Read(p, x.reading)
		}
	}
	return w.state(s)
}

// decide takes the edge for what the step showed.
func (w *walker) decide(p place) place {
	t, branch, err := p.step.Decide(w.env(p.step.Tree))
	if err != nil || branch == tree.BranchUnable {
		return w.cut(p)
	}
	because := ""
	if branch >= 0 {
		because = p.step.Branches[branch].Because
		w.hit(p, branch)
	} else {
		w.hit(p, edgeOL)
	}
	return w.take(p, t, because)
}

// cut takes the step's unable edge.
func (w *walker) cut(p place) place {
	w.hit(p, edgeUnable)
	if p.step.Unable.Kind == tree.NoTarget {
		return w.end(p, house.Undecided, tree.Target{Pos: p.step.Pos}, "")
	}
	return w.take(p, p.step.Unable, "")
}

func (w *walker) take(p place, t tree.Target, because string) place {
	if t.Kind == tree.ToFinding {
		return w.end(p, t.Finding, t, because)
	}
	p.step = t.Next()
	return p
}

func (w *walker) end(p place, f house.Finding, t tree.Target, because string) place {
	if because == "" {
		because = p.step.Because
	}
	w.ends(&ending{finding: f, pos: t.Pos, because: because, rested: p.rested, side: p.side})
	return place{}
}

// newWalker is a walker of one audience over a library.
func newWalker(lib *tree.Library, who house.Audience, goals *goalBook, v *values) *walker {
	w := &walker{atlas: newAtlas(who, goals), lib: lib, envs: map[*tree.Tree]*tree.Env{}, cuts: map[*tree.Name][]quantity.Reading{},
		limit: map[*tree.Name][]float64{}, learns: map[learnKey]learnt{}, guard: guardVolts, values: v}
	if l, ok := lib.Limits["meter_guard"]; ok {
		w.guard = l.Value
	}
	w.guardLowZ = w.guard
	if l, ok := lib.Limits["meter_guard_lowz"]; ok {
		w.guardLowZ = l.Value
	}
	return w
}
