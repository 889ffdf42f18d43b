package main

import (
	"cmp"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/service"
	"wayhouse/routing/trip"
)

func routeCommand(clock func() time.Time) *cobra.Command {
	f := planFlags{form: formOf[*trip.Routes]()}
	c := &cobra.Command{
		Use: "route [trip.yaml]", Short: "The ways of a trip: the best one, others beside it, and what bent it",
		Args: cobra.MaximumNArgs(1),
		Long: "Finds the best way of a trip, others beside it, the way of a rig that nothing shuts out\n" +
			"and the best way without a permit; says what bent the way and what each thing costs;\n" +
			"and, where every way is shut, what closes it and which size would pass. A given route\n" +
			"is compared with the best way between its ends.",
		Example: "  wayhouse route data/example/trip.yaml\n" +
			"  wayhouse route --from \"Ottawa, ON\" --to \"Montréal, QC\" --unit-height 13'2\" --not-by 417 " +
			"--permit-cost \"30 min\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := cmp.Or(f.mustBe.check(), f.form.choose()); err != nil {
				return err
			}
			return f.route(cmd, args, clock)
		},
	}
	f.flags(c.Flags())
	f.mustBe.flag(c.Flags())
	c.Flags().Int("alternatives", 2, "how many ways beside the best one, from 0 to 3")
	c.Flags().Bool("reasons", true, "say what bent the way, and what that costs")
	over(c.Flags(), "alternatives", "alternatives")
	over(c.Flags(), "reasons", "reasons")
	boolFlags(c.Flags(), [3]string{"any-order", "any_order", "drive the stops between the first and the last " +
		"in the order that takes least"})
	return c
}

func (f planFlags) route(cmd *cobra.Command, args []string, clock func() time.Time) error {
	routes, err := answer(f, cmd, args, clock, (*service.Service).Routes)
	if err != nil {
		return err
	}
	return f.mustBe.met(routes.Best.Verdict)
}
