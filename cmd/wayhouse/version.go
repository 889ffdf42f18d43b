package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
)

// unknownBuild is the version of a build that does not say which it is, such as
// one of a folder without its history.
const unknownBuild = "unknown build"

// version says which build of the program this is.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return unknownBuild
	}
	return versionOf(info)
}

// versionOf puts together what the go command stamped: the version of the module
// where it has one, and the commit with its time and whether files differed from
// it. It makes nothing up: v0.0.0 stands for no version.
func versionOf(info *debug.BuildInfo) string {
	var said []string
	if v := info.Main.Version; v != "" && v != "(devel)" && !strings.HasPrefix(v, "v0.0.0-") {
		said = append(said, v)
	}
	stamped := map[string]string{}
	for _, s := range info.Settings {
		stamped[s.Key] = s.Value
	}
	if commit := stamped["vcs.revision"]; commit != "" {
		said = append(said, "commit "+commit[:min(len(commit), 12)])
		if at := stamped["vcs.time"]; at != "" {
			said = append(said, "of "+at)
		}
		if stamped["vcs.modified"] == "true" {
			said = append(said, "with changes")
		}
	}
	if len(said) == 0 {
		return unknownBuild
	}
	return strings.Join(said, " ")
}

func versionCommand() *cobra.Command {
	return &cobra.Command{
		Use: "version", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := fmt.Fprintln(cmd.OutOrStdout(), version())
			return err
		},
	}
}
