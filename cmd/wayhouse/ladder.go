package main

import (
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/service"
	"wayhouse/routing/trip"
)

func ladderCommand(clock func() time.Time) *cobra.Command {
	f := planFlags{form: formOf[*trip.Ladders]()}
	c := &cobra.Command{
		Use: "ladder [trip.yaml]", Short: "How high, wide or heavy a rig may be on each way between two stops",
		Args: cobra.MaximumNArgs(1),
		Long: "Lists the exact steps from the greatest rig that passes to the fastest way: once with\n" +
			"unmeasured structures taken to be high enough, once going past none of them. What the\n" +
			"given rig is in the quantity is only compared with the steps.",
		Example: "  wayhouse ladder data/example/trip.yaml\n" +
			"  wayhouse ladder --from \"Ottawa, ON\" --to \"Montréal, QC\" --quantity width",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.form.choose(); err != nil {
				return err
			}
			_, err := answer(f, cmd, args, clock, (*service.Service).Ladders)
			return err
		},
	}
	f.flags(c.Flags())
	c.Flags().String("quantity", "height", "height, width or mass")
	over(c.Flags(), "quantity", "quantity")
	return c
}
