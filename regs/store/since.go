package store

import (
	"cmp"
	"context"
	"database/sql"
	"fmt"
	"slices"

	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// UnnamedError says that a file would change rows and does not name the revision
// that it was exported from, so that nobody can report whether it undoes a change
// that was made since.
type UnnamedError struct {
	Table, ID string // the first such row
	Newest    int
}

func (e *UnnamedError) Error() string { return e.Remark().String() }

// Remark names the row and the newest revision.
func (e *UnnamedError) Remark() say.Remark {
	return say.That("error.unnamed", "table", e.Table, "row", e.ID, "newest", e.Newest)
}

// name notes the revision that a line of the file names. A row that was added names
// none; lines that name several are refused: what was changed in the file could not be
// told from what was changed since.
func (in *importing) name(line, revision int) error {
	switch {
	case revision == 0 || in.q.Since != 0 || revision == in.named:
		return nil
	case in.named == 0 && !in.settled:
		in.named = revision
		return nil
	}
	problem := say.That("error.other_revision")
	if in.named == 0 {
		problem = say.That("error.late_revision", "n", changeAtOnce)
	}
	return &rows.CellError{
		Line: line, Column: rows.RevisionColumn, Value: fmt.Sprint(revision),
		Problem: problem,
		Fix:     say.That("fix.import_what_was_exported"),
	}
}

// settle says with which revision the file is compared: with that of the import, or
// that which its rows name. A file of no revision, or of one that these tables do not
// have yet (it is of another installation), is compared with the newest and may only
// add rows.
func (in *importing) settle() {
	if in.settled {
		return
	}
	in.settled = true
	named := cmp.Or(in.q.Since, in.named, in.q.Expect)
	if in.unnamed = named == 0 || named > in.newest; !in.unnamed {
		in.since = named
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
