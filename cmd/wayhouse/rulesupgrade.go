package main

import (
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/service"
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
						fmt.Fprintf(cmd.OutOrStdout(), "conflict %s %s: you changed it, and it is no longer shipped; it stays\n",
							conflict.Table, conflict.ID)
						continue
					}
					fmt.Fprintf(cmd.OutOrStdout(), "conflict %s %s: you changed it; the shipped version comes in as %s, "+
						"and the stricter binds\n", conflict.Table, conflict.ID, conflict.Rival)
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
