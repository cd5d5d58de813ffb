package drill

import (
	"errors"
	"fmt"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// Move is one thing that was done: a probe with what it showed, or a change
// of the setup.
type Move struct {
	Probe   house.Probe // the zero Probe for a change of the setup
	Setup   house.Setup
	Reading quantity.Reading
	Answer  house.Answer
	Waited  bool // five minutes passed, nothing was changed
}

// Slip is one thing that would have been unsafe or meaningless on a real
// house.
type Slip struct {
	Move int // before which move
	Text string
}

// Verdict is what naming a fault came to.
type Verdict struct {
	Right  bool
	Named  house.Fault
	Was    house.Fault
	Probes int
	Slips  []Slip
}

// Game is one drill. It is for one goroutine.
type Game struct {
	hidden  house.Fault
	circuit *circuit.House
	symptom house.Setup
	setup   house.Setup
	hints   int
	moves   []Move
	slips   []Slip
	coach   *Coach // nil gives no hints and no score
}

// With gives the game a coach: hints, and a score at the end.
func (g *Game) With(c *Coach) *Game {
	g.coach = c
	return g
}

// Coach is the game's coach, nil where it has none.
func (g *Game) Coach() *Coach { return g.coach }

// New hides a fault in a drawn house and plays the symptom's setup, which
// leaves the fuse and the armatures as somebody would find them. The house
// then stands in the symptom's setup with its covers closed.
func New(d circuit.Draw, hidden house.Fault, symptom house.Setup) (*Game, error) {
	b, err := circuit.NewBench(d)
	if err != nil {
		return nil, err
	}
	return begin(b, hidden, symptom)
}

func begin(b *circuit.Bench, hidden house.Fault, symptom house.Setup) (*Game, error) {
	h, err := b.House(faultsOf(hidden)...)
	if err != nil {
		return nil, err
	}
	g := &Game{hidden: hidden, circuit: h, symptom: symptom, setup: symptom}
	return g, h.Play(symptom)
}

func faultsOf(f house.Fault) []house.Fault {
	if f == house.None || f == house.NoFault {
		return nil
	}
	return []house.Fault{f}
}

// Equipment is what the house has.
func (g *Game) Equipment() *circuit.Equipment { return g.circuit.Draw().Equipment }

// Hints counts the hints that were given.
func (g *Game) Hints() int { return g.hints }

// Wait lets five minutes pass, so that a compressor delay runs out.
func (g *Game) Wait() error {
	if err := g.rest(); err != nil {
		return err
	}
	g.moves = append(g.moves, Move{Setup: g.setup, Waited: true})
	return g.circuit.Play(g.setup)
}

func (g *Game) rest() error {
	if g.hidden != house.DelayRunning {
		return nil
	}
	return g.circuit.Become()
}

// Setup is how the house stands.
func (g *Game) Setup() house.Setup { return g.setup }

// Moves are the probes made and setups changed so far.
func (g *Game) Moves() []Move { return append([]Move(nil), g.moves...) }

// Slips are the safety slips so far.
func (g *Game) Slips() []Slip { return append([]Slip(nil), g.slips...) }

// Set changes the setup. A change no real house could be put in is an error;
// one that would hurt is a slip.
func (g *Game) Set(p house.Partial) error {
	next := p.Over(g.setup)
	if next == g.setup {
		return nil
	}
	if err := g.circuit.Play(next); err != nil {
		return err
	}
	g.watch(next)
	g.setup = next
	g.moves = append(g.moves, Move{Setup: next})
	return nil
}

// watch counts what would have been unsafe in going to a setup.
func (g *Game) watch(next house.Setup) {
	e := g.Equipment().ID
	for _, at := range []house.Place{house.AtIndoor, house.AtOutdoor} {
		if next.CoverOpen(at) && !g.setup.CoverOpen(at) && g.setup.Power(e.Where(at)) != house.LockedOut {
			g.slip("the cover at %s came off before its power was locked out", at)
		}
		if g.setup.Power(e.Where(at)) != house.LockedOut && handsIn(g.setup, next, at) {
			g.slip("hands went into the cabinet at %s with its power not locked out", at)
		}
	}
	if next.Fuse == house.FuseNew && g.setup.Fuse != house.FuseNew && g.fusesUsed() > 0 {
		g.slip("a second new fuse went in before the short was found")
	}
}

// handsIn reports whether a jumper, a conductor or the fuse at a place changed.
func handsIn(from, to house.Setup, at house.Place) bool {
	jumper := (from.Jumper != to.Jumper || from.JumperAt != to.JumperAt) &&
		(to.Jumper != 0 && to.JumperAt == at || from.Jumper != 0 && from.JumperAt == at)
	return jumper || from.Lifted.At(at) != to.Lifted.At(at) || at == house.AtIndoor && from.Fuse != to.Fuse
}

func (g *Game) fusesUsed() int {
	n, was := 0, house.FuseAsFound
	for _, m := range g.moves {
		if m.Setup.Fuse == house.FuseNew && was != house.FuseNew {
			n++
		}
		was = m.Setup.Fuse
	}
	return n
}

// Measure reads a pair or a conductor. What cannot be read is an error that
// says why: ohms with the power on, a closed cover, a terminal that is not
// there.
func (g *Game) Measure(p house.Probe) (quantity.Reading, error) {
	p = p.On(g.Equipment().ID)
	r, err := g.circuit.Read(g.setup, p)
	if err != nil {
		var refused *circuit.Refusal
		if errors.As(err, &refused) && refused.Code == circuit.RefusedPower {
			g.slip("ohms with the power on: %s", p)
		}
		return r, err
	}
	g.moves = append(g.moves, Move{Probe: p, Setup: g.setup, Reading: r})
	return r, nil
}

// Look sees, hears or feels.
func (g *Game) Look(l house.Look) (house.Answer, error) {
	a, err := g.circuit.Look(g.setup, l)
	if err != nil {
		return a, err
	}
	g.moves = append(g.moves, Move{Probe: house.LookAt(l), Setup: g.setup, Answer: a})
	return a, nil
}

// Peek is a look that is no move of the trainee's: what somebody says of the
// house beforehand.
func (g *Game) Peek(l house.Look) (house.Answer, error) { return g.circuit.Look(g.setup, l) }

// Name says what the trainee thinks it is. Two faults that share a finding on
// this equipment are one answer.
func (g *Game) Name(f house.Fault) Verdict {
	e := g.Equipment().ID
	v := Verdict{Named: f, Was: g.hidden, Slips: g.Slips()}
	v.Right = house.FindingOf(f, e) == house.FindingOf(g.hidden, e)
	for _, m := range g.moves {
		if m.Probe != (house.Probe{}) {
			v.Probes++
		}
	}
	return v
}

func (g *Game) slip(format string, args ...any) {
	g.slips = append(g.slips, Slip{Move: len(g.moves), Text: fmt.Sprintf(format, args...)})
}
