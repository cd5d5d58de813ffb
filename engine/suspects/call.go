package suspects

import (
	"fmt"
	"sync"

	"stepdown/engine/forecast"
	"stepdown/engine/house"
)

// Engine weighs calls. It is safe for several goroutines.
type Engine struct {
	forecast *forecast.Forecast
	weights  Weights
	joints   *joints
	levels   *sync.Map // by column, the same with its ends laid level
}

// New makes an engine of a forecast and what is assumed beforehand.
func New(f *forecast.Forecast, w Weights) *Engine {
	return &Engine{forecast: f, weights: w, joints: newJoints(), levels: &sync.Map{}}
}

// With is the same engine, of the same forecast, on other weights.
func (e *Engine) With(w Weights) *Engine {
	return &Engine{forecast: e.forecast, weights: w, joints: e.joints, levels: e.levels}
}

// Case is what a call starts from.
type Case struct {
	Facts house.Facts
	// Equipment lists what it may be where Facts does not say; empty means any.
	Equipment []house.Equipment
	// Symptoms are the ways the complaint may show; one of them was seen.
	// Without any the call starts from the readings alone.
	Symptoms []Symptom
}

// Call is one call as the engine sees it. It serves one goroutine.
type Call struct {
	engine   *Engine
	facts    house.Facts
	sheets   []*forecast.Sheet
	hyps     []hypothesis
	start    []float64 // prior, the symptom counted
	prior    []float64 // the same, the symptom left out
	symptoms []Symptom
	belief   belief
	seen     []Seen
	cols     [][]*forecast.Column // by seen, by sheet
	pairs    []pairing
	sifted   sifted
	beside   []pairing    // those that explain as much as what is left by itself; none but right after they were sought
	under    map[int]Slip // of the hypotheses live that a slip kept up leaves in, which
	// fruitless counts the readings in a row that ruled nothing out.
	fruitless int
	picker    picker
	proofs    proofs
}

// hypothesis is one fault in one equipment.
type hypothesis struct {
	sheet, row int
	fault      house.Fault
	finding    house.Finding
	none       int  // the row of a healthy house on the same sheet
	blown      int  // that of a house with the same short and a blown fuse; -1 but where the fuse holds
	candidate  bool // it shows the complaint, or is one of those always kept
}

// Open starts a call.
func (e *Engine) Open(c Case) (*Call, error) {
	out := &Call{engine: e, facts: c.Facts, symptoms: c.Symptoms, under: map[int]Slip{}}
	list := c.Equipment
	if c.Facts.Equipment != house.NoEquipment {
		list = []house.Equipment{c.Facts.Equipment}
	} else if len(list) == 0 {
		list = e.forecast.Catalog().IDs()
	}
	for _, id := range list {
		sheet, err := e.sheet(id, c)
		if err != nil {
			return nil, err
		}
		if err := out.add(sheet); err != nil {
			return nil, err
		}
	}
	out.restart()
	return out, nil
}

// sheet is the forecast for one equipment; the symptom played first is the
// first whose call the equipment can make.
func (e *Engine) sheet(id house.Equipment, c Case) (*forecast.Sheet, error) {
	eq := e.forecast.Catalog().Equipment(id)
	if eq == nil {
		return nil, fmt.Errorf("equipment %s is not modelled", id)
	}
	played := house.DefaultSetup()
	if len(c.Symptoms) > 0 {
		played = c.Symptoms[0].Setup
	} else {
		played.Mode, played.Calling = house.ModeCool, true
		if eq.Calls.Cool == 0 {
			played.Mode = house.ModeHeat
		}
	}
	return e.forecast.Sheet(forecast.KindOf(id, c.Facts, played))
}

// always are candidates whatever the complaint is.
func always(f house.Fault) bool {
	return f == house.None || f == house.DelayRunning || f == house.StatSetting
}

// add puts a sheet's faults in as hypotheses.
func (c *Call) add(sheet *forecast.Sheet) error {
	columns, err := sheet.Columns(nil, c.asked()...)
	if err != nil {
		return err
	}
	w, index := c.engine.weights, len(c.sheets)
	c.sheets = append(c.sheets, sheet)
	var sum float64
	for r, f := range sheet.Rows() {
		sum += w.Fault[f] * sheet.Share(r)
	}
	none := 0
	for r, f := range sheet.Rows() {
		if f == house.None {
			none = r
		}
		h := hypothesis{sheet: index, row: r, none: none, blown: -1, fault: f, finding: house.FindingOf(f, sheet.Kind().Equipment)}
		if sheet.Holds(r) {
			h.blown = r - 1
		}
		shows := c.shows(func(i int) []forecast.Piece { return h.shown(columns[i], false) })
		h.candidate = shows > 0 || always(f)
		c.hyps = append(c.hyps, h)
		if always(f) {
			shows = max(shows, w.Intermittent)
		}
		prior := w.Fault[f] * sheet.Share(r) / sum
		c.prior = append(c.prior, prior)
		c.start = append(c.start, prior*c.complains(shows))
	}
	return nil
}

// asked are the probes of the complaint.
func (c *Call) asked() []forecast.Goal {
	goals := make([]forecast.Goal, len(c.symptoms))
	for i, s := range c.symptoms {
		goals[i] = s.goal()
	}
	return goals
}

// shows is how likely the complaint shows, by what its probes do.
func (c *Call) shows(pieces func(symptom int) []forecast.Piece) float64 {
	if len(c.symptoms) == 0 {
		return 1
	}
	shows := 0.0
	for i, s := range c.symptoms {
		shows = max(shows, s.share(pieces(i)))
	}
	return shows
}

// complains is how likely a house that shows the complaint so often is called
// about it: people slip too.
func (c *Call) complains(shows float64) float64 {
	slip := c.engine.weights.Slip
	return (1-slip)*shows + slip/4
}

// restart is the belief before any reading. The second half of it are the same
// faults coming and going.
func (c *Call) restart() {
	n := len(c.hyps)
	prior := make([]float64, 2*n)
	share := c.engine.weights.Intermittent
	for h, w := range c.start {
		prior[h] = w
		if c.hyps[h].candidate && comesAndGoes(c.hyps[h].fault) {
			prior[h], prior[n+h] = w*(1-share), w*share
		}
	}
	c.belief = newBelief(prior, c.engine.weights.Fresh)
}

// comesAndGoes reports whether a fault is one that may be there at one look and
// not at the next: contacts, joints and switches.
func comesAndGoes(f house.Fault) bool {
	switch f.Family() {
	case house.Protection, house.Coil, house.Board, house.Thermostat, house.BeyondControl:
		return f != house.FuseBlown
	case house.ConductorFamily:
		return f <= house.LooseC
	case house.Contactor:
		return f == house.ContactorStuckOpen || f == house.ContactorContactsOpen
	}
	return f == house.DoorSwitchOpen || f == house.StatNotSeated
}

// pieces is what hypothesis h may show in the columns of one probe.
func (c *Call) pieces(h int, columns []*forecast.Column, rested bool) []forecast.Piece {
	hyp := &c.hyps[h]
	return hyp.shown(columns[hyp.sheet], rested)
}

// shown is what the hypothesis may show in a column of its sheet. A counted rest
// leaves no compressor delay.
func (hyp *hypothesis) shown(column *forecast.Column, rested bool) []forecast.Piece {
	row, look := hyp.row, column.Goal.Probe.Look
	if rested && hyp.fault == house.DelayRunning {
		row = hyp.none
	}
	pieces := withChatter(look, column.Row(row))
	if hyp.blown >= 0 && look != house.NoLook {
		return dragged(look, pieces, column.Row(hyp.none), column.Row(hyp.blown))
	}
	return pieces
}

// weigh takes one reading into the belief.
func (c *Call) weigh(s Seen, columns []*forecast.Column) {
	n, x := len(c.hyps), s.at()
	c.belief.observe(func(h int) (float64, bool) {
		if h < n {
			return fit(c.pieces(h, columns, s.Rested), x)
		}
		d, in := fit(c.pieces(h-n, columns, s.Rested), x)
		well, inWell := fit(columns[c.hyps[h-n].sheet].Row(c.hyps[h-n].none), x)
		return (d + well) / 2, in || inWell
	}, forecast.Span(s.Probe), c.slip(s))
}

// slip is how likely a reading is a slip: one made twice alike only where both
// were.
func (c *Call) slip(s Seen) float64 {
	if s.Confirmed {
		return c.engine.weights.Slip * c.engine.weights.Slip
	}
	return c.engine.weights.Slip
}

// columnsOf gives the columns of probes, by probe and by sheet.
func (c *Call) columnsOf(goals ...forecast.Goal) ([][]*forecast.Column, error) {
	out := make([][]*forecast.Column, len(goals))
	for i := range out {
		out[i] = make([]*forecast.Column, len(c.sheets))
	}
	for k, sheet := range c.sheets {
		columns, err := sheet.Columns(nil, goals...)
		if err != nil {
			return nil, err
		}
		for i := range out {
			out[i][k] = c.engine.level(columns[i])
		}
	}
	return out, nil
}

// Prepare works out beforehand what the faults show on probes, so that Observe
// need not.
func (c *Call) Prepare(goals ...forecast.Goal) error {
	_, err := c.columnsOf(goals...)
	return err
}

// Told is what one reading did.
type Told struct {
	RuledOut int // faults it ruled out
	Left     int // faults left
	// Contradiction is set where nothing explains what was seen any more.
	Contradiction *Contradiction
}

// Observe takes one probe's result, or several in the order they were made. The
// same probe in the same setup again is a retake: it replaces the one before. A
// contradiction is looked for once, after the last.
func (c *Call) Observe(list ...Seen) (Told, error) {
	before := c.Left()
	goals := make([]forecast.Goal, len(list))
	for i, s := range list {
		goals[i] = s.goal()
	}
	columns, err := c.columnsOf(goals...)
	if err != nil {
		return Told{}, err
	}
	left := before
	c.beside = c.beside[:0]
	for i, s := range list {
		was := left
		if c.note(s, columns[i]) {
			c.sifted = sifted{}
			c.replay(-1)
		} else {
			c.weigh(s, columns[i])
		}
		left = c.Left()
		if c.fruitless++; left != was {
			c.fruitless = 0
		}
	}
	told := Told{RuledOut: max(0, before-left), Left: left}
	if len(list) > 0 && left == 0 && !c.standing() {
		told.Contradiction, err = c.contradiction(list[len(list)-1])
	}
	return told, err
}

// note keeps a reading; true where it is a retake, and takes the old one's place.
func (c *Call) note(s Seen, columns []*forecast.Column) bool {
	for i, old := range c.seen {
		if old.same(s) {
			s.Confirmed = s.agrees(old)
			c.seen[i], c.cols[i] = s, columns
			return true
		}
	}
	c.seen, c.cols = append(c.seen, s), append(c.cols, columns)
	return false
}

// standing reports whether every reading was made twice: there is nothing left
// to retake.
func (c *Call) standing() bool {
	for _, s := range c.seen {
		if !s.Confirmed {
			return false
		}
	}
	return true
}

// replay weighs everything seen again, but for one reading (-1: none).
func (c *Call) replay(without int) {
	c.restart()
	for i, s := range c.seen {
		if i != without {
			c.weigh(s, c.cols[i])
		}
	}
}

// consistent reports whether hypothesis h explains everything seen.
func (c *Call) consistent(h int) bool { return c.hyps[h].candidate && c.belief.misfits[h] == 0 }

// Left counts the faults consistent with everything seen.
func (c *Call) Left() int {
	var set house.FaultSet
	n := 0
	for h := range c.hyps {
		if f := c.hyps[h].fault; c.consistent(h) && !set.Has(f) {
			set = set.Add(f)
			n++
		}
	}
	return n
}
