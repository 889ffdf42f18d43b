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
		Use:  "ladder [trip.yaml]",
		Args: arguments(0, 1),
		Example: "  wayhouse ladder data/example/trip.yaml\n" +
			"  wayhouse ladder --from \"Ottawa, ON\" --to \"Montréal, QC\" --quantity width",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.form.choose(); err != nil {
				return err
			}
			_, err := answer(f, cmd, args, clock, (*service.Service).Ladders, nil)
			return err
		},
	}
	f.flags(c.Flags())
	c.Flags().String("quantity", "height", "")
	over(c.Flags(), "quantity", "quantity")
	return c
}
