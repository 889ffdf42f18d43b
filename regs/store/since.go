package store

import (
	"cmp"
	"context"
	"database/sql"
	"fmt"
	"slices"

	"wayhouse/regs/rows"
)

// UnnamedError says that a file would change rows and does not name the revision
// that it was exported from, so that nobody can tell whether it undoes a change
// that was made since.
type UnnamedError struct {
	Table, ID string // the first such row
	Newest    int
}

func (e *UnnamedError) Error() string {
	return fmt.Sprintf("%s: row %q would be changed, and the file does not say for which revision of these tables it was made; the newest is %d", e.Table, e.ID, e.Newest)
}

// compareWith settles with which revision a file is compared, by its first row or
// by what the import says. A file of no revision, or of one that these tables do
// not have yet (it is of another installation), is compared with the newest and may
// only add rows.
func (in *importing) compareWith(named int) {
	in.named = named
	named = cmp.Or(in.q.Since, named, in.q.Expect)
	if in.unnamed = named == 0 || named > in.newest; !in.unnamed {
		in.since = named
	}
}

// sameRevision refuses a file whose lines name several revisions: what was changed in
// it cannot be told from what was changed since. A row that was added names none.
func (in *importing) sameRevision(line, named int) error {
	if in.q.Since != 0 || named == 0 || named == in.named {
		return nil
	}
	return &rows.CellError{
		Line: line, Column: rows.RevisionColumn, Value: fmt.Sprint(named),
		Problem: fmt.Sprintf("is another revision than that of the first row, %d", in.named), Fix: "import what was exported at one time by itself, with a row of the export first",
	}
}

// own leaves out what is a change of the tables alone. A row that both the file and
// the tables changed since, each in its own way, is a [*ConflictError].
func (in *importing) own(ctx context.Context, tx *sql.Tx, found []Difference) ([]Difference, error) {
	for _, d := range found {
		if in.unnamed && !in.q.Dry && d.Before != nil {
			return nil, &UnnamedError{d.Table, d.ID, in.newest}
		}
	}
	if in.since == in.newest || len(found) == 0 {
		return found, nil
	}
	var keys []rowKey
	for _, d := range found {
		keys = append(keys, rowKey{d.Table, d.ID})
	}
	entries, err := lastOf(ctx, tx, in.newest, keys)
	if err != nil {
		return nil, err
	}
	now := map[rowKey]entry{}
	for _, e := range entries {
		now[rowKey{e.table, e.id}] = e
	}
	var out []Difference
	for _, d := range found {
		e := now[rowKey{d.Table, d.ID}]
		var is rows.Record
		if !e.removed {
			is = e.record
		}
		switch {
		case slices.Equal(is, d.After): // somebody made the same change
		case !slices.Equal(is, d.Before):
			return nil, &ConflictError{d.Table, d.ID, in.since, e.revision}
		default:
			out = append(out, d)
		}
	}
	return out, nil
}
