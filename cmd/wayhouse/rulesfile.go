package main

import (
	"bufio"
	"errors"
	"io"
	"os"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

// reasonFlags are those of whoever changes the tables.
func reasonFlags(c *cobra.Command) {
	textFlags(c.Flags(), [2]string{"why", "why"})
	c.Flags().String("who", userName(), "")
	over(c.Flags(), "who", "who")
}

// reasonOf reads who makes a change, and why.
func reasonOf(cmd *cobra.Command) (*asked, wire.Reason, error) {
	a := flagsOf(cmd)
	r := wire.DecodeValue[wire.Reason](map[string]any{"who": a.fields["who"], "why": a.fields["why"]})
	if err := r.Err(); err != nil {
		return a, r.Said, a.named(err)
	}
	return a, r.Said, nil
}

// tableOf finds the table that the flag names.
func tableOf(name string) (store.Table, error) {
	table, err := store.TableNamed(name)
	var none *measure.FieldError
	if errors.As(err, &none) {
		none.Field = "--table"
	}
	return table, err
}

// tableFlag adds the flag that names a table.
func tableFlag(c *cobra.Command, name *string) {
	var names []string
	for _, t := range store.Tables() {
		names = append(names, t.TableName())
	}
	c.Flags().StringVar(name, "table", names[0], "")
	_ = c.Flags().SetAnnotation("table", valuesOf, names) // the flag is there
}

func rulesExport(clock func() time.Time) *cobra.Command {
	var from sources
	var revision int
	var name string
	form := formOf[export.Table]()
	c := &cobra.Command{
		Use: "export", Args: noArguments,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			table, err := tableOf(name)
			if err != nil {
				return err
			}
			tables, err := openStore(cmd.Context(), from, clock)
			if err != nil {
				return err
			}
			defer tables.Close()
			out, err := export.TableAt(cmd.Context(), tables, table, revision)
			if err != nil {
				return err
			}
			if !from.kept() { // the rows as they are shipped, by no revision of any store
				out.Rows.Revision = 0
			}
			return form.write(cmd.OutOrStdout(), out)
		},
	}
	from.flags(c.Flags())
	tableFlag(c, &name)
	c.Flags().IntVar(&revision, "tables-revision", 0, "")
	form.flags(c.Flags())
	return c
}

func rulesImport(clock func() time.Time) *cobra.Command {
	var from sources
	var dry, all bool
	var name string
	var made int
	c := &cobra.Command{
		Use:  "import FILE.csv --why TEXT",
		Args: arguments(1, 1),
		RunE: func(cmd *cobra.Command, args []string) error {
			_, r, err := reasonOf(cmd)
			if err != nil && !dry {
				return err
			}
			if _, err := tableOf(name); err != nil {
				return err
			}
			file, err := openFile(args[0])
			if err != nil {
				return err
			}
			defer file.Close()
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				q := store.Import{Table: name, CSV: file, All: all, Dry: dry, Since: made}
				done, err := importTold(cmd, t, r, q)
				if err != nil {
					return service.ImportFault(err, service.ImportWords{
						File: args[0], Revision: "--from-revision", Dry: "--dry-run",
						Start: say.That("fix.export", "table", name),
					})
				}
				return printImported(cmd, done)
			})
		},
	}
	from.flags(c.Flags())
	reasonFlags(c)
	tableFlag(c, &name)
	c.Flags().BoolVar(&dry, "dry-run", false, "")
	c.Flags().BoolVar(&all, "remove-missing", false, "")
	c.Flags().IntVar(&made, "from-revision", 0, "")
	return c
}

// importTold imports and prints what differs once all of it is known to be good,
// from a file beside: a large import is not held in memory.
func importTold(cmd *cobra.Command, t *service.Tables, r wire.Reason, q store.Import) (done store.Imported, err error) {
	kept, err := os.CreateTemp("", "wayhouse-import-*")
	if err != nil {
		return done, err
	}
	defer os.Remove(kept.Name())
	defer kept.Close()
	told := bufio.NewWriter(kept)
	if done,
		err = t.Import(cmd.Context(), r, q, func(d store.Difference) { printDifference(speaks(cmd), told, d) }); err != nil {
		return done, err
	}
	if err := told.Flush(); err != nil {
		return done, err
	}
	if _, err := kept.Seek(0, io.SeekStart); err != nil {
		return done, err
	}
	_, err = io.Copy(cmd.OutOrStdout(), kept)
	return done, err
}

func printImported(cmd *cobra.Command, done store.Imported) error {
	switch {
	case done.Rows == 0:
		return says(cmd, say.That("command.no_difference", "revision", done.Revision.Number))
	case done.Made:
		return says(cmd, say.That("command.rows_changed", "revision", done.Revision.Number, "rows", done.Rows))
	default:
		return says(cmd, say.That("command.would_change", "rows", done.Rows))
	}
}

// makeProposal prints what a proposal changes, and makes it unless it is dry.
func makeProposal(cmd *cobra.Command, t *service.Tables, p store.Proposal, r wire.Reason, dry bool) error {
	for _, d := range p.Differences {
		printDifference(speaks(cmd), cmd.OutOrStdout(), d)
	}
	revision, made, err := t.Make(cmd.Context(), r, p, dry)
	if err != nil {
		return err
	}
	return printImported(cmd, store.Imported{Revision: revision, Rows: len(p.Edits), Made: made})
}

func rulesVerify(clock func() time.Time) *cobra.Command {
	var from sources
	var name string
	c := &cobra.Command{
		Use: "verify ROW --source TEXT --why TEXT", Args: arguments(1, 1),
		Example: "  wayhouse rules verify ca-qc-height-01 --store tables.db --source \"C-24.2, r. 31\" " +
			"--section \"s. 12\" --why \"read it\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			a := flagsOf(cmd)
			q := wire.DecodeValue[wire.VerifyRequest](a.fields)
			if err := q.Err(); err != nil {
				return a.named(err)
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				done, err := t.Verify(cmd.Context(), name, args[0], 0, q.Said)
				if err != nil {
					return a.named(err)
				}
				return printVerified(cmd, done)
			})
		},
	}
	from.flags(c.Flags())
	reasonFlags(c)
	tableFlag(c, &name)
	textFlags(c.Flags(),
		[2]string{"source", "source"},
		[2]string{"section", "section"},
		[2]string{"year", "source_year"},
		[2]string{"url", "source_url"},
		[2]string{"read-on", "read_on"},
		[2]string{"published", "published"},
		[2]string{"threshold", "threshold"},
	)
	return c
}

func printVerified(cmd *cobra.Command, done service.Verified) error {
	printDifference(speaks(cmd), cmd.OutOrStdout(), done.Difference)
	err := says(cmd, say.That("command.revision", "revision", done.Made.Number))
	if len(done.CannotClear) > 0 {
		err = says(cmd, say.That("command.still_cannot_clear", "why", done.CannotClear))
	}
	return err
}
