package store

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"
	"time"

	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Revision is one change of the tables. No revision is ever altered; what it
// says is found by comparing it with another.
type Revision struct {
	Number int
	MadeAt time.Time
	Who    string
	Why    string
}

// NoRevisionError says that the tables never had a revision of the number.
type NoRevisionError struct{ Number, Newest int }

func (e *NoRevisionError) Error() string { return e.Remark().String() }

// Remark names both numbers.
func (e *NoRevisionError) Remark() say.Remark {
	return say.That("error.no_revision", "number", e.Number, "newest", e.Newest)
}

// NoRowError says that a table has no row of the id.
type NoRowError struct{ Table, ID string }

func (e *NoRowError) Error() string { return e.Remark().String() }

// Remark names the row.
func (e *NoRowError) Remark() say.Remark {
	return say.That("problem.no_row", "table", e.Table, "row", e.ID)
}

// revision checks a number, or returns the newest.
func (s *Store) revision(ctx context.Context, tx *sql.Tx, number int) (int, error) {
	var last int
	if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(number), 0) FROM revision`).Scan(&last); err != nil {
		return 0, err
	}
	switch {
	case number == newest:
		return last, nil
	case number < 0 || number > last:
		return 0, &NoRevisionError{number, last}
	default:
		return number, nil
	}
}

// History lists the revisions, the newest first.
func (s *Store) History(ctx context.Context) ([]Revision, error) {
	var out []Revision
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		q, err := tx.QueryContext(ctx,
			`SELECT number, made_at, who, why FROM revision WHERE number IS NOT NULL ORDER BY number DESC`)
		if err != nil {
			return err
		}
		defer q.Close()
		for q.Next() {
			var r Revision
			var at string
			if err := q.Scan(&r.Number, &at, &r.Who, &r.Why); err != nil {
				return err
			}
			if r.MadeAt, err = time.Parse(time.RFC3339, at); err != nil {
				return fmt.Errorf("revision %d: %w", r.Number, err)
			}
			out = append(out, r)
		}
		return q.Err()
	})
	if err != nil {
		return nil, fmt.Errorf("store %s: history: %w", s.name, err)
	}
	return out, nil
}

// Kept is a row as the store keeps it.
type Kept struct {
	Table    string
	Revision int // that wrote it
	Record   rows.Record
}

// ID returns the id of the row.
func (k Kept) ID() string { return k.Record[0] }

// Records lists the rows of a table at a revision, by id; 0 is the newest.
func (s *Store) Records(ctx context.Context, table string, revision int) ([]Kept, error) {
	if _, err := TableNamed(table); err != nil {
		return nil, err
	}
	var out []Kept
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		number, err := s.revision(ctx, tx, revision)
		if err != nil {
			return err
		}
		entries, err := entriesAt(ctx, tx, table, number)
		for _, e := range entries {
			out = append(out, Kept{e.table, e.revision, e.record})
		}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("store %s: rows: %w", s.name, err)
	}
	return out, nil
}

// Page lists up to limit rows of a table that keep takes, at a revision, by id,
// after one of them; number is the revision that was read, and more reports whether
// others follow. It reads no more of the table than it must.
func (s *Store) Page(ctx context.Context, table string, revision int, after string, limit int,
	keep func(rows.Record) bool) (page []Kept, number int, more bool, err error) {
	err = s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if number, err = s.revision(ctx, tx, revision); err != nil {
			return err
		}
		return eachEntry(ctx, tx, upTo+`$1 AND in_table = $2 AND id > $3`, []any{number, table, after}, func(e entry) bool {
			if e.removed || !keep(e.record) {
				return true
			}
			if more = len(page) == limit; more {
				return false
			}
			page = append(page, Kept{e.table, e.revision, e.record})
			return true
		})
	})
	if err != nil {
		return nil, 0, false, fmt.Errorf("store %s: rows: %w", s.name, err)
	}
	return page, number, more, nil
}

// Row returns one row as it is. The error is a [*NoRowError] where there is
// none.
func (s *Store) Row(ctx context.Context, table, id string) (Kept, error) {
	var out Kept
	if _, err := TableNamed(table); err != nil {
		return out, err
	}
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		found, err := lastOf(ctx, tx, latest, []rowKey{{table, id}})
		if err != nil {
			return err
		}
		if len(found) == 0 || found[0].removed {
			return &NoRowError{table, id}
		}
		out = Kept{table, found[0].revision, found[0].record}
		return nil
	})
	if err != nil {
		return out, fmt.Errorf("store %s: %w", s.name, err)
	}
	return out, nil
}

// Difference is how one row differs between two revisions. Before is nil for a
// row that was added, After for one that was removed.
type Difference struct {
	Table, ID     string
	Before, After rows.Record
}

// Columns lists the columns in which the two differ.
func (d Difference) Columns() []string {
	var out []string
	for i, name := range columnsByTable()[d.Table] {
		if d.Before == nil || d.After == nil || d.Before[i] != d.After[i] {
			out = append(out, name)
		}
	}
	return out
}

// Compare lists what differs between two revisions, by table and id; 0 is the
// newest.
func (s *Store) Compare(ctx context.Context, before, after int) ([]Difference, error) {
	var out []Difference
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		was, err := s.revision(ctx, tx, before)
		if err != nil {
			return err
		}
		is, err := s.revision(ctx, tx, after)
		if err != nil {
			return err
		}
		earlier, later, err := between(ctx, tx, min(was, is), max(was, is))
		if err != nil {
			return err
		}
		if was < is {
			out = differences(earlier, later)
		} else {
			out = differences(later, earlier)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("store %s: compare: %w", s.name, err)
	}
	return out, nil
}

// between reads the rows that some revision after the first and up to the last
// wrote, as they were at the first and are at the last: no others can differ.
func between(ctx context.Context, tx *sql.Tx, first, last int) (earlier, later []entry, err error) {
	later, err = readEntries(ctx, tx, `revision > $1 AND revision <= $2`, first, last)
	if err != nil {
		return nil, nil, err
	}
	earlier, err = readEntries(ctx, tx, upTo+`$1 AND (in_table, id) IN (
		SELECT in_table, id FROM kept WHERE revision > $1 AND revision <= $2)`, first, last)
	return earlier, later, err
}

// differences tells two sets of entries apart. A row that is in one alone was
// added or removed.
func differences(was, is []entry) []Difference {
	before := map[rowKey]rows.Record{}
	for _, e := range was {
		if !e.removed {
			before[rowKey{e.table, e.id}] = e.record
		}
	}
	var out []Difference
	for _, e := range is {
		k := rowKey{e.table, e.id}
		old, had := before[k]
		delete(before, k)
		switch {
		case e.removed && had:
			out = append(out, Difference{e.table, e.id, old, nil})
		case !e.removed && !slices.Equal(old, e.record):
			out = append(out, Difference{e.table, e.id, old, e.record})
		}
	}
	for k, old := range before {
		out = append(out, Difference{k.table, k.id, old, nil})
	}
	slices.SortFunc(out, func(a, b Difference) int {
		return strings.Compare(a.Table+"\x00"+a.ID, b.Table+"\x00"+b.ID)
	})
	return out
}
