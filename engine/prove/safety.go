package prove

import (
	"fmt"
	"strings"
	"sync"

	"stepdown/engine/house"
	"stepdown/engine/planner"
	"stepdown/engine/quantity"
)

// Plan is what WalkPlanner walks: a planner, whole or with a rule left out.
type Plan interface {
	Next(planner.State, planner.Goal, house.Audience, house.Facts) planner.Action
	Leave(planner.State, planner.Ending, house.Audience, house.Facts) planner.Action
	MakeSafe(planner.State, house.Audience, house.Facts) planner.Action
	Resume(planner.State) planner.State
	Read(planner.State, house.Probe, quantity.Reading) planner.State
}

// Space is one walk: an audience in a house, and every goal that may come up
// at any moment.
type Space struct {
	Name  string
	Who   house.Audience
	Facts house.Facts
	Goals []planner.Goal
	// Floats: readings may show the float switch closed or open. Trips: the
	// breaker may be seen tripped.
	Floats, Trips bool
}

// Unsafe is an action against a rule, with the way that led to it.
type Unsafe struct {
	Space string
	Why   string
	Goal  planner.Goal
	Path  []string // ids of the actions from the start of the call
}

func (u Unsafe) String() string {
	return fmt.Sprintf("%s: %s\n  after: %s\n  towards: %s, %s", u.Space, u.Why, strings.Join(u.Path, " "), u.Goal.Probe, u.Goal.Setup)
}

// SafetyReport counts what was walked.
type SafetyReport struct {
	States  int // house states with all that was proven and acknowledged
	Actions int // state × goal, each laid against the rules
	Ready   int // of which the probe could be made
	Refused int // of which the goal was turned down, with a reason
	Unsafe  []Unsafe
}

// unsafeMax ends a walk once it has shown its point.
const unsafeMax = 1

// WalkPlanner walks p through every space and judges each action. Every action may
// be the last before the goal changes (`back`, or an edge of a tree), before
// somebody is unable, before a pause, before the call is left: so from every
// state every goal, pause, unable and end is followed, not only those that led
// there. Spaces are walked by as many workers as asked for; the report does
// not depend on their number.
func WalkPlanner(p Plan, spaces []Space, workers int) SafetyReport {
	reports := make([]SafetyReport, len(spaces))
	next := make(chan int)
	var done sync.WaitGroup
	for range max(workers, 1) {
		done.Go(func() {
			for i := range next {
				reports[i] = newWalk(p, spaces[i]).run()
			}
		})
	}
	for i := range spaces {
		next <- i
	}
	close(next)
	done.Wait()
	var sum SafetyReport
	for _, r := range reports {
		sum.States += r.States
		sum.Actions += r.Actions
		sum.Ready += r.Ready
		sum.Refused += r.Refused
		sum.Unsafe = append(sum.Unsafe, r.Unsafe...)
	}
	return sum
}

// node is the planner's account of the house beside the guard's.
type node struct {
	s planner.State
	w world
}

// walk is one breadth-first walk.
type walk struct {
	site
	plan   Plan
	space  Space
	nodes  []node
	from   []int32 // the node each was first reached from
	by     []string
	index  map[node]int32
	report SafetyReport
}

func newWalk(p Plan, s Space) *walk {
	w := &walk{site: site{s.Who, s.Facts}, plan: p, space: s, index: map[node]int32{}}
	w.add(node{planner.Start(), newWorld()}, -1, "")
	return w
}

func (k *walk) add(n node, from int32, by string) {
	if _, known := k.index[n]; known {
		return
	}
	k.index[n] = int32(len(k.nodes))
	k.nodes = append(k.nodes, n)
	k.from = append(k.from, from)
	k.by = append(k.by, by)
}

func (k *walk) run() SafetyReport {
	for i := int32(0); int(i) < len(k.nodes) && len(k.report.Unsafe) < unsafeMax; i++ {
		k.goals(i)
		k.breakOff(i)
	}
	k.report.States = len(k.nodes)
	return k.report
}

// goals follows every goal by one action.
func (k *walk) goals(i int32) {
	n := k.nodes[i]
	var last planner.Action
	from, step := 0, 1
	if n.w.unproven != (pair{}) {
		// Here everything is turned down and nothing follows: a seventh of the
		// goals, another seventh from state to state, says so as well as all.
		from, step = int(i)%7, 7
	}
	for at := from; at < len(k.space.Goals); at += step {
		goal := k.space.Goals[at]
		a := k.plan.Next(n.s, goal, k.who, k.facts)
		k.report.Actions++
		g := guard{site: k.site, w: n.w, goal: goal}
		why := g.judge(a)
		switch a.Kind {
		case planner.Ready:
			k.report.Ready++
			if why == "" {
				why = g.met()
			}
			k.made(i, goal.Probe)
		case planner.Refuse:
			k.report.Refused++
			if why == "" && !g.mayRefuse() {
				why = "refused without a reason: " + a.Reason
			}
		default:
			if a.ID != last.ID || a.After != last.After {
				k.add(node{a.After, n.w.after(k.site, a)}, i, a.ID)
				last = a
			}
		}
		if why != "" && k.blame(i, a, goal, why) {
			return
		}
	}
}

// made follows the probe itself: a batch at line voltage is used up, a
// reading shows the float switch closed or open, a breaker is seen tripped.
func (k *walk) made(i int32, p house.Probe) {
	n := k.nodes[i]
	if p.IsLook() {
		if p.Look == house.BreakerIndoor && k.space.Trips {
			k.tripped(i, p.Look)
		}
		return
	}
	for _, v := range [...]float64{0, 26} {
		if v != 0 && !k.space.Floats {
			continue
		}
		r := quantity.Of(v)
		k.add(node{k.plan.Read(n.s, p, r), n.w.read(p, r)}, i, "read:"+p.String())
	}
}

func (k *walk) tripped(i int32, l house.Look) {
	n := k.nodes[i]
	for _, a := range l.Answers() {
		w := n.w
		w.tripped.put(k.source(), l.AnswerID(a) == "tripped")
		s := n.s.Saw(l, a)
		if k.packaged() {
			s.Tripped = planner.PlacesOf(house.AtOutdoor)
			if !w.tripped.outdoor {
				s.Tripped = 0
			}
		}
		k.add(node{s, w}, i, "saw:"+l.AnswerID(a))
	}
}

// breakOff follows what may come between any two actions.
func (k *walk) breakOff(i int32) {
	n := k.nodes[i]
	k.add(node{k.plan.Resume(n.s), n.w.paused()}, i, "pause")
	forgot := node{n.s.Forget(planner.Start()), n.w}
	forgot.w.lowVoltage, forgot.w.floatClosed, forgot.w.tripped = false, false, pair{}
	k.add(forgot, i, "back")
	k.makeSafe(i)
	for _, end := range endings {
		k.leave(i, end)
	}
}

func (k *walk) makeSafe(i int32) {
	n := k.nodes[i]
	a := k.plan.MakeSafe(n.s, k.who, k.facts)
	g := guard{site: k.site, w: n.w, free: true}
	why := g.judge(a)
	switch a.Kind {
	case planner.Ready:
		if why == "" {
			why = g.safe()
		}
	case planner.Refuse:
		why = "the house cannot be made safe: " + a.Reason
	default:
		k.add(node{a.After, n.w.gaveUp(k.site, a)}, i, "unable:"+a.ID)
	}
	if why != "" {
		k.blame(i, a, planner.Goal{}, "making safe: "+why)
	}
}

var endings = []planner.Ending{
	{Call: house.DefaultSetup().With(house.CoolCall)},
	{Locked: true, Call: house.DefaultSetup().With(house.CoolCall)},
	{Finding: house.LineVoltageCrossed},
}

func (k *walk) leave(i int32, end planner.Ending) {
	n := k.nodes[i]
	a := k.plan.Leave(n.s, end, k.who, k.facts)
	g := guard{site: k.site, w: n.w, free: true, stop: end.Finding == house.LineVoltageCrossed}
	why := g.judge(a)
	switch a.Kind {
	case planner.Ready:
		if why == "" {
			why = g.left(end)
		}
	case planner.Refuse:
		why = "the house cannot be left: " + a.Reason
	default:
		k.add(node{a.After, n.w.after(k.site, a)}, i, "leave:"+a.ID)
	}
	if why != "" {
		k.blame(i, a, planner.Goal{}, "leaving: "+why)
	}
}

// blame reports an unsafe action and whether the walk has seen enough.
func (k *walk) blame(i int32, a planner.Action, g planner.Goal, why string) bool {
	path := []string{a.ID}
	for at := i; at > 0; at = k.from[at] {
		path = append(path, k.by[at])
	}
	for l, r := 0, len(path)-1; l < r; l, r = l+1, r-1 {
		path[l], path[r] = path[r], path[l]
	}
	k.report.Unsafe = append(k.report.Unsafe, Unsafe{Space: k.space.Name, Why: why, Goal: g, Path: path})
	return len(k.report.Unsafe) >= unsafeMax
}
