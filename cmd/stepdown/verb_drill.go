package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"math/rand/v2"

	"github.com/spf13/cobra"

	"stepdown/engine/chat"
	"stepdown/engine/circuit"
	"stepdown/engine/drill"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/source"
	"stepdown/engine/suspects"
	"stepdown/engine/tree"
)

func init() { verbs = append(verbs, newDrill) }

type drillFlags struct {
	look
	equipment, fault, complaint, lesson string
	seed                                uint64
	seeded, lessons                     bool
}

func newDrill(w world) *cobra.Command {
	var f drillFlags
	cmd := &cobra.Command{
		Use:   "drill",
		Short: "Find a hidden fault in an invented house, for practice",
		Long: "A house with a hidden fault answers your probes until you name it. Alone, it is\n" +
			"the next lesson you have not passed; --lessons lists them with your best scores.\n" +
			"With --equipment, --complaint or --fault you choose.\n\nEquipment:\n" + equipmentList(),
		Example: "  stepdown drill\n  stepdown drill --lesson thermostat\n  stepdown drill --equipment cool-gas --seed 7\n  stepdown drill --json --equipment cool-gas --fault open-y",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			f.seeded = cmd.Flags().Changed("seed")
			return w.drill(f)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.lesson, "lesson", "", "the `lesson` to take")
	flags.BoolVar(&f.lessons, "lessons", false, "list the lessons, easy to hard, with your best scores")
	flags.StringVar(&f.equipment, "equipment", "", "the `kind` of system")
	flags.StringVar(&f.fault, "fault", "", "hide this `fault`; drawn by the seed where none is named")
	flags.StringVar(&f.complaint, "complaint", "", "the `tree` whose complaint the house shows; the first that fits where none is named")
	flags.Uint64Var(&f.seed, "seed", 0, "draw the house and the fault; 0 is the house at the centre of every range")
	f.look.flags(cmd)
	return cmd
}

// The streams a seed is split into: the fault stays the same where the ranges
// of the house change.
const (
	houseStream = 1
	faultStream = 2
)

// hidden is a drill made ready.
type hidden struct {
	game  *drill.Game
	title string // the complaint in words, empty where the house shows none
	fault house.Fault
	tree  *tree.Tree
	shown int // which of the tree's symptoms it shows
}

func (w world) drill(f drillFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	if f.lessons {
		return w.listLessons()
	}
	lesson, err := w.lesson(f)
	if err != nil {
		return err
	}
	if lesson != nil {
		if !f.seeded {
			f.seed = uint64(w.now().UnixNano()) % 1e6
		}
		f.equipment, f.complaint = lesson.Equipment.String(), lesson.Complaint.String()
	}
	h, err := f.game(lesson)
	if err != nil {
		return err
	}
	coach, err := h.coach()
	if err != nil {
		return err
	}
	game := h.game.With(coach)
	if f.json {
		return w.drillWire(game)
	}
	d, err := w.openDesk(f.look)
	if err != nil {
		return err
	}
	defer d.close()
	talk := chat.NewDrill(game, d.style)
	if lesson != nil {
		if _, err := fmt.Fprintf(w.stdout, "  Lesson %s: %s. Seed %d.\n", lesson.ID, lesson.Title, f.seed); err != nil {
			return err
		}
	}
	if err := talk.Loop(h.title, d.lines, w.stdout); err != nil {
		return err
	}
	return w.keepScore(talk, scored{Lesson: lessonID(lesson), Equipment: f.equipment, Fault: h.fault.String(), Seed: f.seed})
}

// lesson is the one that was named, or the next where nothing at all was.
func (w world) lesson(f drillFlags) (*drill.Lesson, error) {
	chosen := f.equipment != "" || f.fault != "" || f.complaint != ""
	if f.lesson == "" && !chosen && !f.json {
		l := drill.Next(best(w.scores()))
		return &l, nil
	}
	if f.lesson == "" {
		return nil, nil
	}
	var ids []string
	for _, l := range drill.Lessons() {
		if l.ID == f.lesson {
			if chosen {
				return nil, usage("leave out --lesson to choose the house yourself", "a lesson brings its own house")
			}
			return &l, nil
		}
		ids = append(ids, l.ID)
	}
	hint := "stepdown drill --lessons lists them"
	if near, ok := source.Nearest(f.lesson, ids); ok {
		hint = "did you mean --lesson " + near + "?"
	}
	return nil, usage(hint, "there is no lesson %q", f.lesson)
}

func lessonID(l *drill.Lesson) string {
	if l == nil {
		return ""
	}
	return l.ID
}

// drillWire answers a program, a line each way.
func (w world) drillWire(g *drill.Game) error {
	in := bufio.NewScanner(w.stdin)
	enc := json.NewEncoder(w.stdout)
	enc.SetEscapeHTML(false)
	for in.Scan() {
		out, done := g.Answer(in.Bytes())
		if err := enc.Encode(out); err != nil || done {
			return err
		}
	}
	return in.Err()
}

// coach knows what the complaint may mean, and the prices.
func (h *hidden) coach() (*drill.Coach, error) {
	engine, weights, err := newEngine()
	if err != nil {
		return nil, err
	}
	c := &drill.Coach{Engine: engine, Minutes: weights.Minutes}
	c.Case.Facts = house.Facts{Equipment: h.game.Equipment().ID, EquipmentAsked: true}
	if h.tree != nil {
		s := h.tree.Symptoms[h.shown]
		c.Case.Symptoms = []suspects.Symptom{{Setup: s.Setup.Over(house.DefaultSetup()), Look: s.Look, Shows: s.Shows}}
	}
	return c, nil
}

// game hides a fault: the one that is named, or one drawn by the seed out of
// the lesson's or of all that the equipment can have.
func (f drillFlags) game(l *drill.Lesson) (*hidden, error) {
	e, err := loadEquipment(f.equipment)
	if err != nil {
		return nil, err
	}
	book := &session.Book{}
	if err := (library{f.trees}).fill(book); err != nil {
		return nil, err
	}
	d := e.Nominal()
	if f.seed != 0 {
		d = e.Sample(rand.New(rand.NewPCG(f.seed, houseStream)), 1)
	}
	if f.fault != "" {
		fault, err := house.ParseFault(f.fault)
		if err != nil {
			return nil, usage("stepdown drill --fault open-y", "%v", err)
		}
		if !e.Fits(fault) {
			return nil, usage("choose a fault this equipment can have", "%s cannot be in %s", fault, e.ID)
		}
		return f.hide(book, d, fault)
	}
	faults := e.Faults()
	if l != nil && len(l.Faults) > 0 {
		faults = l.Faults
	}
	for _, i := range rand.New(rand.NewPCG(f.seed, faultStream)).Perm(len(faults)) {
		h, err := f.hide(book, d, faults[i])
		if err != nil || h.title != "" {
			return h, err
		}
	}
	return nil, usage("choose another complaint or equipment", "no fault of %s shows that complaint", e.ID)
}

// hide puts a fault into a house that shows a complaint because of it. Where
// it shows none, the title is empty and the house stands as people left it.
func (f drillFlags) hide(book *session.Book, d circuit.Draw, fault house.Fault) (*hidden, error) {
	list := book.Trees.InOrder()
	if f.complaint != "" {
		c, err := house.ParseComplaint(f.complaint)
		if err != nil {
			return nil, usage("a complaint is a tree's id, such as no-cooling", "%v", err)
		}
		list = nil
		if t := book.Trees.Trees[c]; t != nil {
			list = append(list, t)
		}
	}
	for _, t := range list {
		for i, s := range t.Symptoms {
			g, err := drill.New(d, fault, s.Setup.Over(house.DefaultSetup()))
			if err != nil {
				continue // this equipment cannot be put in that setup
			}
			if complains(g, s) {
				return &hidden{game: g, title: t.Title, fault: fault, tree: t, shown: i}, nil
			}
		}
	}
	g, err := drill.New(d, fault, house.DefaultSetup())
	return &hidden{game: g, fault: fault}, err
}

// complains reports whether the house of a drill shows a symptom.
func complains(g *drill.Game, s tree.Symptom) bool {
	a, err := g.Peek(s.Look)
	if err != nil {
		return false
	}
	for _, want := range s.Shows {
		if a == want {
			return true
		}
	}
	return false
}
