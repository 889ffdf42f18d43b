package main

import (
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/report"
	"wayhouse/api/wire"
)

func ladderCommand(clock func() time.Time) *cobra.Command {
	var f planFlags
	c := &cobra.Command{
		Use: "ladder [trip.yaml]", Short: "How high, wide or heavy a rig may be on each way between two stops", Args: cobra.MaximumNArgs(1),
		Long: "Lists the exact steps from the greatest rig that passes to the fastest way: once with\n" +
			"unmeasured structures taken to be high enough, once going past none of them. What the\n" +
			"given rig is in the quantity is only compared with the steps.",
		Example: "  wayhouse ladder data/example/trip.yaml\n" +
			"  wayhouse ladder --from \"Ottawa, ON\" --to \"Montréal, QC\" --quantity width",
		RunE: func(cmd *cobra.Command, args []string) error {
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
	service, done, err := f.service(cmd, clock)
	if err != nil {
		return err
	}
	defer done()
	ladders, err := service.Ladders(cmd.Context(), wire.DecodeValue[wire.LadderRequest](a.fields))
	if err != nil {
		return a.named(err)
	}
	if f.json {
		return printJSON(cmd, wire.NewLadders(ladders))
	}
	return report.Ladders(cmd.OutOrStdout(), ladders, credits(ladders.About))
}
