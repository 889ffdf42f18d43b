package main

import (
	"bufio"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/store"
)

// reasonFlags are those of whoever changes the tables.
func reasonFlags(c *cobra.Command) {
	textFlags(c.Flags(), [3]string{"why", "why", "the reason, which the history keeps"})
	c.Flags().String("who", userName(), "who makes the change")
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

// tableFlag adds the flag that names a table.
func tableFlag(c *cobra.Command, name *string) {
	var names []string
	for _, t := range store.Tables() {
		names = append(names, t.TableName())
	}
	c.Flags().StringVar(name, "table", names[0], "the table: "+strings.Join(names, ", "))
}

func rulesExport(clock func() time.Time) *cobra.Command {
	var from sources
	var revision int
	var name string
	form := formOf[export.Table]()
	c := &cobra.Command{
		Use: "export", Short: "Print a table as CSV, as import reads it", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			table, err := store.TableNamed(name)
			if err != nil {
				return err
			}
			return withTables(cmd, from, clock, func(t *service.Tables) error {
				out, err := export.TableAt(cmd.Context(), t.Store, table, revision)
				if err != nil {
					return err
				}
				return form.write(cmd.OutOrStdout(), out)
			})
		},
	}
	from.flags(c.Flags())
	tableFlag(c, &name)
	c.Flags().IntVar(&revision, "tables-revision", 0, "the tables as they were at this revision (default: the newest)")
	form.flags(c.Flags())
	return c
}

func rulesImport(clock func() time.Time) *cobra.Command {
	var from sources
	var dry, all bool
	var name string
	var made int
	c := &cobra.Command{
		Use: "import FILE.csv --why TEXT", Short: "Take the rows of a CSV file into a table, all or none",
		Args: cobra.ExactArgs(1),
		Long: "Takes the rows of a CSV file into a table as one revision, all or none. A row takes\n" +
			"the place of the one of its id. With --dry-run it says row by row what would change.\n" +
			"What export prints names its revision: rows that the file leaves as they were then stay\n" +
			"as they are now, and one that both changed is a conflict. Another file says with\n" +
			"--from-revision for which revision it was made; without, it may add rows only.\n" +
			"Commas, semicolons or tabs part cells; UTF-8 and UTF-16 are read.",
		RunE: func(cmd *cobra.Command, args []string) error {
			_, r, err := reasonOf(cmd)
			if err != nil && !dry {
				return err
			}
			if _, err := store.TableNamed(name); err != nil {
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
						Start: "what wayhouse rules export --table " + name + " prints",
					})
				}
				return printImported(cmd.OutOrStdout(), done)
			})
		},
	}
	from.flags(c.Flags())
	reasonFlags(c)
	tableFlag(c, &name)
	c.Flags().BoolVar(&dry, "dry-run", false, "say what would change and change nothing")
	c.Flags().BoolVar(&all, "remove-missing", false, "remove the rows that are not in the file")
	c.Flags().IntVar(&made, "from-revision", 0, "the revision of the tables for which the file was made "+
		"(default: what the file says)")
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
	if done, err = t.Import(cmd.Context(), r, q, func(d store.Difference) { printDifference(told, d) }); err != nil {
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

func printImported(w io.Writer, done store.Imported) error {
	format := "%[1]d rows would change; nothing was changed\n"
	switch {
	case done.Rows == 0:
		format = "nothing differs from revision %[2]d\n"
	case done.Made:
		format = "revision %[2]d: %[1]d rows changed\n"
	}
	_, err := fmt.Fprintf(w, format, done.Rows, done.Revision.Number)
	return err
}

// makeProposal prints what a proposal changes, and makes it unless it is dry.
func makeProposal(cmd *cobra.Command, t *service.Tables, p store.Proposal, r wire.Reason, dry bool) error {
	out := cmd.OutOrStdout()
	for _, d := range p.Differences {
		printDifference(out, d)
	}
	revision, made, err := t.Make(cmd.Context(), r, p, dry)
	if err != nil {
		return err
	}
	return printImported(out, store.Imported{Revision: revision, Rows: len(p.Edits), Made: made})
}

func rulesVerify(clock func() time.Time) *cobra.Command {
	var from sources
	var name string
	c := &cobra.Command{
		Use: "verify ROW --source TEXT --why TEXT", Short: "Say that you read a row in its source, so that it " +
			"can clear", Args: cobra.ExactArgs(1),
		Long: "Says that you read the figure of a row in its source today, or on --read-on. The row\n" +
			"then counts as verified by you, and can clear for a year. Where the source has another\n" +
			"figure, give it with --published, as printed, and --threshold, with a unit. Where it\n" +
			"still cannot clear, the answer says why.",
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
				return printVerified(cmd.OutOrStdout(), done)
			})
		},
	}
	from.flags(c.Flags())
	reasonFlags(c)
	tableFlag(c, &name)
	textFlags(c.Flags(),
		[3]string{"source", "source", "title of the text that you read"},
		[3]string{"section", "section", "where in it"},
		[3]string{"year", "source_year", "its year"},
		[3]string{"url", "source_url", "its address"},
		[3]string{"read-on", "read_on", "the day you read it, such as 2027-03-01 (default: today)"},
		[3]string{"published", "published", "the figure as the source prints it, where it differs"},
		[3]string{"threshold", "threshold", "the same, exact, with its unit"},
	)
	return c
}

func printVerified(w io.Writer, done service.Verified) error {
	printDifference(w, done.Difference)
	_, err := fmt.Fprintf(w, "revision %d\n", done.Made.Number)
	if len(done.CannotClear) > 0 {
		_, err = fmt.Fprintf(w, "it still cannot clear: %s\n", report.Printable(phrase.English().All(done.CannotClear)))
	}
	return err
}
