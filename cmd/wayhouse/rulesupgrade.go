package main

import (
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/service"
	"wayhouse/regs/say"
)

func rulesUpgrade(clock func() time.Time) *cobra.Command {
	var from sources
	var dry bool
	c := &cobra.Command{
		Use: "upgrade --why TEXT", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, r, err := reasonOf(cmd)
			if err != nil && !dry {
				return err
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				u, err := t.ProposeUpgrade(cmd.Context())
				if err != nil {
					return err
				}
				for _, conflict := range u.Conflicts {
					if conflict.Rival == "" {
						err = says(cmd, say.That("command.conflict_stays", "table", conflict.Table, "row", conflict.ID))
					} else {
						err = says(cmd, say.That("command.conflict_rival", "table", conflict.Table, "row", conflict.ID,
							"rival", conflict.Rival))
					}
					if err != nil {
						return err
					}
				}
				return makeProposal(cmd, t, u.Proposal, r, dry)
			})
		},
	}
	from.flags(c.Flags())
	reasonFlags(c)
	c.Flags().BoolVar(&dry, "dry-run", false, "")
	return c
}
