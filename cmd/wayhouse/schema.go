package main

import (
	"strings"

	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/api/wire"
)

func schemaCommand() *cobra.Command {
	return &cobra.Command{
		Use: "schema " + strings.Join(wire.SchemaNames(), "|"), Short: "The JSON Schema of what you write",
		Args: cobra.ExactArgs(1), ValidArgs: wire.SchemaNames(),
		Long: "Prints the JSON Schema (draft 2020-12) of the file of a unit, of a tow vehicle or of a trip,\n" +
			"or of a rig as the service takes it. Editors that read YAML by a schema complete fields\n" +
			"and show mistakes: the first line of each file in data/example names the one it is of.",
		Example: "  wayhouse schema unit > unit.json",
		RunE: func(cmd *cobra.Command, args []string) error {
			s, err := wire.NewSchema(args[0])
			if err != nil {
				return err
			}
			return export.JSON(cmd.OutOrStdout(), s)
		},
	}
}
