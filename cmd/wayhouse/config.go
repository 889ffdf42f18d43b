package main

import (
	"os"

	"github.com/spf13/cobra"

	"wayhouse/api/wire"
)

// configCommand says what holds where a flag is not given, and by what.
func configCommand() *cobra.Command {
	form := formOf[wire.Settings]()
	c := &cobra.Command{
		Use: "config", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			s, err := readSettings(os.Getenv)
			if err != nil {
				return err
			}
			_, err = os.Stat(s.file)
			out := wire.Settings{File: s.file, There: err == nil}
			for _, flag := range settable {
				said := s.said[flag]
				shown, _ := redacted(said.value)
				out.Settings = append(out.Settings, wire.Setting{
					Flag: "--" + flag, Variable: variableOf(flag), Key: flag, Value: shown, By: said.by,
				})
			}
			return form.write(cmd.OutOrStdout(), out)
		},
	}
	form.ofList(c.Flags())
	return c
}
