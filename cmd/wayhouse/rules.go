package main

import (
	"fmt"
	"io"
	"os/user"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

func rulesCommand(clock func() time.Time) *cobra.Command {
	c := &cobra.Command{
		Use:  "rules",
		Args: noArguments, RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	c.AddCommand(rulesList(clock), rulesCoverage(clock), rulesExport(clock), rulesImport(clock), rulesBridges(clock),
		rulesVerify(clock), rulesHistory(clock), rulesCompare(clock), rulesRestore(clock), rulesUpgrade(clock))
	return c
}

// withTables runs f on the tables that the flags name.
func withTables(cmd *cobra.Command, from sources, clock func() time.Time, f func(*service.Tables) error) error {
	if !from.kept() {
		return &measure.FieldError{
			Field: "rules", Problem: say.That("error.no_tables_are_named"),
			Fix: say.That("fix.add_store_file_or"),
		}
	}
	tables, err := openStore(cmd.Context(), from, clock)
	if err != nil {
		return err
	}
	defer tables.Close()
	return f(&service.Tables{Store: tables, Clock: clock})
}

func rulesHistory(clock func() time.Time) *cobra.Command {
	var from sources
	var asJSON *bool
	c := &cobra.Command{
		Use: "history", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				history, err := t.History(cmd.Context())
				if err == nil && *asJSON {
					return export.JSON(cmd.OutOrStdout(), wire.NewRevisions(history))
				}
				for _, r := range history {
					fmt.Fprintf(cmd.OutOrStdout(), "%6d  %s  %s: %s\n", r.Number, speaks(cmd).Moment(r.MadeAt),
						report.Printable(r.Who), report.Printable(speaks(cmd).Ours(r.Why)))
				}
				return err
			})
		},
	}
	from.flags(c.Flags())
	asJSON = jsonFlag(c)
	return c
}

func rulesCompare(clock func() time.Time) *cobra.Command {
	var from sources
	var asJSON *bool
	c := &cobra.Command{
		Use: "compare EARLIER LATER", Args: arguments(2, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			a, err := revisionNumber("EARLIER", args[0])
			if err != nil {
				return err
			}
			b, err := revisionNumber("LATER", args[1])
			if err != nil {
				return err
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				differences, err := t.Compare(cmd.Context(), a, b)
				if err == nil && *asJSON {
					return export.JSON(cmd.OutOrStdout(), wire.Compared{Differences: wire.NewDifferences(differences)})
				}
				for _, d := range differences {
					printDifference(speaks(cmd), cmd.OutOrStdout(), d)
				}
				if err == nil && len(differences) == 0 {
					err = says(cmd, say.That("command.same_rows", "a", a, "b", b))
				}
				return err
			})
		},
	}
	from.flags(c.Flags())
	asJSON = jsonFlag(c)
	return c
}

func revisionNumber(name, text string) (int, error) {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0, &measure.FieldError{
			Field: name, Value: text, Problem: say.That("error.no_number_of_a"),
			Fix: say.That("fix.give_one_that_wayhouse"),
		}
	}
	return n, nil
}

func printDifference(in *phrase.Language, w io.Writer, d store.Difference) {
	word := say.That("command.changed")
	switch {
	case d.Before == nil:
		word = say.That("command.added")
	case d.After == nil:
		word = say.That("command.removed")
	}
	fmt.Fprintf(w, "%-8s %s %s\n", in.Say(word), d.Table, report.Printable(d.ID))
	table, err := store.TableNamed(d.Table)
	if err != nil {
		return
	}
	for i, column := range table.ColumnNames() {
		cell := func(r rows.Record) string {
			if r == nil {
				return ""
			}
			return r[i]
		}
		if before, after := cell(d.Before), cell(d.After); before != after {
			fmt.Fprintf(w, "         %-14s %q -> %q\n", column, before, after)
		}
	}
}

func rulesRestore(clock func() time.Time) *cobra.Command {
	var from sources
	c := &cobra.Command{
		Use:  "restore REVISION --why TEXT",
		Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			number, err := revisionNumber("REVISION", args[0])
			if err != nil {
				return err
			}
			a, r, err := reasonOf(cmd)
			if err != nil {
				return err
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				made, err := t.Restore(cmd.Context(), wire.RestoreRequest{Reason: r, Revision: number})
				if err != nil {
					return a.named(err)
				}
				return says(cmd, say.That("command.restored", "revision", made.Number, "of", number))
			})
		},
	}
	from.flags(c.Flags())
	reasonFlags(c)
	return c
}

func userName() string {
	u, err := user.Current()
	if err != nil || u.Username == "" {
		return "somebody"
	}
	return u.Username
}
