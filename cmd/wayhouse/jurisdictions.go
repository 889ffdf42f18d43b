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
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			known, tables, err := load(cmd.Context(), from, clock, rulesAlone)
			if err != nil {
				return err
			}
			defer tables.Close()
			return form.write(cmd.OutOrStdout(), known.Jurisdictions(form.view.In))
		},
	}
	from.flags(c.Flags())
	form.ofList(c.Flags())
	return c
}
