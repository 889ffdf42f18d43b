package store

import (
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"slices"

	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Import is a file of rows that take the place of those of their ids.
type Import struct {
	Table    string
	CSV      io.Reader
	Who, Why string
	All      bool // rows that are not in the file are removed
	Dry      bool // nothing is changed
	Expect   int  // the revision that the tables must have; 0 for any
	// Since is the revision that the file was made from, 0 for that which its rows
	// name: it is compared with that one, so that it takes back nothing that came since.
	// A file that names none may only add rows ([*UnnamedError]).
	Since int
}

// FileError says what is wrong with the file of an import.
type FileError struct{ err error }

func (e *FileError) Error() string { return e.err.Error() }
func (e *FileError) Unwrap() error { return e.err }

// Imported is what an import changed, or would change.
type Imported struct {
	Revision Revision // that was made; of a dry one, and where nothing differs, the number it was compared with
	Made     bool
	Rows     int // that differ
}

// ExpectError says that the tables are at another revision than expected.
type ExpectError struct{ Expected, Is int }

func (e *ExpectError) Error() string { return e.Remark().String() }

// Remark names both revisions.
func (e *ExpectError) Remark() say.Remark {
	return say.That("problem.expected", "is", e.Is, "expected", e.Expected)
}

// Import takes the rows of a CSV as one revision, all or none, and tells each
// difference as it finds it. It holds a part of the file at a time, and the ids of
// all rows; other writers wait for a part at the most. Errors of the file are as
// [rows.Table] has them; a row that somebody else changes meanwhile is a
// [*ConflictError].
func (s *Store) Import(ctx context.Context, q Import, tell func(Difference)) (out Imported, err error) {
	t, err := TableNamed(q.Table)
	if err != nil {
		return out, err
	}
	if !q.Dry {
		if err := reasoned(q.Who, q.Why); err != nil {
			return out, err
		}
	}
	in := &importing{s: s, ctx: ctx, q: q, tell: tell, ids: map[string]bool{}}
	defer func() {
		if in.batch != nil {
			err = errors.Join(err, in.batch.close(ctx))
		}
		if err != nil {
			err = fmt.Errorf("store %s: import: %w", s.name, err)
		}
	}()
	err = s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		last, err := s.revision(ctx, tx, newest)
		if err != nil {
			return err
		}
		if q.Expect != 0 && q.Expect != last {
			return &ExpectError{q.Expect, last}
		}
		in.newest, in.since = last, last
		return nil
	})
	if err != nil {
		return out, err
	}
	if err := t.Each(q.CSV, in.row); err != nil {
		return out, cmp.Or(in.failed, error(&FileError{err}))
	}
	if err := in.flush(); err != nil {
		return out, err
	}
	if q.All {
		if err := in.removeOthers(); err != nil {
			return out, err
		}
	}
	return in.finish()
}

// importing is an import under way.
type importing struct {
	s    *Store
	ctx  context.Context // of the one call that it lives in
	q    Import
	tell func(Difference)

	newest  int // revision of the tables
	since   int // that with which the file is compared
	named   int // by its rows; 0: by none yet
	settled bool
	unnamed bool
	ids     map[string]bool
	part    []rows.Record
	batch   *batch // from the first difference on
	out     Imported

	failed error // what stopped it in the middle of the file
}

// row takes one row of the file.
func (in *importing) row(line, revision int, r rows.Record) error {
	if err := in.name(line, revision); err != nil {
		return err
	}
	if in.ids[r[0]] {
		return &rows.CellError{
			Line: line, Column: "id", Value: r[0], Problem: say.That("error.stands_twice"),
			Fix: say.That("fix.give_each_row_an"),
		}
	}
	in.ids[r[0]] = true
	if in.part = append(in.part, r); len(in.part) == changeAtOnce {
		in.failed = in.flush()
	}
	return in.failed
}

// flush compares the rows that wait with the tables, and writes those that differ.
func (in *importing) flush() error {
	in.settle()
	var keys []rowKey
	var is []entry
	for _, r := range in.part {
		keys = append(keys, rowKey{in.q.Table, r[0]})
		is = append(is, entry{table: in.q.Table, id: r[0], record: r})
	}
	in.part = in.part[:0]
	return in.compared(keys, is)
}

// compared writes what differs of some rows: those of the file, none for rows that
// it does not have.
func (in *importing) compared(keys []rowKey, is []entry) error {
	var found []Difference
	err := in.s.read(in.ctx, func(ctx context.Context, tx *sql.Tx) error {
		was, err := lastOf(ctx, tx, in.since, keys)
		if err != nil {
			return err
		}
		found, err = in.own(ctx, tx, differences(was, is))
		return err
	})
	if err != nil {
		return err
	}
	return in.write(found)
}

// removeOthers removes the rows that the file does not have. Their ids are read in
// one go and the rows in parts: a page after another would sort the table each time.
func (in *importing) removeOthers() error {
	var gone []rowKey
	err := in.s.read(in.ctx, func(ctx context.Context, tx *sql.Tx) error {
		return eachEntry(ctx, tx, upTo+`$1 AND in_table = $2`, []any{in.since, in.q.Table}, func(e entry) bool {
			if !e.removed && !in.ids[e.id] {
				gone = append(gone, rowKey{e.table, e.id})
			}
			return true
		})
	})
	if err != nil {
		return err
	}
	for part := range slices.Chunk(gone, changeAtOnce) {
		if err := in.compared(part, nil); err != nil {
			return err
		}
	}
	return nil
}

// write tells differences and adds them to the batch.
func (in *importing) write(found []Difference) error {
	var entries []entry
	for _, d := range found {
		e := entry{table: d.Table, id: d.ID, record: d.After}
		if d.After == nil {
			e.removed, e.record = true, d.Before
		}
		in.out.Rows++
		in.tell(d)
		entries = append(entries, e)
	}
	if in.q.Dry || len(entries) == 0 {
		return nil
	}
	if in.batch == nil {
		var err error
		if in.batch, err = in.s.begin(in.ctx, in.q.Who, in.q.Why, in.newest); err != nil {
			return err
		}
	}
	return in.batch.add(in.ctx, entries)
}

func (in *importing) finish() (Imported, error) {
	in.out.Revision.Number = in.newest
	if in.batch == nil {
		return in.out, nil
	}
	r, err := in.batch.commit(in.ctx)
	if err == nil {
		in.out.Revision, in.out.Made = r, true
	}
	return in.out, err
}
