package main

import (
	"cmp"
	"io"
	"os/user"
	"strconv"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
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
	form, ofRow := formOf[wire.Revisions](), formOf[wire.RowVersions]()
	c := &cobra.Command{
		Use: "history [TABLE ROW]", Args: arguments(0, 2),
		Example: "  wayhouse rules history --store tables.db\n" +
			"  wayhouse rules history limits ca-qc-height-01 --store tables.db",
		RunE: func(cmd *cobra.Command, args []string) error {
			form := form
			if len(args) > 0 {
				form = form.instead(ofRow)
			}
			if err := form.choose(); err != nil {
				return err
			}
			switch len(args) {
			case 0:
				return withTables(cmd, from, clock, func(t *service.Tables) error {
					history, err := t.History(cmd.Context())
					if err != nil {
						return err
					}
					return form.write(cmd.OutOrStdout(), wire.NewRevisions(history))
				})
			case 1:
				return &measure.FieldError{
					Field: "ROW", Problem: say.That("error.missing"), Fix: say.That("fix.like", "text", "limits ca-qc-height-01"),
				}
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				versions, err := t.Versions(cmd.Context(), args[0], args[1])
				if err != nil {
					return err
				}
				return form.write(cmd.OutOrStdout(), wire.NewRowVersions(args[0], args[1], versions))
			})
		},
	}
	from.flags(c.Flags())
	form.ofList(c.Flags())
	return c
}

func rulesCompare(clock func() time.Time) *cobra.Command {
	var from sources
	form := formOf[wire.Compared]()
	c := &cobra.Command{
		Use: "compare EARLIER LATER", Args: arguments(2, 2),
		RunE: func(cmd *cobra.Command, args []string) error {
			a, err := revisionNumber("EARLIER", args[0])
			if err != nil {
				return err
			}
			b, err := revisionNumber("LATER", args[1])
			if err = cmp.Or(err, form.choose()); err != nil {
				return err
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				differences, err := t.Compare(cmd.Context(), a, b)
				if err != nil {
					return err
				}
				return form.write(cmd.OutOrStdout(), wire.Compared{Differences: wire.NewDifferences(differences)})
			})
		},
	}
	from.flags(c.Flags())
	form.ofList(c.Flags())
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
	report.Difference(w, in, wire.NewDifferences([]store.Difference{d})[0])
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
