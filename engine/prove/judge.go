package prove

import (
	"math"
	"math/bits"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/tree"
)

// judge lays the end of every simulated call against what the house allows. It
// serves one goroutine.
type judge struct {
	stage  *stage
	act    *act
	course *course
	lib    *tree.Library
	goals  *goalBook
	v      *values
	w      *walker
	tally  *tally
	at     mark

	shown   bool
	columns map[*act][]*forecast.Column // by goal; nil where not asked for yet
	present []*forecast.Column          // of the act at hand
	allowed map[allowedKey][]goalID     // by place in the universe; −1 where this caller may not
	tellers map[tellerKey][]int32
	best    house.FaultSet // S, of this house and caller
	bestOf  bool           // it is worked out
	errs    error
}

type allowedKey struct {
	act   *act
	who   house.Audience
	facts house.Facts
}

type tellerKey struct {
	act   *act
	who   house.Audience
	fault house.Fault
}

// judge judges a call and all that may go wrong in it.
func (j *judge) judge(c *course) {
	j.course = c
	j.tally.Variants += c.calls
	if j.shown && c.main.side.kind == NoSlip {
		j.look(0, c.seen)
	}
	j.end(&c.main)
	for i := len(c.aside) - 1; i >= 0; i-- { // backwards, so that what the main way saw stays
		p := &c.aside[i]
		if j.shown && p.side.kind == SlipUnable && p.finding == house.Undecided {
			j.look(int(p.since), p.seen)
		}
		j.end(p)
	}
}

// look has the walker see what was seen in a call, in this house: what it saw
// before up to since, then the rest.
func (j *judge) look(since int, rest []glance) {
	w := j.w
	w.seen = w.seen[:since]
	for _, g := range rest {
		w.seen = append(w.seen, seen{glance: g, shows: j.v.at(g.goal, j.goals.of(g), NoSlip, g.rested)})
	}
}

// end judges where calls end.
func (j *judge) end(p *passed) {
	t, who := j.tally, j.w.who
	fault := j.at.fault
	named := j.stage.findings[p.finding]
	if named.condemns && !fault.Condemns() {
		t.Condemned += int(p.times)
		j.report(thermostatCondemned, p)
		return
	}
	switch p.side.kind {
	case NoSlip:
		t.Calls[who]++
	case SlipUnable:
	case SlipWrong:
		j.margin(p)
		return
	default:
		return
	}
	if !j.shown {
		j.quiet(p)
		return
	}
	if p.side.kind == NoSlip {
		t.Shown[who]++
	}
	switch j.classify(p) {
	case endedRight:
		if p.side.kind == NoSlip {
			t.AtBest[who]++
		} else {
			t.UnableRight++
		}
	case endedWide:
		j.wide(p)
	case endedWrong:
		t.Missed++
		j.report(faultMissed, p)
	}
}

// quiet judges a call about something the house does not show.
func (j *judge) quiet(e *passed) {
	j.tally.Quiet++
	switch e.finding {
	case "none", "delay-running", "stat-setting", house.NotThisCircuit, house.Undecided:
		return
	}
	if j.names(e.finding, j.at.fault) {
		return
	}
	j.tally.Blamed++
	j.report(partBlamed, e)
}

// names reports whether a finding is right for a fault, as far as this
// audience is told.
func (j *judge) names(f house.Finding, fault house.Fault) bool {
	n := j.stage.findings[f]
	return n.faults.Has(fault) || n.keys[j.w.who] == j.stage.keys[j.w.who][fault]
}

type outcome uint8

const (
	endedRight outcome = iota // at the fault, or at one nothing tells from it
	endedWide                 // open, wider than it need be
	endedWrong
)

func (j *judge) classify(e *passed) outcome {
	if e.finding != house.Undecided {
		if j.names(e.finding, j.at.fault) || j.at.fault == house.DelayRunning && e.rested && e.finding == "none" {
			return endedRight // a delay has run out once the minutes were counted
		}
		for _, f := range j.s().List() {
			if j.names(e.finding, f) && !f.Condemns() {
				return endedRight
			}
		}
		return endedWrong
	}
	if j.count(j.left()) <= j.count(j.s()) {
		return endedRight
	}
	return endedWide
}

// count is how many ends a set of faults comes to for this audience.
func (j *judge) count(s house.FaultSet) int {
	var seen [4]uint64
	n := 0
	for half, word := range s {
		for ; word != 0; word &= word - 1 {
			k := j.stage.keys[j.w.who][half*64+bits.TrailingZeros64(word)]
			if seen[k/64]&(1<<(k%64)) == 0 {
				seen[k/64] |= 1 << (k % 64)
				n++
			}
		}
	}
	return n
}

// s is S(fault, draw): the faults whose intervals hold what this house shows on
// every probe this caller may make.
func (j *judge) s() house.FaultSet {
	if j.bestOf {
		return j.best
	}
	j.bestOf = true
	j.best = j.act.candidates.Add(j.at.fault)
	for _, x := range j.course.seen { // known already
		if !x.odd() && j.may(x.goal) {
			j.best = j.holds(j.best, x.goal, j.v.at(x.goal, j.goals.list[x.goal], NoSlip, false))
		}
	}
	may := j.mayMake()
	for _, i := range j.ordered() {
		if j.count(j.best) == 1 {
			break
		}
		id := may[i]
		if id < 0 {
			continue
		}
		g := j.act.universe[i]
		j.best = j.holds(j.best, id, j.v.at(id, g, NoSlip, false))
	}
	return j.best
}

// may reports whether this caller may make a probe, setup and all.
func (j *judge) may(id goalID) bool {
	g := j.goals.list[id]
	return house.Reach(j.w.who, j.w.truth, g.probe, g.setup) == house.NoCut
}

// ordered is the universe as it soonest tells the fault in the house from the
// others.
func (j *judge) ordered() []int32 {
	key := tellerKey{j.act, j.w.who, j.at.fault}
	list, ok := j.tellers[key]
	if !ok {
		f := house.Facts{Equipment: j.stage.eq.ID, Meter: house.MeterBoth, Base: house.BaseExposed}
		list = j.act.tellers(j.at.fault, func(g goal) bool { return house.Reach(j.w.who, f, g.probe, g.setup) == house.NoCut })
		j.tellers[key] = list
	}
	return list
}

// mayMake numbers the probes of the universe that this caller may make in this
// house.
func (j *judge) mayMake() []goalID {
	key := allowedKey{j.act, j.w.who, j.w.truth}
	list, ok := j.allowed[key]
	if !ok {
		for _, g := range j.act.universe {
			id := goalID(-1)
			if house.Reach(j.w.who, j.w.truth, g.probe, g.setup) == house.NoCut {
				id = j.goals.id(g)
			}
			list = append(list, id)
		}
		j.allowed[key] = list
	}
	return list
}

// left are the faults that hold everything seen in the call.
func (j *judge) left() house.FaultSet {
	from := len(j.w.seen)
	for from > 0 && !j.w.seen[from-1].held {
		from--
	}
	set := j.act.candidates.Add(j.at.fault)
	if from > 0 {
		set = j.w.seen[from-1].left
	}
	for i := from; i < len(j.w.seen); i++ {
		x := &j.w.seen[i]
		if !x.odd() {
			set = j.holds(set, x.goal, x.shows)
		}
		x.left, x.held = set, true
	}
	return set
}

// holds keeps of a set the faults that may show x. The fault in the house stays
// whatever the intervals say: it did show it.
func (j *judge) holds(set house.FaultSet, id goalID, x shows) house.FaultSet {
	c := j.column(id)
	if x.unable || c == nil {
		return set
	}
	g := j.goals.list[id]
	at := forecast.AtAnswer(x.answer)
	if !g.probe.IsLook() {
		at = forecast.At(g.probe.Quantity, x.reading)
	}
	var out house.FaultSet
	for half, word := range set {
		for ; word != 0; word &= word - 1 {
			f := house.Fault(half*64 + bits.TrailingZeros64(word))
			if r := j.act.rowOf[f]; r >= 0 && c.Holds(int(r), at) {
				out = out.Add(f)
			}
		}
	}
	return out.Add(j.at.fault)
}

// plays takes up an act.
func (j *judge) plays(a *act) {
	if j.act != nil {
		j.columns[j.act] = j.present
	}
	j.act, j.present = a, j.columns[a]
}

func (j *judge) column(id goalID) *forecast.Column {
	for int(id) >= len(j.present) {
		j.present = append(j.present, make([]*forecast.Column, 64)...)
	}
	c := j.present[id]
	if c == nil {
		var err error
		if c, err = j.act.column(j.goals.list[id]); err != nil && j.errs == nil {
			j.errs = err
		}
		j.present[id] = c
	}
	return c
}

// wide judges a call that stayed open wider than the probes allow.
func (j *judge) wide(e *passed) {
	t, who := j.tally, j.w.who
	left, best := j.left(), j.s()
	if e.side.kind == SlipUnable {
		t.UnableWide++ // what is missing is what could not be made
		return
	}
	t.Excess[who] += j.count(left) - j.count(best)
	if e.because == "" {
		t.Wider++
		j.report(widerThanNeeded, e)
		return
	}
	if !j.tells(e.because, left) {
		t.Wider++
		j.report(becauseUnproven, e)
		return
	}
	t.Because[who]++
	t.lean(e, who)
}

// tells reports whether a because names a probe that was not made in this call
// and would leave fewer ends.
func (j *judge) tells(because string, left house.FaultSet) bool {
	n := j.count(left)
	for _, g := range j.act.universe {
		if !names(because, g.probe, j.stage.eq.ID) {
			continue
		}
		id := j.goals.id(g)
		if !j.made(id) && j.count(j.holds(left, id, j.v.at(id, g, NoSlip, false))) < n {
			return true
		}
	}
	return false
}

func (j *judge) made(id goalID) bool {
	for _, x := range j.w.seen {
		if x.goal == id {
			return true
		}
	}
	return false
}

// marginVolts is what a reading keeps from a limit it must not cross, beside
// the meter's own error.
const marginVolts = 0.3

// margin judges a reading just across a limit: where the call then ends at
// something this house is not, the true reading must keep away from it.
func (j *judge) margin(e *passed) {
	if math.IsInf(e.side.cut, 0) || !j.shown || e.side.step.Kind != tree.MeasureStep || e.finding == house.Undecided ||
		j.classify(e) != endedWrong {
		return
	}
	q := e.side.step.Quantity
	g := e.side.goal
	truth := j.v.at(g.goal, j.goals.of(g), NoSlip, g.rested).reading.Value
	least := circuit.MeterAccuracy(q).Guard(truth)
	if q != quantity.Resistance && q != quantity.Current {
		least += marginVolts
	}
	away := math.Abs(truth - e.side.cut)
	if q.Unit() == "V" {
		j.tally.margin(away)
	}
	if away < least {
		j.tally.Thin += int(e.times)
		near := *e.ending
		near.side.truth = truth
		j.report(thinMargin, &passed{ending: &near, times: e.times})
	}
}
