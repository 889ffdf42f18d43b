package export

import (
	"context"
	"io"
	"math"

	"wayhouse/api/report"
	"wayhouse/regs/rows"
	"wayhouse/regs/store"
)

// Table is a table as it was at a revision.
type Table struct {
	Of   store.Table
	Rows rows.Sheet
}

// FileName is under which name a browser keeps it.
func (t Table) FileName() string { return t.Of.TableName() + ".csv" }

// TableAt reads a table at a revision, 0 for the newest, which it then names.
func TableAt(ctx context.Context, s *store.Store, t store.Table, revision int) (Table, error) {
	kept, number, _, err := s.Page(ctx, t.TableName(), revision, "", math.MaxInt, func(rows.Record) bool { return true })
	out := Table{t, rows.Sheet{Revision: number}}
	for _, k := range kept {
		out.Rows.Records = append(out.Rows.Records, k.Record)
	}
	return out, err
}

// asCSV is for spreadsheets (RFC 4180), and for the import of a table.
func asCSV() Format {
	return Format{"csv", "text/csv; charset=utf-8", []writer{
		of(
			tripSheet,
		), of(waySheet), of(quoteSheet), of(stepSheet), of(checkSheet), of(rigSheet), of(coverSheet), of(jurisdictionSheet),
		of(placeSheet), of(partSheet), of(revisionSheet), of(savedSheet), of(seasonSheet),
		of(func(w io.Writer, v report.View, t Table) error { return t.Of.WriteSheet(w, t.Rows) }),
	}}
}
