package main

import (
	"github.com/spf13/cobra"

	"stepdown/engine/circuit"
	"stepdown/engine/house"
	"stepdown/engine/quantity"
	"stepdown/engine/worksheet"
)

func init() { verbs = append(verbs, newCircuit) }

func newCircuit(w world) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "circuit",
		Short: "Take the circuit model out of the program",
		Args:  noArgs,
		RunE:  func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(newExport(w))
	return cmd
}

func newExport(w world) *cobra.Command {
	var equipment, fault, measure string
	cmd := &cobra.Command{
		Use:   "export --equipment ID [KEY=VALUE ...]",
		Short: "Write the circuit in a setup as a SPICE deck",
		Long: "Write the circuit of an equipment, as it settles in a setup, as a SPICE deck\n" +
			"that makes every reading worth making and prints it. ngspice -b runs it.\n\nEquipment:\n" + equipmentList(),
		Example: "  stepdown circuit export --equipment cool-gas --fault open-y mode=cool \\\n    calling=yes > open-y.cir",
		RunE: func(_ *cobra.Command, args []string) error {
			e, err := loadEquipment(equipment)
			if err != nil {
				return err
			}
			q, err := quantity.OfID(measure)
			if err != nil || q == quantity.Current {
				return usage("--quantity is volts, volts-lowz or ohms", "%q cannot be exported", measure)
			}
			f, err := house.ParseFault(fault)
			if err != nil || !e.Fits(f) {
				return usage("choose a fault this equipment can have", "%s has no fault %q", e.ID, fault)
			}
			setup, err := parseSetup(args)
			if err != nil {
				return err
			}
			return w.export(e, f, q, setup)
		},
	}
	cmd.Flags().StringVar(&equipment, "equipment", "", "the `kind` of system")
	cmd.Flags().StringVar(&fault, "fault", "none", "put this `fault` in")
	cmd.Flags().StringVar(&measure, "quantity", "volts", "volts, volts-lowz or ohms")
	return cmd
}

// export writes the deck of the house at the centre of every range.
func (w world) export(e *circuit.Equipment, f house.Fault, q quantity.Quantity, s house.Setup) error {
	var faults []house.Fault
	if f != house.None {
		faults = append(faults, f)
	}
	h, err := circuit.NewHouse(e.Nominal(), faults...)
	if err != nil {
		return err
	}
	if q == quantity.Resistance {
		s.PowerIndoor, s.PowerOutdoor = house.LockedOut, house.LockedOut
	}
	var probes []house.Probe
	for _, at := range house.Places() {
		for _, p := range worksheet.Probes(e.ID, at, q) {
			if _, err := h.Exact(s, p); err == nil {
				probes = append(probes, p)
			}
		}
	}
	if err := h.Export(w.stdout, s, probes...); err != nil {
		return usage("choose a setup this equipment can be put in", "%v", err)
	}
	return nil
}
