package main

import (
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"stepdown/engine/quantity"
	"stepdown/engine/worksheet"
)

func init() { verbs = append(verbs, newExpect, newLoads) }

func newExpect(w world) *cobra.Command {
	var equipment, measure string
	var asJSON bool
	var o worksheet.Options
	cmd := &cobra.Command{
		Use:   "expect --equipment ID [KEY=VALUE ...]",
		Short: "Print what every terminal should read, healthy",
		Long: "Print what every terminal of a healthy house should read in a setup, per place,\nwith its range: a sheet to stick in a panel.\n\nEquipment:\n" +
			equipmentList(),
		Example: "  stepdown expect --equipment cool-gas mode=cool calling=yes\n  stepdown expect --equipment cool-gas --quantity ohms",
		RunE: func(_ *cobra.Command, args []string) error {
			e, err := loadEquipment(equipment)
			if err != nil {
				return err
			}
			if o.Quantity, err = quantity.OfID(measure); err != nil || o.Quantity == quantity.Current {
				return usage("--quantity is volts, volts-lowz or ohms", "%q cannot be printed", measure)
			}
			setup, err := parseSetup(args)
			if err != nil {
				return err
			}
			sheet, err := worksheet.Expect(e, setup, o)
			if err != nil {
				return usage("choose a setup this equipment can be put in", "%v", err)
			}
			return w.print(asJSON, sheet, func() string { return sheet.TextWithin(w.wide()) })
		},
	}
	cmd.Flags().StringVar(&equipment, "equipment", "", "the equipment's id")
	cmd.Flags().StringVar(&measure, "quantity", "volts", "volts, volts-lowz or ohms")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object")
	cmd.Flags().IntVar(&o.Draws, "draws", 20, "houses drawn besides the corners of the ranges")
	cmd.Flags().Uint64Var(&o.Seed, "seed", 1, "seed of the draws")
	return cmd
}

func newLoads(w world) *cobra.Command {
	var equipment string
	var asJSON bool
	var a worksheet.Added
	cmd := &cobra.Command{
		Use:     "loads --equipment ID",
		Short:   "Print what each call asks of the transformer",
		Long:    "Print the transformer's volt-amperes on each call against its rating, and each\ncoil's volts against what it needs to pull in.\n\nEquipment:\n" + equipmentList(),
		Example: "  stepdown loads --equipment cool-electric --outdoor-metres 40 --gauge 20 \\\n    --added-va 5",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			e, err := loadEquipment(equipment)
			if err != nil {
				return err
			}
			loads, err := worksheet.Loads(e.Nominal(), a)
			if err != nil {
				return usage("stepdown loads --help shows the flags", "%v", err)
			}
			return w.print(asJSON, loads, func() string { return worksheet.LoadTextWithin(e, loads, w.wide()) })
		},
	}
	cmd.Flags().StringVar(&equipment, "equipment", "", "the equipment's id")
	cmd.Flags().StringVar(&a.Gauge, "gauge", "", "AWG of both cables")
	cmd.Flags().Float64Var(&a.StatMetres, "thermostat-metres", 0, "cable from board to thermostat")
	cmd.Flags().Float64Var(&a.OutdoorMetres, "outdoor-metres", 0, "cable from board to outdoor unit")
	cmd.Flags().Float64Var(&a.VA, "added-va", 0, "devices added across R and C, volt-amperes at 24 V")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return cmd
}

// print writes a value as JSON or as text.
func (w world) print(asJSON bool, value any, text func() string) error {
	if !asJSON {
		_, err := fmt.Fprint(w.stdout, w.onScreen(text()))
		return err
	}
	enc := json.NewEncoder(w.stdout)
	enc.SetEscapeHTML(false)
	return enc.Encode(value)
}
