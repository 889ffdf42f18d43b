package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/export"
	"wayhouse/api/phrase"
	"wayhouse/api/report"
	"wayhouse/regs/measure"
	"wayhouse/regs/rows"
	"wayhouse/regs/store"
)

// reason are the flags of whoever changes the tables.
type reason struct{ who, why string }

func (r *reason) flags(c *cobra.Command) {
	c.Flags().StringVar(&r.why, "why", "", "the reason, which the history keeps")
	c.Flags().StringVar(&r.who, "who", userName(), "who makes the change")
}

func (r reason) check() error {
	if strings.TrimSpace(r.why) == "" {
		return &measure.FieldError{Field: "--why", Problem: "no reason is given", Fix: "say in a few words why; the history keeps it"}
	}
	return nil
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
			return withTables(cmd, from, clock, func(s *store.Store) error {
				out, err := export.TableAt(cmd.Context(), s, table, revision)
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
	var r reason
	var dry, all bool
	var name string
	var made int
	c := &cobra.Command{
		Use: "import FILE.csv --why TEXT", Short: "Take the rows of a CSV file into a table, all or none", Args: cobra.ExactArgs(1),
		Long: "Takes the rows of a CSV file into a table as one revision, all or none. A row takes\n" +
			"the place of the one of its id. With --dry-run it says row by row what would change.\n" +
			"What export prints names its revision: rows that the file leaves as they were then stay\n" +
			"as they are now, and one that both changed is a conflict. Another file says with\n" +
			"--from-revision for which revision it was made; without, it may add rows only.\n" +
			"Commas, semicolons or tabs part cells; UTF-8 and UTF-16 are read.",
		RunE: func(cmd *cobra.Command, args []string) error {
			if !dry {
				if err := r.check(); err != nil {
					return err
				}
			}
			table, err := store.TableNamed(name)
			if err != nil {
				return err
			}
			file, err := os.Open(args[0])
			if err != nil {
				return err
			}
			defer file.Close()
			return withTables(cmd, from, clock, func(s *store.Store) error {
				q := store.Import{Table: name, CSV: file, Who: r.who, Why: r.why, All: all, Dry: dry, Since: made}
				done, err := importTold(cmd, s, q)
				if err != nil {
					return inTable(table, args[0], err)
				}
				return printImported(cmd.OutOrStdout(), done)
			})
		},
	}
	from.flags(c.Flags())
	r.flags(c)
	tableFlag(c, &name)
	c.Flags().BoolVar(&dry, "dry-run", false, "say what would change and change nothing")
	c.Flags().BoolVar(&all, "remove-missing", false, "remove the rows that are not in the file")
	c.Flags().IntVar(&made, "from-revision", 0, "the revision of the tables for which the file was made (default: what the file says)")
	return c
}

// importTold imports and prints what differs once all of it is known to be good,
// from a file beside: a large import is not held in memory.
func importTold(cmd *cobra.Command, s *store.Store, q store.Import) (done store.Imported, err error) {
	kept, err := os.CreateTemp("", "wayhouse-import-*")
	if err != nil {
		return done, err
	}
	defer os.Remove(kept.Name())
	defer kept.Close()
	told := bufio.NewWriter(kept)
	if done, err = s.Import(cmd.Context(), q, func(d store.Difference) { printDifference(told, d) }); err != nil {
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
func makeProposal(cmd *cobra.Command, s *store.Store, p store.Proposal, r reason, dry bool) error {
	out := cmd.OutOrStdout()
	for _, d := range p.Differences {
		printDifference(out, d)
	}
	switch {
	case len(p.Edits) == 0:
		_, err := fmt.Fprintf(out, "nothing differs from revision %d\n", p.Revision)
		return err
	case dry:
		_, err := fmt.Fprintf(out, "%d rows would change; nothing was changed\n", len(p.Edits))
		return err
	}
	made, err := s.Change(cmd.Context(), r.who, r.why, p.Edits)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "revision %d: %d rows changed\n", made.Number, len(p.Edits))
	return err
}

// inTable names file, line and column of what is wrong with the file of a table.
func inTable(table store.Table, path string, err error) error {
	var file *store.FileError
	var cell *rows.CellError
	var unnamed *store.UnnamedError
	switch {
	case errors.As(err, &unnamed):
		return &measure.FieldError{Field: "--from-revision", Problem: unnamed.Error(), Fix: fmt.Sprintf("look at what would change with --dry-run, then give --from-revision %d", unnamed.Newest)}
	case errors.As(err, &cell):
		return &measure.FieldError{Field: fmt.Sprintf("%s line %d, column %s", path, cell.Line, cell.Column), Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix}
	case errors.As(err, &file):
		return &measure.FieldError{Field: path, Problem: file.Error(), Fix: "start from what wayhouse rules export --table " + table.TableName() + " prints"}
	default:
		return err
	}
}

func rulesVerify(clock func() time.Time) *cobra.Command {
	var from sources
	var r reason
	var name string
	var cells struct{ source, section, year, url, readOn, published, threshold string }
	c := &cobra.Command{
		Use: "verify ROW --source TEXT --why TEXT", Short: "Say that you read a row in its source, so that it can clear", Args: cobra.ExactArgs(1),
		Long: "Says that you read the figure of a row in its source today, or on --read-on. The row\n" +
			"then counts as verified by you, and can clear for a year. Where the source has another\n" +
			"figure, give it with --published, as printed, and --threshold, with a unit. Where it\n" +
			"still cannot clear, the answer says why.",
		Example: "  wayhouse rules verify ca-qc-height-01 --store tables.db --source \"C-24.2, r. 31\" --section \"s. 12\" --why \"read it\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := r.check(); err != nil {
				return err
			}
			if strings.TrimSpace(cells.source) == "" {
				return &measure.FieldError{Field: "--source", Problem: "no source is given", Fix: "name the text that you read, with its title"}
			}
			set := map[string]string{
				"source": cells.source, "section": cells.section, "source_year": cells.year, "source_url": cells.url, "read_on": cells.readOn,
				"published": cells.published, "threshold": cells.threshold,
			}
			return withTables(cmd, from, clock, func(s *store.Store) error { return verifyRow(cmd, s, name, args[0], set, r, clock()) })
		},
	}
	from.flags(c.Flags())
	r.flags(c)
	tableFlag(c, &name)
	f := c.Flags()
	f.StringVar(&cells.source, "source", "", "title of the text that you read")
	f.StringVar(&cells.section, "section", "", "where in it")
	f.StringVar(&cells.year, "year", "", "its year")
	f.StringVar(&cells.url, "url", "", "its address")
	f.StringVar(&cells.readOn, "read-on", "", "the day you read it, such as 2027-03-01 (default: today)")
	f.StringVar(&cells.published, "published", "", "the figure as the source prints it, where it differs")
	f.StringVar(&cells.threshold, "threshold", "", "the same, exact, with its unit")
	return c
}

func verifyRow(cmd *cobra.Command, s *store.Store, table, id string, set map[string]string, r reason, now time.Time) error {
	kept, err := s.Row(cmd.Context(), table, id)
	if err != nil {
		return err
	}
	edit, err := s.Verification(cmd.Context(), table, id, set)
	if err != nil {
		return err
	}
	made, err := s.Change(cmd.Context(), r.who, r.why, []store.Edit{edit})
	if err != nil {
		return err
	}
	printDifference(cmd.OutOrStdout(), store.Difference{Table: table, ID: id, Before: kept.Record, After: edit.Record})
	fmt.Fprintf(cmd.OutOrStdout(), "revision %d\n", made.Number)
	tables, err := s.Snapshot(cmd.Context())
	if err != nil {
		return err
	}
	if why := tables.Obstacles(table, id, now); len(why) > 0 {
		fmt.Fprintf(cmd.OutOrStdout(), "it still cannot clear: %s\n", report.Printable(phrase.English().All(why)))
	}
	return nil
}
