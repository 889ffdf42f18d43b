package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"wayhouse/data/guide"
	"wayhouse/regs/measure"
)

func guideCommand() *cobra.Command {
	return &cobra.Command{
		Use: "guide [TOPIC]", Args: cobra.MaximumNArgs(1),
		Example: "  wayhouse guide\n  wayhouse guide plan",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listTopics(cmd.OutOrStdout())
			}
			return printTopic(cmd.OutOrStdout(), args[0])
		},
	}
}

// listTopics prints a line for each topic.
func listTopics(w io.Writer) error {
	for _, topic := range guide.Topics() {
		if _, err := fmt.Fprintf(w, "%-12s %s\n", topic.Name, topic.Title); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintln(w, "\nwayhouse guide TOPIC prints one of them.")
	return err
}

func printTopic(w io.Writer, name string) error {
	var names []string
	for _, topic := range guide.Topics() {
		if topic.Name == name {
			_, err := io.WriteString(w, topic.Text)
			return err
		}
		names = append(names, topic.Name)
	}
	return &measure.FieldError{
		Field: "TOPIC", Value: name, Problem: "is no topic of the guide", Fix: "give one of " + strings.Join(names, ", "),
	}
}
