package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"stepdown/engine/chat"
	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/session"
	"stepdown/engine/tree"
	"stepdown/trees"
)

// A modelled house answers a call: it looks and reads where it is asked to.
// The house is invented; its numbers are the model's.
type modelled struct {
	house *circuit.House
	fault house.Fault
	facts house.Facts
	words string // the complaint
	told  answers
	asked []line
}

// newModelled is a nominal house with a fault, whose thermostat base shows its
// screws.
func newModelled(t *testing.T, e *circuit.Equipment, f house.Fault, words string) *modelled {
	t.Helper()
	h, err := circuit.NewHouse(e.Nominal(), f)
	if err != nil {
		t.Fatal(err)
	}
	m := &modelled{house: h, fault: f, facts: h.Draw().Facts(), words: words}
	m.facts.Base = house.BaseExposed
	return m
}

// reply implements caller.
func (m *modelled) reply(q line) (said, error) {
	m.asked = append(m.asked, q)
	if s, ok := hands(q); ok {
		return s, m.play(q)
	}
	answer, err := m.answer(q)
	if err != nil {
		return said{}, fmt.Errorf("%s: %w", q.Step, err)
	}
	m.told = append(m.told, struct{ step, said string }{q.Step, answer})
	return spoken(q, answer)
}

// play brings the house to where the hands left it. A counted wait lets a
// compressor delay run out.
func (m *modelled) play(q line) error {
	if q.Type != "do" {
		return nil
	}
	if q.WaitS > 0 && m.fault == house.DelayRunning {
		if err := m.house.Become(house.None); err != nil {
			return err
		}
	}
	setup, err := q.setup()
	if err != nil {
		return err
	}
	return m.house.Play(setup)
}

func (q line) setup() (house.Setup, error) {
	var p house.Partial
	if err := json.Unmarshal(q.Setup, &p); err != nil {
		return house.Setup{}, err
	}
	return p.Over(house.DefaultSetup()), nil
}

func (m *modelled) answer(q line) (string, error) {
	switch q.Kind {
	case "text":
		return m.words, nil
	case "choose":
		return m.known(q), nil
	}
	setup, err := q.setup()
	if err != nil {
		return "", err
	}
	if q.Kind == "look" {
		look, err := house.ParseLook(q.Look)
		if err != nil {
			return "", err
		}
		a, err := m.house.Look(setup, look)
		return look.AnswerID(a), err
	}
	var words []string
	for _, pair := range q.Pairs {
		r, err := m.read(q, pair.Red, pair.Black, setup)
		if err != nil {
			return "", err
		}
		words = append(words, pair.Name, shown(r))
	}
	if len(q.Pairs) == 1 {
		words = words[1:]
	}
	return strings.Join(words, " "), nil
}

func shown(r quantity.Reading) string {
	if r.OL {
		return "OL"
	}
	return strconv.FormatFloat(r.Value, 'g', 6, 64) // as a display shows it
}

func (m *modelled) read(q line, red, black string, setup house.Setup) (quantity.Reading, error) {
	kind, err := quantity.OfID(q.Quantity)
	if err != nil {
		return quantity.Reading{}, err
	}
	if kind == quantity.Current {
		c, err := house.ParseConductor(red)
		if err != nil {
			return quantity.Reading{}, err
		}
		return m.house.Read(setup, house.Clamp(c))
	}
	at, err1 := house.ParsePlace(q.At)
	r, err2 := house.ParseTerminal(red)
	b, err3 := house.ParseTerminal(black)
	for _, err := range []error{err1, err2, err3} {
		if err != nil {
			return quantity.Reading{}, err
		}
	}
	return m.house.Read(setup, house.Measure(kind, r, b, at))
}

// known answers the questions that are no probe.
func (m *modelled) known(q line) string {
	answer := map[string]string{
		"emergency": "no", "retake": "no", "people": "no", "temperature": "comfortable", "stat-kind": "low-voltage",
		"complaint": "none-of-these", "equipment": m.facts.Equipment.String(), "base": m.facts.Base.String(),
		"base-r": m.facts.BaseR.String(), "stat-supply": m.facts.StatSupply.String(), "meter": "both", "letters": m.facts.Letters.String(),
	}[q.Step]
	if !slices.ContainsFunc(q.Answers, func(c struct{ ID string }) bool { return c.ID == answer }) {
		return "unknown"
	}
	return answer
}

// complaints are what people say when a tree's symptom shows.
var complaints = []struct {
	tree  house.Complaint
	words string
}{
	{house.NoCooling, "the ac is not cooling"},
	{house.DarkDisplay, "the thermostat is blank"},
}

// technicians are complaints held with a technician only: what others leave
// open there, the model alone can list.
var technicians = []struct {
	tree  house.Complaint
	words string
}{
	{house.NoHeat, "there is no heat"},
	{house.FanDead, "the indoor fan does not run"},
	{house.FanAlways, "the fan never shuts off"},
	{house.OutdoorAlways, "the outdoor unit keeps running"},
	{house.HeatAlways, "the heat will not turn off"},
	{house.Chatter, "the outdoor unit chatters"},
}

func shows(t *testing.T, h *circuit.House, c *tree.Tree) bool {
	t.Helper()
	for _, symptom := range c.Symptoms {
		setup := symptom.Setup.Over(house.DefaultSetup())
		h.Reset()
		if err := h.Play(setup); err != nil {
			t.Fatal(err)
		}
		a, err := h.Look(setup, symptom.Look)
		if err != nil {
			t.Fatal(err)
		}
		if slices.Contains(symptom.Shows, a) {
			return true
		}
	}
	return false
}

// alike are the faults that end at another's finding: no allowed probe tells
// them apart, and a good thermostat is never condemned.
var alike = map[house.Fault]house.Finding{house.StatDead: "stat-not-seated"}

// sample is some faults of an equipment that show one complaint.
type sample struct {
	equipment house.Equipment
	tree      house.Complaint
	words     string
	faults    []house.Fault
}

// few are some faults on each equipment that is not gone through whole.
var few = []sample{
	{house.HeatOnly, house.NoHeat, "there is no heat", []house.Fault{house.RolloutOpen, house.OpenW}},
	{house.PumpCoolingValve, house.AuxAlways, "the aux heat never stops", []house.Fault{house.CrossedRW2, house.DefrostStuck}},
	{house.PumpHeatingValve, house.AuxDead, "the emergency heat does not work", []house.Fault{house.SequencerOpen, house.StatW2Open}},
	{house.DualFuel, house.AuxDead, "the emergency heat does not work", []house.Fault{house.LimitOpen, house.OpenW2}},
	{house.TwoStagePump, house.FanDead, "the indoor fan does not run", []house.Fault{house.FanRelayOpen, house.BlowerNoResponse}},
	{house.PackagedGas, house.OutdoorAlways, "the outdoor unit keeps running", []house.Fault{house.ContactorWelded, house.StatYStuck}},
	{house.PackagedPump, house.WrongWay, "it heats when it should cool", []house.Fault{house.ValveCoilOpen, house.StatChangeoverOpen}},
	{house.SplitPower, house.FanDead, "the indoor fan does not run", []house.Fault{house.OpenG, house.TransformerPrimaryOpen}},
}

// TestModelledCalls holds a call with every fault that shows its complaint,
// in a nominal house of two kinds of equipment, and with some on every other,
// and wants the right finding at its end. With -update the calls become scripts.
func TestModelledCalls(t *testing.T) {
	if testing.Short() {
		t.Skip("holds a call with every fault, one after the other")
	}
	book := &session.Book{}
	if err := (library{}).fill(book); err != nil {
		t.Fatal(err)
	}
	book.Match = &words{book: book}
	world{model: shared}.attach(book, time.Time{})
	all := catalog(t)
	for _, id := range []house.Equipment{house.CoolGas, house.CoolElectric} {
		for _, c := range slices.Concat(complaints, technicians) {
			modelledPage(t, book, all.Equipment(id), book.Trees.Trees[c.tree], c.words, all.Equipment(id).Faults())
		}
	}
	for _, x := range few {
		if n := modelledPage(t, book, all.Equipment(x.equipment), book.Trees.Trees[x.tree], x.words, x.faults); n != len(x.faults) {
			t.Errorf("%s, %s: %d of %v show", x.equipment, x.tree, n, x.faults)
		}
	}
}

// modelledPage holds the calls about one complaint on one equipment, and says
// how many of the faults show it.
func modelledPage(t *testing.T, book *session.Book, e *circuit.Equipment, c *tree.Tree, words string, faults []house.Fault) (calls int) {
	t.Helper()
	var page page
	for _, fault := range faults {
		m := newModelled(t, e, fault, words)
		if !shows(t, m.house, c) {
			continue
		}
		calls++
		want, ok := alike[fault]
		if !ok {
			want = house.FindingOf(fault, e.ID)
		}
		if fault == house.StatWOpen && e.ID == house.CoolGas {
			want = house.Undecided // W is all that a furnace's heat call has: nothing else vouches for it
		}
		got, err := m.call(book, session.Opening{})
		if err != nil || got.Finding != string(want) {
			t.Errorf("%s, %s, %s: ended at %q %v, wanted %s, after\n%v\n%v", e.ID, c.ID, fault, got.Finding, got.Faults, want, m.told, err)
		}
		page.add(m, want, book.Trees.Finding(want))
	}
	page.write(t, e.ID, c)
	return calls
}

func catalog(t *testing.T) *circuit.Catalog {
	t.Helper()
	files, err := fs.Sub(trees.FS, "equipment")
	if err != nil {
		t.Fatal(err)
	}
	all, problems := circuit.Load(files)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	return all
}

// call holds a modelled house's call over the JSON form and gives its finding.
func (m *modelled) call(book *session.Book, open session.Opening) (line, error) {
	wire := chat.NewWire(chat.Hold(book, session.State{}), chat.Options{Match: book.Match})
	var lines []line
	next := func(out []byte) (line, error) {
		for data := range bytes.Lines(out) {
			l, stops, err := parseLine(data)
			lines = append(lines, l)
			if stops || err != nil {
				return l, err
			}
		}
		return line{}, fmt.Errorf("no question and no end in %q", out)
	}
	q, err := next(wire.Begin(session.Event{Kind: session.Start, Open: &open}))
	if err == nil {
		_, err = hold(q, m, func(reply string) (line, error) { return next(wire.OneShot(reply)) })
	}
	return found(lines), err
}

// page is a script in the making: what to run, and the answers it needs.
type page struct{ steps, files strings.Builder }

func (p *page) add(m *modelled, want house.Finding, f *tree.Finding) {
	title := string(want)
	if f != nil {
		title = f.Title
	}
	fmt.Fprintf(&p.steps, "\n# %s: %s\ncall %s.txt\nfinding %s\n", m.fault, title, m.fault, want)
	fmt.Fprintf(&p.files, "-- %s.txt --\n", m.fault)
	for _, a := range m.told {
		fmt.Fprintf(&p.files, "%s: %s\n", a.step, a.said)
	}
}

// write makes a script of the page where the scripts are refreshed.
func (p *page) write(t *testing.T, e house.Equipment, c *tree.Tree) {
	t.Helper()
	if !*update || t.Failed() {
		return
	}
	which := "each thing that"
	if slices.ContainsFunc(few, func(x sample) bool { return x.equipment == e && x.tree == c.ID }) {
		which = "some of what"
	}
	text := fmt.Appendf(nil, pageText, c.Title, e.Title(), which, p.steps.String(), p.files.String())
	name := fmt.Sprintf("../../testdata/script/%s-%s.txtar", c.ID, e)
	if err := os.WriteFile(filepath.FromSlash(name), text, 0o644); err != nil {
		t.Fatal(err)
	}
}

const pageText = `# %s: %s.
#
# One call for %s shows so on this equipment. A table below holds
# what each call is told, a line for each question in the order they come: the
# step that asks, and the answer. Instructions are carried out and cautions
# acknowledged on the way. Each call is held as a program would, in JSON, and
# then typed as a person would; both must end at the same finding.
#
# The houses are invented; their readings come from the circuit model. Refresh
# this page with: go test ./cmd/stepdown -run ModelledCalls -update
%s
%s`
