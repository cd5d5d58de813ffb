package main

import (
	"github.com/spf13/cobra"

	"stepdown/engine/house"
	"stepdown/engine/session"
)

// look is how a call is shown: the flags of every verb that talks.
type look struct {
	trees string
	plain bool
	color string
	json  bool
}

func (l *look) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&l.trees, "trees", "", "lay a `folder` of your own trees over the built-in ones")
	f.BoolVar(&l.plain, "plain", false, "linear text: no drawing, no redraw, for screen readers and logs")
	f.StringVar(&l.color, "color", "auto", "`when` to colour: auto, always or never")
	f.BoolVar(&l.json, "json", false, "the same conversation for a program: a line of JSON each way")
	f.SortFlags = false
}

// check turns down words that are no answer.
func (l *look) check() error {
	switch l.color {
	case "auto", "always", "never":
		return nil
	}
	return usage("--color takes auto, always or never", "unknown colour setting %q", l.color)
}

type chatFlags struct {
	look
	as, equipment, complaint, meter string
}

func newChat(w world) *cobra.Command {
	var f chatFlags
	cmd := &cobra.Command{
		Use:   "chat",
		Short: "Start a call; stepdown alone does the same",
		Long: "Start a call: say what is wrong, then answer one look or reading at a time.\n" +
			"Everything is kept as it is said; stepdown resume goes on with it.",
		Args: noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			open, err := f.opening()
			if err != nil {
				return err
			}
			return w.start(f.look, open, cmd.Flags().NFlag() == 0)
		},
	}
	flags := cmd.Flags()
	flags.StringVar(&f.as, "as", "tech", "`who` you are: tech, homeowner or dispatcher")
	flags.StringVar(&f.equipment, "equipment", "", "the `kind` of system, where it is known: cool-gas, cool-electric …")
	flags.StringVar(&f.complaint, "complaint", "", "what is wrong, in your own `words`")
	flags.StringVar(&f.meter, "meter", "", "the `meter` at hand: none, high-impedance, or both (a low-impedance mode too)")
	f.look.flags(cmd)
	return cmd
}

// opening checks the flags that a call starts with.
func (f *chatFlags) opening() (session.Opening, error) {
	if err := f.check(); err != nil {
		return session.Opening{}, err
	}
	who, err := house.ParseAudience(f.as)
	if err != nil {
		return session.Opening{}, word(err, "--as", "tech, homeowner or dispatcher")
	}
	if f.equipment != "" {
		if _, err := house.ParseEquipment(f.equipment); err != nil {
			return session.Opening{}, word(err, "--equipment", equipmentWords())
		}
	}
	if f.meter != "" {
		if _, err := house.ParseMeter(f.meter); err != nil {
			return session.Opening{}, word(err, "--meter", "none, high-impedance or both")
		}
	}
	return session.Opening{Audience: who, Equipment: f.equipment, Meter: f.meter, Complaint: f.complaint}, nil
}
