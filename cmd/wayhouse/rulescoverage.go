package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wayhouse/api/report"
	"wayhouse/api/wire"
	"wayhouse/regs"
	"wayhouse/regs/area"
	"wayhouse/regs/limit"
)

func rulesCoverage(clock func() time.Time) *cobra.Command {
	var from sources
	var in []string
	var asJSON bool
	c := &cobra.Command{
		Use: "coverage", Short: "Say how well the tables know each quantity in each jurisdiction", Args: cobra.NoArgs,
		Long: "Says for each jurisdiction which quantities have a row that you verified, one that was\n" +
			"published, only stale ones, only unverified ones, or none, and what stands in the way of\n" +
			"the first two where they cannot clear. Without --store or --database it looks at the\n" +
			"shipped rows.",
		RunE: func(cmd *cobra.Command, _ []string) error {
			tables, err := openStore(cmd.Context(), from, clock)
			if err != nil {
				return err
			}
			defer tables.Close()
			snapshot, err := tables.Snapshot(cmd.Context())
			if err != nil {
				return err
			}
			areas, err := shipped("areas/jurisdictions.geojson", area.Read)
			if err != nil {
				return err
			}
			codes, err := wire.Codes(areas, snapshot, in)
			if err != nil {
				return err
			}
			if asJSON {
				return coverageJSON(cmd.OutOrStdout(), snapshot, codes, clock())
			}
			return coverageText(cmd.OutOrStdout(), snapshot, codes, clock())
		},
	}
	from.flags(c.Flags())
	c.Flags().StringSliceVar(&in, "in", nil, "jurisdictions, such as CA-ON,CA-QC (default: all)")
	c.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return c
}

func coverageText(w io.Writer, t *regs.Tables, codes []string, at time.Time) error {
	fmt.Fprintf(w, "tables revision %s, on %s\n", t.Revision, at.Format(time.DateOnly))
	for _, code := range codes {
		cover := t.Coverage(code, at)
		fmt.Fprintln(w, code)
		for _, c := range regs.Covers() {
			var names []string
			for _, q := range limit.Quantities() {
				if cover[q] == c {
					names = append(names, q.Words())
				}
			}
			if len(names) > 0 {
				fmt.Fprintf(w, "  %-15s %s\n", c, strings.Join(names, ", "))
			}
		}
		blockedText(w, cover, t.Blocked(code, at))
	}
	_, err := fmt.Fprintln(w, "No row is not no rule. The permit office decides.")
	return err
}

// blockedText says of quantities that are known well which cannot clear all the
// same, and why; that stale and unverified rows cannot is said with them.
func blockedText(w io.Writer, cover map[limit.Quantity]regs.Cover, blocked map[limit.Quantity]regs.Blocked) {
	for _, q := range limit.Quantities() {
		b, is := blocked[q]
		if is && (cover[q] == regs.CoverVerified || cover[q] == regs.CoverPublished) {
			fmt.Fprintf(w, "  cannot clear    %s, %s (%s): %s\n", q.Words(), report.Printable(b.Published), report.Printable(b.Row), report.Printable(strings.Join(b.Why, "; ")))
		}
	}
}

func coverageJSON(w io.Writer, t *regs.Tables, codes []string, at time.Time) error {
	out := map[string]map[limit.Quantity]regs.Cover{}
	blocked := map[string]map[limit.Quantity]regs.Blocked{}
	for _, code := range codes {
		out[code], blocked[code] = t.Coverage(code, at), t.Blocked(code, at)
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(map[string]any{"tables_revision": t.Revision, "day": at.Format(time.DateOnly), "coverage": out, "cannot_clear": blocked})
}
