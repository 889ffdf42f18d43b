package main

import (
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/wire"
)

func jurisdictionsCommand(clock func() time.Time) *cobra.Command {
	var from sources
	form := formOf[wire.Jurisdictions]()
	c := &cobra.Command{
		Use:  "jurisdictions",
		Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			known, done, err := loadToAsk(cmd.Context(), from, clock, rulesAlone)
			if err != nil {
				return err
			}
			defer done()
			return form.write(cmd.OutOrStdout(), known.Jurisdictions(form.view.In))
		},
	}
	from.flags(c.Flags())
	form.ofList(c.Flags())
	return c
}

func placesCommand(clock func() time.Time) *cobra.Command {
	var from sources
	form := formOf[wire.Places]()
	c := &cobra.Command{
		Use: "places NAME", Args: arguments(1, 1),
		Example: "  wayhouse places cornw\n  wayhouse places \"Mont, Québec\" --json",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			known, done, err := loadToAsk(cmd.Context(), from, clock, withRoads)
			if err != nil {
				return err
			}
			defer done()
			return form.write(cmd.OutOrStdout(), known.FindPlaces(args[0]))
		},
	}
	c.Flags().StringVar(&from.network, "network", "", "")
	form.ofList(c.Flags())
	return c
}
