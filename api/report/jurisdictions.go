package report

import (
	"fmt"
	"io"
	"text/tabwriter"

	"wayhouse/api/wire"
	"wayhouse/regs/say"
)

// Jurisdictions writes a line for each: its code, its names, how many rows of limits
// the tables have, its time zone.
func Jurisdictions(w io.Writer, v View, list wire.Jurisdictions) error {
	columns := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, j := range list.Jurisdictions {
		names := j.Name
		if j.French != "" {
			names += " / " + j.French
		}
		rows := v.In.Say(say.That("list.rows", "rows", j.Rows))
		fmt.Fprintf(columns, "%s\t%s\t%s\t%s\n", j.Code, names, rows, j.TimeZone)
	}
	if err := columns.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "%s\n%s\n", v.In.Say(say.That("list.no_row")), list.Attribution)
	return err
}
