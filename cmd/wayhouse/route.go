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
		Use:  "route [trip.yaml]",
		Args: arguments(0, 1),
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
	c.Flags().Int("alternatives", 2, "")
	c.Flags().Bool("reasons", true, "")
	over(c.Flags(), "alternatives", "alternatives")
	over(c.Flags(), "reasons", "reasons")
	return c
}

func (f planFlags) route(cmd *cobra.Command, args []string, clock func() time.Time) error {
	routes, err := answer(f, cmd, args, clock, (*service.Service).Routes, nil)
	if err != nil {
		return err
	}
	return f.mustBe.met(routes.Best.Verdict)
}
