package main

import (
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/wire"
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
			return f.ladder(cmd, args, clock)
		},
	}
	f.flags(c.Flags())
	c.Flags().String("quantity", "height", "height, width or mass")
	over(c.Flags(), "quantity", "quantity")
	return c
}

func (f planFlags) ladder(cmd *cobra.Command, args []string, clock func() time.Time) error {
	a, err := f.request(cmd, args)
	if err != nil {
		return err
	}
	known, done, err := f.service(cmd, clock)
	if err != nil {
		return err
	}
	defer done()
	ladders, err := known.Ladders(cmd.Context(), wire.DecodeValue[wire.LadderRequest](a.fields))
	if err != nil {
		return a.named(err)
	}
	return f.form.write(cmd.OutOrStdout(), ladders)
}
