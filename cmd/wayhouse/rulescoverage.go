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
		Use: "coverage", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			known, done, err := loadToAsk(cmd.Context(), from, clock, rulesAlone)
			if err != nil {
				return err
			}
			defer done()
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
	inFlag(c.Flags())
	form.flags(c.Flags())
	return c
}
