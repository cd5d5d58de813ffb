package main

import (
	"bufio"
	"encoding/json"
	"math/rand/v2"

	"github.com/spf13/cobra"

	"stepdown/engine/chat"
	"stepdown/engine/circuit"
	"stepdown/engine/drill"
	"stepdown/engine/house"
	"stepdown/engine/session"
	"stepdown/engine/tree"
)

func init() { verbs = append(verbs, newDrill) }

type drillFlags struct {
	look
	equipment, fault, complaint string
	seed                        uint64
}

func newDrill(w world) *cobra.Command {
	var f drillFlags
	cmd := &cobra.Command{
		Use:     "drill --equipment ID",
		Short:   "Find a hidden fault in an invented house",
		Long:    "A house with a hidden fault answers your probes until you name it.\n\nEquipment:\n" + equipmentList(),
		Example: "  stepdown drill --equipment cool-gas --seed 7\n  stepdown drill --json --equipment cool-gas --fault open-y",
		Args:    noArgs,
		RunE:    func(*cobra.Command, []string) error { return w.drill(f) },
	}
	flags := cmd.Flags()
	flags.StringVar(&f.equipment, "equipment", "", "the `kind` of system")
	flags.StringVar(&f.fault, "fault", "", "hide this `fault`; drawn by the seed where none is named")
	flags.StringVar(&f.complaint, "complaint", "", "the `tree` whose complaint the house shows; the first that fits where none is named")
	flags.Uint64Var(&f.seed, "seed", 0, "draw the house and the fault; 0 is the house at the centre of every range")
	f.look.flags(cmd)
	return cmd
}

func (w world) drill(f drillFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	g, title, err := f.game()
	if err != nil {
		return err
	}
	if f.json {
		return w.drillWire(g)
	}
	d, err := w.openDesk(f.look)
	if err != nil {
		return err
	}
	defer d.close()
	talk := chat.NewDrill(g, d.style)
	if err := talk.Loop(title, d.lines, w.stdout); err != nil {
		return err
	}
	if talk.Ended() && !talk.Right() {
		return ended(exitUndecided)
	}
	return nil
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

// game hides a fault; it gives the complaint in words.
func (f drillFlags) game() (*drill.Game, string, error) {
	e, err := loadEquipment(f.equipment)
	if err != nil {
		return nil, "", err
	}
	book := &session.Book{}
	if err := (library{f.trees}).fill(book); err != nil {
		return nil, "", err
	}
	rng := rand.New(rand.NewPCG(f.seed, f.seed))
	d := e.Nominal()
	if f.seed != 0 {
		d = e.Sample(rng, 1)
	}
	if f.fault != "" {
		hidden, err := house.ParseFault(f.fault)
		if err != nil {
			return nil, "", usage("stepdown drill --fault open-y", "%v", err)
		}
		if !e.Fits(hidden) {
			return nil, "", usage("choose a fault this equipment can have", "%s cannot be in %s", hidden, e.ID)
		}
		return f.hide(book, d, hidden)
	}
	for _, i := range rng.Perm(len(e.Faults())) {
		g, title, err := f.hide(book, d, e.Faults()[i])
		if err != nil || title != "" {
			return g, title, err
		}
	}
	return nil, "", usage("choose another complaint or equipment", "no fault of %s shows that complaint", e.ID)
}

// hide puts a fault into a house that shows a complaint because of it. Where
// it shows none, the title is empty and the house stands as people left it.
func (f drillFlags) hide(book *session.Book, d circuit.Draw, hidden house.Fault) (*drill.Game, string, error) {
	trees := book.Trees.InOrder()
	if f.complaint != "" {
		c, err := house.ParseComplaint(f.complaint)
		if err != nil {
			return nil, "", usage("a complaint is a tree's id, such as no-cooling", "%v", err)
		}
		trees = nil
		if t := book.Trees.Trees[c]; t != nil {
			trees = append(trees, t)
		}
	}
	for _, t := range trees {
		for _, s := range t.Symptoms {
			g, err := drill.New(d, hidden, s.Setup.Over(house.DefaultSetup()))
			if err != nil {
				continue // this equipment cannot be put in that setup
			}
			if complains(g, s) {
				return g, t.Title, nil
			}
		}
	}
	g, err := drill.New(d, hidden, house.DefaultSetup())
	return g, "", err
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
