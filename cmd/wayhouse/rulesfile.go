package main

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/regs/finding"
	"wayhouse/regs/limit"
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

func rulesExport(clock func() time.Time) *cobra.Command {
	var from sources
	var revision int
	c := &cobra.Command{
		Use: "export", Short: "Print the limits as CSV, as import reads them", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return withTables(cmd, from, clock, func(s *store.Store) error {
				records, err := s.Records(cmd.Context(), revision)
				if err != nil {
					return err
				}
				return limit.WriteCSV(cmd.OutOrStdout(), records)
			})
		},
	}
	from.flags(c.Flags())
	c.Flags().IntVar(&revision, "tables-revision", 0, "the tables as they were at this revision (default: the newest)")
	return c
}

func rulesImport(clock func() time.Time) *cobra.Command {
	var from sources
	var r reason
	var dry, all bool
	c := &cobra.Command{
		Use: "import LIMITS.csv --why TEXT", Short: "Take the rows of a CSV file into the tables, all or none", Args: cobra.ExactArgs(1),
		Long: "Takes the rows of a CSV file into the tables as one revision, all or none. A row takes\n" +
			"the place of the one of its id. With --dry-run it says row by row what would change.",
		RunE: func(cmd *cobra.Command, args []string) error {
			if !dry {
				if err := r.check(); err != nil {
					return err
				}
			}
			records, err := readLimits(args[0])
			if err != nil {
				return err
			}
			return withTables(cmd, from, clock, func(s *store.Store) error {
				base, differences, edits, err := s.Propose(cmd.Context(), records, all)
				if err != nil {
					return err
				}
				return importRows(cmd, s, base, differences, edits, r, dry)
			})
		},
	}
	from.flags(c.Flags())
	r.flags(c)
	c.Flags().BoolVar(&dry, "dry-run", false, "say what would change and change nothing")
	c.Flags().BoolVar(&all, "remove-missing", false, "remove the rows that are not in the file")
	return c
}

func importRows(cmd *cobra.Command, s *store.Store, base int, differences []store.Difference, edits []store.Edit, r reason, dry bool) error {
	out := cmd.OutOrStdout()
	for _, d := range differences {
		printDifference(out, d)
	}
	switch {
	case len(edits) == 0:
		_, err := fmt.Fprintf(out, "nothing differs from revision %d\n", base)
		return err
	case dry:
		_, err := fmt.Fprintf(out, "%d rows would change; nothing was changed\n", len(edits))
		return err
	}
	made, err := s.Change(cmd.Context(), base, r.who, r.why, edits)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "revision %d: %d rows changed\n", made.Number, len(edits))
	return err
}

// readLimits reads a file of limits; an error names file, line and column.
func readLimits(path string) ([]limit.Record, error) {
	raw, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	_, records, err := limit.ReadCSV(raw)
	var cell *rows.CellError
	if errors.As(err, &cell) {
		return nil, &measure.FieldError{Field: fmt.Sprintf("%s line %d, column %s", path, cell.Line, cell.Column), Value: cell.Value, Problem: cell.Problem, Fix: cell.Fix}
	}
	if err != nil {
		return nil, &measure.FieldError{Field: path, Problem: err.Error(), Fix: "start from what wayhouse rules export prints"}
	}
	return records, nil
}

func rulesVerify(clock func() time.Time) *cobra.Command {
	var from sources
	var r reason
	var cells struct{ source, section, year, url, readOn, published, threshold string }
	c := &cobra.Command{
		Use: "verify ROW --source TEXT --why TEXT", Short: "Say that you read a row in its source, so that it can clear", Args: cobra.ExactArgs(1),
		Long: "Says that you read the figure of a row in its source today, or on --read-on. The row\n" +
			"then counts as verified by you, and can clear for a year. Where the source has another\n" +
			"figure, give it with --published, as printed, and --threshold, with a unit.",
		Example: "  wayhouse rules verify ca-qc-height-01 --store tables.db --source \"C-24.2, r. 31\" --section \"s. 12\" --why \"read it\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := r.check(); err != nil {
				return err
			}
			if strings.TrimSpace(cells.source) == "" {
				return &measure.FieldError{Field: "--source", Problem: "no source is given", Fix: "name the text that you read, with its title"}
			}
			if cells.readOn == "" {
				cells.readOn = clock().Format(time.DateOnly)
			}
			set := map[string]string{
				"status": string(finding.Verified), "source": cells.source, "section": cells.section, "source_year": cells.year, "source_url": cells.url, "read_on": cells.readOn,
			}
			for column, text := range map[string]string{"published": cells.published, "threshold": cells.threshold} {
				if text != "" {
					set[column] = text
				}
			}
			return withTables(cmd, from, clock, func(s *store.Store) error { return verifyRow(cmd, s, args[0], set, r) })
		},
	}
	from.flags(c.Flags())
	r.flags(c)
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

func verifyRow(cmd *cobra.Command, s *store.Store, id string, set map[string]string, r reason) error {
	history, err := s.History(cmd.Context())
	if err != nil {
		return err
	}
	base := history[0].Number
	records, err := s.Records(cmd.Context(), base)
	if err != nil {
		return err
	}
	i := slices.IndexFunc(records, func(r limit.Record) bool { return r[0] == id })
	if i < 0 {
		return &measure.FieldError{Field: "ROW", Value: id, Problem: "is not in the table", Fix: "give an id that wayhouse rules export lists"}
	}
	before := records[i]
	after := slices.Clone(before)
	for k, column := range limit.Columns() {
		if text, ok := set[column]; ok {
			after[k] = text
		}
	}
	made, err := s.Change(cmd.Context(), base, r.who, r.why, []store.Edit{{ID: id, Record: after}})
	if err != nil {
		return err
	}
	printDifference(cmd.OutOrStdout(), store.Difference{ID: id, Before: before, After: after})
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "revision %d\n", made.Number)
	return err
}
