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
		Use: "jurisdictions", Short: "The provinces, territories and states, and how many rows the tables have of each",
		Args: cobra.NoArgs,
		Long: "Lists what --in and --not-in name: by code (CA-QC, QC) or by name in English or French, in\n" +
			"any case and without accents too. As JSON it also says whom to ask.",
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
