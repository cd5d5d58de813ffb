package main

import (
	"errors"
	"io"
	"os"

	"github.com/spf13/cobra"

	"stepdown/cautions"
	"stepdown/engine/caution"
	"stepdown/engine/chat"
	"stepdown/engine/house"
	"stepdown/engine/rewire"
	"stepdown/engine/session"
	"stepdown/engine/source"
)

func init() { verbs = append(verbs, newRewire) }

const rewireLong = `Tell which wire goes where when a thermostat is changed, and prove it in the
circuit model before the power comes on. Without a file it asks one thing at a
time. With a file, YAML or JSON, it answers at once: where every wire goes, or
the one reading that is needed first. A wire from a B screw is always read
before it lands. A colour is a hint and decides nothing.

With --check it tries a landing somebody already made: what runs in each mode,
what is wrong, and what may have blown.

A file (stepdown schema rewire tells an editor its form):
  equipment: pump-cooling-valve      (left out where nobody knows)
  as: tech                           (or homeowner, dispatcher)
  new-base: {letters: R C Y G O/B W2 E, power: common}
                                     (or battery, either, through-load)
  conductors:
    - {colour: red, old: R, equipment: R, now: R}
    - {name: the striped one, old: O}
  readings:
    - {ohms: 31, red: blue, black: red}
  looks:
    - {look: changeover-rated, answer: cooling}
  joined: [W2-E]                     (for --check: jumpers on the new base)
  changeover: cooling                (for --check: when O/B is energised)`

func newRewire(w world) *cobra.Command {
	var l look
	var as, equipment string
	var check bool
	cmd := &cobra.Command{
		Use:     "rewire [FILE]",
		Short:   "Which wire goes where at a new thermostat, proven before power",
		Long:    rewireLong,
		Example: "  stepdown rewire\n  stepdown rewire swap.yaml\n  stepdown rewire --check made.yaml --json",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 && (cmd.Flags().Changed("as") || equipment != "") {
				return usage("write as: and equipment: into the file", "--as and --equipment are for a chat; a file says them itself")
			}
			return w.rewire(l, as, equipment, check, args)
		},
	}
	f := cmd.Flags()
	f.BoolVar(&check, "check", false, "try a landing somebody already made")
	f.StringVar(&as, "as", "tech", "`who` you are, where there is no file: tech, homeowner or dispatcher")
	f.StringVar(&equipment, "equipment", "", "the `kind` of system, where it is known and there is no file")
	f.BoolVar(&l.json, "json", false, "print one JSON object")
	f.BoolVar(&l.plain, "plain", false, "linear text: no drawing, no redraw, for screen readers and logs")
	f.StringVar(&l.color, "color", "auto", "`when` to colour: auto, always or never")
	f.SortFlags = false
	return cmd
}

// rewire answers a file, or asks where there is none.
func (w world) rewire(l look, as, equipment string, check bool, files []string) error {
	if err := l.check(); err != nil {
		return err
	}
	catalog, err := loadCatalog()
	if err != nil {
		return err
	}
	solver := rewire.New(catalog)
	if len(files) == 0 {
		c, err := openingCase(as, equipment)
		if err != nil {
			return err
		}
		return w.rewireChat(l, solver, c, check)
	}
	c, err := w.readCase(files[0])
	if err != nil {
		return err
	}
	if check {
		return w.checkLanding(solver, c, l.json)
	}
	return w.solveSwap(solver, c, l)
}

// openingCase is what the flags say.
func openingCase(as, equipment string) (rewire.Case, error) {
	c := rewire.Case{Meter: house.MeterBoth}
	var err error
	if c.Audience, err = house.ParseAudience(as); err != nil {
		return c, word(err, "--as", "tech, homeowner or dispatcher")
	}
	if equipment != "" {
		if c.Equipment, err = house.ParseEquipment(equipment); err != nil {
			return c, word(err, "--equipment", equipmentWords())
		}
	}
	return c, nil
}

// readCase reads a file, or standard input where it is called "-".
func (w world) readCase(name string) (rewire.Case, error) {
	var data []byte
	var err error
	if name == "-" {
		data, err = io.ReadAll(io.LimitReader(w.stdin, source.SizeMax+1))
	} else {
		data, err = os.ReadFile(name)
	}
	if err != nil {
		return rewire.Case{}, usage("give a file of conductors; stepdown rewire --help shows one", "cannot read %s: %v", name, err)
	}
	c, problems := rewire.Parse(name, data)
	return c, problems.Err()
}

func (w world) solveSwap(s *rewire.Solver, c rewire.Case, l look) error {
	r, err := s.Solve(c)
	if err != nil {
		return usage("stepdown rewire --help shows a file", "%v", err)
	}
	text := r.Text
	if l.plain {
		text = r.Linear
	}
	if err := w.print(l.json, r, text); err != nil {
		return err
	}
	if r.State != rewire.Answer {
		return ended(exitUndecided)
	}
	return nil
}

func (w world) checkLanding(s *rewire.Solver, c rewire.Case, asJSON bool) error {
	k, err := s.Check(c)
	if err != nil {
		return usage("stepdown rewire --help shows a file; now: is the screw on the new base", "%v", err)
	}
	if err := w.print(asJSON, k, k.Text); err != nil {
		return err
	}
	if !k.Good {
		return ended(exitUndecided)
	}
	return nil
}

// rewireChat asks for the swap one thing at a time.
func (w world) rewireChat(l look, s *rewire.Solver, c rewire.Case, check bool) error {
	if l.json {
		return usage("stepdown rewire FILE --json; --help shows a file", "--json needs a file")
	}
	set, problems := caution.Load(cautions.FS)
	if err := problems.Err(); err != nil {
		return err
	}
	d, err := w.openDesk(l)
	if err != nil {
		return err
	}
	defer d.close()
	talk := s.Talk(c, set, check)
	talk.Plain = d.style.Plain
	if completer, ok := d.lines.(chat.Completer); ok {
		completer.SetComplete(talk.Complete)
	}
	text := talk.Begin()
	for {
		if _, err := io.WriteString(d.out, w.onScreen(text)); err != nil {
			return err
		}
		if talk.Ended() {
			return ended(talk.Exit())
		}
		line, err := d.lines.ReadLine(talk.Prompt())
		switch {
		case errors.Is(err, io.EOF):
			text = talk.OneShot("quit")
		case errors.Is(err, chat.ErrInterrupted):
			text = "Type quit, or Ctrl-D, to leave.\n"
		case errors.Is(err, chat.ErrLongLine):
			text = "error: that line is too long\n"
		case err != nil:
			return err
		default:
			text = talk.OneShot(clean(line))
		}
	}
}

// landing is the check of a landing within a call, from what the call knows.
func (w world) landing(d *desk, s session.State) (chat.Aside, error) {
	catalog, err := loadCatalog()
	if err != nil {
		return nil, err
	}
	set, problems := caution.Load(cautions.FS)
	if err := problems.Err(); err != nil {
		return nil, err
	}
	c := rewire.Case{Audience: s.Audience(), Equipment: s.Facts().Equipment, Meter: s.Facts().Meter}
	if c.Meter == house.MeterUnasked {
		c.Meter = house.MeterBoth
	}
	talk := rewire.New(catalog).Talk(c, set, true)
	talk.Plain = d.style.Plain
	return talk, nil
}
