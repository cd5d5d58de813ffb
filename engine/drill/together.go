package drill

import (
	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
)

// together holds all readings of a path against one house at a time. A fault's
// own range for each reading spans all houses there may be, so a fault may show
// every reading in some house and no house shows them all.
type together struct {
	path  Path
	game  *Game
	draws []circuit.Draw
	bench []*circuit.Bench // by draw, made when it is first wanted
}

// turns are the choices a house is drawn with that change readings; the rest
// change looks, or hardly anything.
var turns = []circuit.Choice{circuit.FloatIn, circuit.Sensing, circuit.Supply, circuit.LeakInto, circuit.BaseR}

var options = map[circuit.Choice][]string{
	circuit.FloatIn: {"R", "Y"}, circuit.Sensing: {"no", "yes"}, circuit.Supply: {"common", "battery", "through-load"},
	circuit.LeakInto: {"W", "Y"}, circuit.BaseR: {"single", "rc-rh"},
}

// houses are the equipment's at the centre of every range, in every turn.
func (t *together) houses() error {
	if t.draws != nil {
		return nil
	}
	e := t.game.Equipment()
	draws := []circuit.Draw{e.Nominal()}
	for _, c := range turns {
		if !e.Draws(c) {
			continue
		}
		var more []circuit.Draw
		for _, d := range draws {
			for _, o := range options[c] {
				x, err := d.With(c, o)
				if err != nil {
					return err
				}
				if c == circuit.LeakInto && d.Choice(circuit.Supply) != "through-load" && o != d.Choice(c) {
					continue // nothing leaks
				}
				more = append(more, x)
			}
		}
		draws = more
	}
	t.draws, t.bench = draws, make([]*circuit.Bench, len(draws))
	return nil
}

// rulesOut reports whether no house with a fault shows the readings together.
func (t *together) rulesOut(f house.Fault) (bool, error) {
	if err := t.houses(); err != nil {
		return false, err
	}
	for i, d := range t.draws {
		if t.bench[i] == nil {
			var err error
			if t.bench[i], err = circuit.NewBench(d); err != nil {
				return false, err
			}
		}
		if t.shows(t.bench[i], f) {
			return false, nil
		}
	}
	return true, nil
}

// shows reports whether one house with a fault shows all readings. What it
// cannot be put through shows them as well as not.
func (t *together) shows(b *circuit.Bench, f house.Fault) bool {
	g, err := begin(b, f, t.game.symptom)
	if err != nil {
		return true
	}
	for _, s := range t.path.Steps {
		made, err := g.make(s.Goal, s.Rested)
		if err != nil {
			continue
		}
		if q := s.Goal.Probe.Quantity; !s.Goal.Probe.IsLook() && size(made.Reading, q) != size(s.Reading, q) {
			return false
		}
	}
	return true
}

// The sizes a reading comes in, by bounds no house at the centre of the ranges
// comes near: nothing, all of it, or between; volts and amps.
const (
	nothingVolts = 2.0
	allVolts     = 18.0
	nothingAmps  = 0.02
	shortOhms    = 1.0
)

// size tells nothing from something: 0 next to nothing, 1 between, 2 all that
// there can be.
func size(r quantity.Reading, q quantity.Quantity) int {
	v, ok := r.Number()
	low, high := nothingVolts, allVolts
	switch q {
	case quantity.Resistance:
		if !ok {
			return 2
		}
		if v < shortOhms {
			return 0
		}
		return 1
	case quantity.Current:
		low, high = nothingAmps, nothingAmps
	}
	switch {
	case v < low:
		return 0
	case v < high:
		return 1
	}
	return 2
}
