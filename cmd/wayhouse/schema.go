package main

import (
	"strings"

	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/api/wire"
)

func schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use:  "schema " + strings.Join(wire.SchemaNames(), "|"),
		Args: arguments(1, 1), ValidArgs: wire.SchemaNames(),
		Example: "  wayhouse schema unit > unit.json",
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := wire.NewSchema(args[0], speaks(cmd))
			if err != nil {
				return err
			}
			return export.JSON(cmd.OutOrStdout(), s)
		},
	}
}
