package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/data/guide"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

func guideCommand() *cobra.Command {
	var asJSON *bool
	c := &cobra.Command{
		Use: "guide [TOPIC]", Args: arguments(0, 1),
		Example: "  wayhouse guide\n  wayhouse guide plan",
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) > 0:
				return printTopic(cmd, args[0])
			case *asJSON:
				return export.JSON(cmd.OutOrStdout(), map[string]any{"topics": topicsOf(cmd)})
			default:
				return listTopics(cmd)
			}
		},
	}
	asJSON = jsonFlag(c)
	return c
}

// listTopics prints a line for each topic.
func listTopics(cmd *cobra.Command) error {
	for _, topic := range topicsOf(cmd) {
		if _, err := fmt.Fprintf(cmd.OutOrStdout(), "%-12s %s\n", topic.Name, topic.Title); err != nil {
			return err
		}
	}
	if _, err := fmt.Fprintln(cmd.OutOrStdout()); err != nil {
		return err
	}
	return says(cmd, say.That("command.guide"))
}

// topicsOf are the pages in the language of a command.
func topicsOf(cmd *cobra.Command) []guide.Topic { return guide.Topics(speaks(cmd).Tag().String()) }

func printTopic(cmd *cobra.Command, name string) error {
	var names []string
	for _, topic := range topicsOf(cmd) {
		if topic.Name == name {
			_, err := io.WriteString(cmd.OutOrStdout(), topic.Text)
			return err
		}
		names = append(names, topic.Name)
	}
	return &measure.FieldError{
		Field: "TOPIC", Value: name, Problem: say.That("error.no_topic_of_the"), Fix: say.That("fix.one_of", "words", names),
	}
}
