package prove

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"

	"stepdown/engine/circuit"
	"stepdown/engine/forecast"
	"stepdown/engine/house"
	"stepdown/engine/tree"
)

// stage is one equipment with the houses that stand for it and the complaints
// people may call about.
type stage struct {
	eq       *circuit.Equipment
	faults   []house.Fault
	draws    []circuit.Draw // the nominal house, the corners, then seeded draws
	acts     []*act
	keys     [3][]int32 // by audience and fault: faults of one key need not be told apart
	findings map[house.Finding]*named
}

// named is what a finding says of the house.
type named struct {
	faults   house.FaultSet
	condemns bool // its repair replaces the thermostat
	keys     [3]int32
}

// act is one complaint on one equipment: what shows it, and what every fault
// may show on any probe once it was played.
type act struct {
	tree   *tree.Tree
	setups []house.Setup // of the symptoms; played, they are the history
	looks  []goal
	shows  [][]house.Answer
	sheet  *forecast.Sheet
	// candidates are the faults that may show the symptom on this equipment, and
	// none, delay-running and stat-setting.
	candidates house.FaultSet
	rows       []house.Fault
	rowOf      [128]int16 // of each fault; −1 where it has none
	picked     []bool     // rows of candidates
	universe   []goal
	columns    []*forecast.Column              // of the universe
	together   map[house.Setup][]forecast.Goal // the universe, by setup
}

// alwaysCandidates explain any complaint: it works when asked, it waits, or it
// is set so.
var alwaysCandidates = []house.Fault{house.None, house.DelayRunning, house.StatSetting}

// newStage draws the houses of an equipment. Corners are an orthogonal array of
// strength two over every number and choice; n seeded draws follow.
func newStage(lib *tree.Library, f *forecast.Forecast, e house.Equipment, o Options) *stage {
	eq := f.Catalog().Equipment(e)
	s := &stage{eq: eq, faults: eq.Faults()}
	s.draw(o)
	for _, t := range lib.InOrder() {
		if startsCalls(t) && fitsEquipment(t, e) && wanted(o.Complaints, t.ID) {
			s.acts = append(s.acts, newAct(t, eq))
		}
	}
	slices.SortStableFunc(s.acts, func(a, b *act) int {
		return strings.Compare(fmt.Sprint(a.setups), fmt.Sprint(b.setups)) // histories are shared
	})
	s.number(lib)
	return s
}

// draw makes the houses: nominal, corners, seeded.
func (s *stage) draw(o Options) {
	corners := s.eq.CornerCount()
	if o.Corners > 0 {
		corners = min(corners, o.Corners)
	}
	total := 1 + corners + o.Draws
	if o.Houses > 0 {
		total = min(total, o.Houses)
	}
	rng := rand.New(rand.NewPCG(o.Seed, uint64(s.eq.ID)))
	for i := range total {
		d := s.eq.Nominal()
		switch {
		case i > corners:
			d = s.eq.Sample(rng, 1)
		case i > 0:
			d = s.eq.Corner(i - 1)
		}
		// The meter's own error is what margins are held against.
		d.MeterGain, d.MeterOffset = 0, 0
		s.draws = append(s.draws, d)
	}
}

// startsCalls reports whether people may call about the tree's complaint.
func startsCalls(t *tree.Tree) bool {
	for _, s := range t.Symptoms {
		if s.Look != house.NoLook {
			return true
		}
	}
	return false
}

func fitsEquipment(t *tree.Tree, e house.Equipment) bool {
	for _, f := range t.Fits {
		if f == e {
			return true
		}
	}
	return false
}

func wanted(only []house.Complaint, c house.Complaint) bool {
	if len(only) == 0 {
		return true
	}
	for _, o := range only {
		if o == c {
			return true
		}
	}
	return false
}

func newAct(t *tree.Tree, eq *circuit.Equipment) *act {
	a := &act{tree: t, setups: symptomSetups(t), together: map[house.Setup][]forecast.Goal{}}
	for i, s := range t.Symptoms {
		if s.Look == house.NoLook {
			continue
		}
		p := house.LookAt(s.Look)
		p.At = eq.ID.Where(p.At)
		setup := a.setups[i]
		setup.CoverIndoor = setup.CoverIndoor || p.At == house.AtIndoor
		setup.CoverOutdoor = setup.CoverOutdoor || p.At == house.AtOutdoor
		a.looks = append(a.looks, goal{setup, p})
		a.shows = append(a.shows, s.Shows)
	}
	known := map[goal]bool{}
	add := func(g goal) {
		if k := g.key(); !known[k] {
			known[k] = true
			a.universe = append(a.universe, g)
			a.together[k.setup] = append(a.together[k.setup], forecast.Goal{Setup: g.setup, Probe: g.probe})
		}
	}
	for _, g := range forecast.Goals(eq) {
		add(goal{g.Setup, g.Probe})
	}
	entered := enteredOn(t, eq.ID)
	for _, s := range reachable(t) {
		if !entered[s.Tree] {
			continue
		}
		for _, p := range probesOf(s, eq.ID) {
			setup := s.Resolve(house.DefaultSetup()).On(eq.ID)
			if eq.ID.Packaged() { // its one feed goes by either key
				setup.PowerOutdoor = setup.PowerIndoor
			}
			add(goal{setup, p})
		}
	}
	return a
}

// reachable lists the steps a call about t can come to, in a fixed order.
func reachable(t *tree.Tree) []*tree.Step {
	var out []*tree.Step
	seen := map[*tree.Tree]bool{t: true}
	for queue := []*tree.Tree{t}; len(queue) > 0; queue = queue[1:] {
		g := queue[0].Graph()
		out = append(out, g.Steps...)
		for _, next := range g.Trees {
			if !seen[next] {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	return out
}

// enteredOn are the trees that calls about t come to in a house with equipment
// e, whether or not the caller knows what it is.
func enteredOn(t *tree.Tree, e house.Equipment) map[*tree.Tree]bool {
	out := map[*tree.Tree]bool{}
	seen := map[*tree.Step]bool{t.First: true}
	for queue := []*tree.Step{t.First}; len(queue) > 0; queue = queue[1:] {
		s := queue[0]
		out[s.Tree] = true
		for _, edge := range s.Edges() {
			if edge.Kind == tree.ByBranch && otherKind(s.Branches[edge.Branch].Choice, s, e) {
				continue
			}
			if next := edge.To.Next(); next != nil && !seen[next] {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	return out
}

// otherKind reports whether an answer to a step about the equipment is another
// one than e.
func otherKind(choice string, s *tree.Step, e house.Equipment) bool {
	return s.Kind == tree.AskStep && s.Fact == house.FactEquipment && choice != "" && choice != "unknown" && choice != e.String()
}

// shown reports whether a house shows the complaint.
func (a *act) shown(v *values, goals *goalBook) bool {
	for i, g := range a.looks {
		x := v.at(goals.id(g), g, NoSlip, false)
		if !x.unable && hasAnswer(a.shows[i], x.answer) {
			return true
		}
	}
	return false
}

func hasAnswer(list []house.Answer, a house.Answer) bool {
	for _, x := range list {
		if x == a {
			return true
		}
	}
	return false
}

// open takes the sheet of a complaint, and the faults that may show it.
func (a *act) open(f *forecast.Forecast, e house.Equipment) error {
	symptom := house.DefaultSetup()
	if len(a.setups) > 0 {
		symptom = a.setups[len(a.setups)-1]
	}
	sheet, err := f.Sheet(forecast.Kind{Equipment: e, Symptom: symptom})
	if err != nil {
		return fmt.Errorf("the forecast of %s for %s: %w", a.tree.ID, e, err)
	}
	a.sheet, a.rows = sheet, sheet.Rows()
	for f := range a.rowOf {
		a.rowOf[f] = -1
	}
	for r, f := range a.rows {
		a.rowOf[f] = int16(r)
	}
	for _, fault := range alwaysCandidates {
		a.candidates = a.candidates.Add(fault)
	}
	for i, g := range a.looks {
		columns, err := sheet.Columns(nil, forecast.Goal{Setup: g.setup, Probe: g.probe})
		if err != nil {
			return err
		}
		for r, fault := range a.rows {
			for _, answer := range a.shows[i] {
				if columns[0].Holds(r, forecast.AtAnswer(answer)) {
					a.candidates = a.candidates.Add(fault)
				}
			}
		}
	}
	a.picked = make([]bool, len(a.rows))
	for r, fault := range a.rows {
		a.picked[r] = a.candidates.Has(fault)
	}
	return nil
}

// open makes the tables of every complaint, close lets them go. The complaints
// whose history is one share a sheet; the first of each are filled together.
func (s *stage) open(f *forecast.Forecast) error {
	var wanted []forecast.Wanted
	seen := map[*forecast.Sheet]bool{}
	for _, a := range s.acts {
		if a.sheet != nil {
			continue
		}
		if err := a.open(f, s.eq.ID); err != nil {
			return err
		}
		if !seen[a.sheet] {
			seen[a.sheet] = true
			wanted = append(wanted, forecast.Wanted{Sheet: a.sheet, Rows: a.picked, Goals: a.goals()})
		}
	}
	if err := forecast.Fill(wanted...); err != nil {
		return err
	}
	for _, a := range s.acts {
		if a.columns == nil {
			if err := a.fill(); err != nil {
				return err
			}
		}
	}
	return nil
}

func (s *stage) close(f *forecast.Forecast) {
	for _, a := range s.acts {
		a.sheet, a.columns = nil, nil
	}
	f.Forget(s.eq.ID)
}

// fill works out the whole universe at once, so that each fault is put in and
// its history played once a draw.
func (a *act) fill() (err error) {
	a.columns, err = a.sheet.Columns(a.picked, a.goals()...)
	return err
}

// goals is the universe as the forecast takes it.
func (a *act) goals() []forecast.Goal {
	out := make([]forecast.Goal, len(a.universe))
	for i, g := range a.universe {
		out[i] = forecast.Goal{Setup: g.setup, Probe: g.probe}
	}
	return out
}

// tellers orders the universe for a fault: first those probes, of the ones an
// audience may make, that between them tell it from most others by what the
// table holds, each time the one that tells most of what is left; then the rest
// as they come. Asked in this order a house is soon known for what it is.
func (a *act) tellers(f house.Fault, reach func(goal) bool) []int32 {
	out := make([]int32, 0, len(a.universe))
	var told [][]bool // by goal: rows this fault is not taken for
	var at []int32
	taken := make([]bool, len(a.universe))
	row := slices.Index(a.rows, f)
	for i, g := range a.universe {
		if row < 0 || !a.picked[row] || !reach(g) {
			continue
		}
		apart := make([]bool, len(a.rows))
		for r := range a.rows {
			apart[r] = a.picked[r] && !a.columns[i].Meet(row, r)
		}
		told, at = append(told, apart), append(at, int32(i))
	}
	left := slices.Clone(a.picked)
	for {
		best, most := -1, 0
		for k, apart := range told {
			n := 0
			for r, is := range apart {
				if is && left[r] {
					n++
				}
			}
			if n > most {
				best, most = k, n
			}
		}
		if best < 0 {
			break
		}
		for r, is := range told[best] {
			left[r] = left[r] && !is
		}
		out, taken[at[best]] = append(out, at[best]), true
	}
	for i := range a.universe {
		if !taken[i] {
			out = append(out, int32(i))
		}
	}
	return out
}

// column is what the candidates may show on a probe. Probes of one setup are
// worked out together.
func (a *act) column(g goal) (*forecast.Column, error) {
	this := forecast.Goal{Setup: g.setup, Probe: g.probe}
	all := append([]forecast.Goal{this}, a.together[g.key().setup]...)
	columns, err := a.sheet.Columns(a.picked, all...)
	if err != nil {
		return nil, err
	}
	return columns[0], nil
}

// number gives each fault the key of what a call should come to: its finding
// for a technician, for the others what they are told to do: verdict and parts.
func (s *stage) number(lib *tree.Library) {
	s.findings = map[house.Finding]*named{}
	for _, f := range house.Findings() {
		faults := f.Faults()
		n := &named{faults: house.FaultsOf(faults...), condemns: len(faults) > 0}
		for _, fault := range faults {
			n.condemns = n.condemns && fault.Condemns()
		}
		s.findings[f] = n
	}
	for _, who := range house.Audiences() {
		ids := map[string]int32{}
		key := func(f house.Finding) int32 {
			text := string(f)
			if t := lib.Finding(f); who != house.Tech && t != nil {
				text = fmt.Sprint(t.Verdict(who), t.Parts)
			}
			if _, ok := ids[text]; !ok {
				ids[text] = int32(len(ids))
			}
			return ids[text]
		}
		for _, f := range house.Findings() {
			s.findings[f].keys[who] = key(f)
		}
		for _, f := range house.Faults() {
			for int(f) >= len(s.keys[who]) {
				s.keys[who] = append(s.keys[who], 0)
			}
			s.keys[who][f] = key(house.FindingOf(f, s.eq.ID))
		}
	}
}

// profile is what a caller knows of the house, and what the call starts with.
type profile struct {
	truth, known house.Facts
}

// profiles are the callers of one house: the kinds of base and meter there are,
// and whether they know the equipment. The nominal house has all of them;
// the others take them in turn, so that each is met on many houses.
func profiles(d circuit.Draw, n int, who house.Audience) []profile {
	var out []profile
	bases := []house.Base{house.BaseExposed, house.BaseCovered}
	meters := []house.Meter{house.MeterBoth, house.MeterHighImpedance, house.MeterNone}
	switch who {
	case house.Tech:
		meters = meters[:2]
	case house.Dispatcher:
		bases, meters = bases[1:], meters[2:]
	}
	for _, unknown := range []bool{false, true} {
		if unknown && !who.MayNotKnow(d.Equipment.ID) {
			continue
		}
		for _, b := range bases {
			for _, m := range meters {
				f := d.Facts()
				f.Base, f.Meter = b, m
				if unknown {
					f.Equipment = house.NoEquipment
				}
				out = append(out, profile{truth: f, known: house.Facts{Equipment: f.Equipment, EquipmentAsked: true}})
			}
		}
	}
	if n == 0 {
		return out
	}
	// An odd step goes through all of them whatever their number.
	return out[n*5%len(out):][:1]
}
