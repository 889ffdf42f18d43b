package main

import (
	"math"
	"slices"
	"strings"
	"time"
	"wayhouse/regs/rows"

	"github.com/spf13/cobra"

	"wayhouse/api/service"
	"wayhouse/api/wire"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
	"wayhouse/regs/store"
)

func rulesList(clock func() time.Time) *cobra.Command {
	var from sources
	var name string
	var only map[string]string
	form := formOf[wire.RowList]()
	c := &cobra.Command{
		Use: "list", Args: noArguments,
		Example: "  wayhouse rules list --in CA-ON,CA-QC --only quantity=height",
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := form.choose(); err != nil {
				return err
			}
			table, err := tableOf(name)
			if err != nil {
				return err
			}
			for column := range only {
				if !slices.Contains(table.ColumnNames(), column) {
					return &measure.FieldError{
						Field: "--only", Value: column, Problem: say.That("error.no_column", "table", name),
						Fix: say.That("fix.one_of", "words", table.ColumnNames()),
					}
				}
			}
			known, tables, err := load(cmd.Context(), from, clock, rulesAlone)
			if err != nil {
				return err
			}
			defer tables.Close()
			in, err := codesOf(cmd, known)
			if err != nil {
				return err
			}
			all := 0
			kept, revision, _, err := tables.Page(cmd.Context(), name, 0, "", math.MaxInt, func(r rows.Record) bool {
				all++
				return listed(table, r, in, only)
			})
			if err != nil {
				return err
			}
			out := wire.NewRowList(revision, kept)
			out.All = all
			return form.write(cmd.OutOrStdout(), out)
		},
	}
	from.flags(c.Flags())
	tableFlag(c, &name)
	inFlag(c.Flags())
	c.Flags().StringToStringVar(&only, "only", nil, "")
	form.ofList(c.Flags())
	return c
}

// codesOf are the codes of the jurisdictions that --in names, none where it is not given.
func codesOf(cmd *cobra.Command, known *service.Service) ([]string, error) {
	in, err := cmd.Flags().GetStringSlice("in")
	if err != nil || len(in) == 0 {
		return nil, err
	}
	codes, err := known.Codes(in)
	return codes, flagsOf(cmd).named(err)
}

// listed reports whether a row lies in the jurisdictions and has the values that
// were asked for.
func listed(table store.Table, r rows.Record, in []string, only map[string]string) bool {
	cell := func(column string) string {
		if i := slices.Index(table.ColumnNames(), column); i >= 0 {
			return r[i]
		}
		return ""
	}
	for column, value := range only {
		if cell(column) != value {
			return false
		}
	}
	if len(in) == 0 {
		return true
	}
	code := cell("jurisdiction")
	return slices.ContainsFunc(in, func(c string) bool { return code == c || strings.HasPrefix(code, c+"/") })
}
