package main

import (
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/wire"
)

func rulesCoverage(clock func() time.Time) *cobra.Command {
	var from sources
	form := formOf[*wire.Coverage]()
	c := &cobra.Command{
		Use: "coverage", Short: "Say how well the tables know each quantity in each jurisdiction", Args: cobra.NoArgs,
		Long: "Says for each jurisdiction which quantities have a row that you verified, one that was\n" +
			"published, only stale ones, only unverified ones, or none, and what stands in the way of\n" +
			"the first two where they cannot clear. Without --store or --database it looks at the\n" +
			"shipped rows.",
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			known, tables, err := load(cmd.Context(), from, clock, rulesAlone)
			if err != nil {
				return err
			}
			defer tables.Close()
			codes, err := codesOf(cmd, known)
			if err != nil {
				return err
			}
			coverage, err := known.Coverage(form.view.In, codes)
			if err != nil {
				return err
			}
			return form.write(cmd.OutOrStdout(), coverage)
		},
	}
	from.flags(c.Flags())
	inFlag(c.Flags(), "jurisdictions by code or name, such as CA-ON,Québec (default: all)")
	form.flags(c.Flags())
	return c
}
