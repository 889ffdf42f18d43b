package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"github.com/jackc/pgx/v5/pgconn"

	"wayhouse/regs/limit"
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

func (e *NoRevisionError) Error() string {
	return fmt.Sprintf("there is no revision %d of the tables; the newest is %d", e.Number, e.Newest)
}

// ConflictError says that somebody else changed the tables first.
type ConflictError struct{ Base, Newest int }

func (e *ConflictError) Error() string {
	return fmt.Sprintf("the tables are at revision %d by now, the change was made for revision %d; look at what changed and make it again", e.Newest, e.Base)
}

// EditError says what is wrong with one edit of a change.
type EditError struct {
	ID      string
	Problem string
}

func (e *EditError) Error() string {
	if e.ID == "" {
		return e.Problem
	}
	return fmt.Sprintf("row %q: %s", e.ID, e.Problem)
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
	q, err := s.db.QueryContext(ctx, `SELECT number, made_at, who, why FROM revision ORDER BY number DESC`)
	if err != nil {
		return nil, fmt.Errorf("store %s: history: %w", s.name, err)
	}
	defer q.Close()
	var out []Revision
	for q.Next() {
		var r Revision
		var at string
		if err := q.Scan(&r.Number, &at, &r.Who, &r.Why); err != nil {
			return nil, err
		}
		if r.MadeAt, err = time.Parse(time.RFC3339, at); err != nil {
			return nil, fmt.Errorf("store %s: revision %d: %w", s.name, r.Number, err)
		}
		out = append(out, r)
	}
	return out, q.Err()
}

// Difference is how one row differs between two revisions. Before is nil for a
// row that was added, After for one that was removed.
type Difference struct {
	ID            string
	Before, After limit.Record
}

// Columns lists the columns in which the two differ.
func (d Difference) Columns() []string {
	var out []string
	for i, name := range limit.Columns() {
		if d.Before == nil || d.After == nil || d.Before[i] != d.After[i] {
			out = append(out, name)
		}
	}
	return out
}

// Compare lists what differs between two revisions, by id; 0 is the newest.
func (s *Store) Compare(ctx context.Context, before, after int) ([]Difference, error) {
	var out []Difference
	err := s.inTx(ctx, func(tx *sql.Tx) error {
		was, err := s.recordsAt(ctx, tx, before)
		if err != nil {
			return err
		}
		is, err := s.recordsAt(ctx, tx, after)
		if err != nil {
			return err
		}
		out = differences(was, is)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("store %s: compare: %w", s.name, err)
	}
	return out, nil
}

func (s *Store) recordsAt(ctx context.Context, tx *sql.Tx, revision int) (map[string]limit.Record, error) {
	number, err := s.revision(ctx, tx, revision)
	if err != nil {
		return nil, err
	}
	records, err := readRecords(ctx, tx, number)
	if err != nil {
		return nil, err
	}
	out := map[string]limit.Record{}
	for _, r := range records {
		out[r[0]] = r
	}
	return out, nil
}

func differences(was, is map[string]limit.Record) []Difference {
	var out []Difference
	for id, before := range was {
		if after := is[id]; after == nil || !slices.Equal(before, after) {
			out = append(out, Difference{id, before, after})
		}
	}
	for id, after := range is {
		if was[id] == nil {
			out = append(out, Difference{id, nil, after})
		}
	}
	slices.SortFunc(out, func(a, b Difference) int { return strings.Compare(a.ID, b.ID) })
	return out
}

// Records lists the rows at a revision as they are kept, by id; 0 is the newest.
func (s *Store) Records(ctx context.Context, revision int) ([]limit.Record, error) {
	var out []limit.Record
	err := s.inTx(ctx, func(tx *sql.Tx) error {
		number, err := s.revision(ctx, tx, revision)
		if err != nil {
			return err
		}
		out, err = readRecords(ctx, tx, number)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("store %s: rows: %w", s.name, err)
	}
	slices.SortFunc(out, func(a, b limit.Record) int { return strings.Compare(a[0], b[0]) })
	return out, nil
}

// Propose says what would change if records took the place of the rows of
// their ids, and with all also the rows that are not among them were removed.
// It returns the edits with which [Store.Change] makes that true, and the
// revision they are for; nothing is changed.
func (s *Store) Propose(ctx context.Context, records []limit.Record, all bool) (base int, d []Difference, edits []Edit, err error) {
	err = s.inTx(ctx, func(tx *sql.Tx) error {
		if base, err = s.revision(ctx, tx, newest); err != nil {
			return err
		}
		was, err := s.recordsAt(ctx, tx, base)
		if err != nil {
			return err
		}
		is := map[string]limit.Record{}
		if !all {
			is = maps.Clone(was)
		}
		for _, r := range records {
			is[r[0]] = r
		}
		d = differences(was, is)
		return nil
	})
	if err != nil {
		return 0, nil, nil, fmt.Errorf("store %s: propose: %w", s.name, err)
	}
	for _, one := range d {
		edits = append(edits, Edit{one.ID, one.After})
	}
	return base, d, edits, nil
}

// Edit puts a record in the place of the row of its id, adds it, or with a nil
// Record removes the row.
type Edit struct {
	ID     string
	Record limit.Record
}

// Change makes edits as one new revision, all or none. base is the revision
// that they were made for: where the tables have moved on the error is a
// [*ConflictError]. An edit that cannot be used is an [*EditError].
func (s *Store) Change(ctx context.Context, base int, who, why string, edits []Edit) (Revision, error) {
	if strings.TrimSpace(who) == "" || strings.TrimSpace(why) == "" {
		return Revision{}, &EditError{Problem: "a change needs who makes it and why"}
	}
	var made Revision
	err := s.inTx(ctx, func(tx *sql.Tx) error {
		is, err := s.recordsAt(ctx, tx, newest)
		if err != nil {
			return err
		}
		if err := s.check(ctx, tx, base, edits, is); err != nil {
			return err
		}
		made, err = s.write(ctx, tx, writing{who: who, why: why, records: kept(edits), removed: removed(edits, is)})
		return err
	})
	if raced(err) { // another copy wrote the same number first
		return Revision{}, s.conflict(ctx, base, err)
	}
	if err != nil {
		return Revision{}, fmt.Errorf("store %s: change: %w", s.name, err)
	}
	return made, nil
}

// check refuses edits that were made for another state, or that cannot be used.
func (s *Store) check(ctx context.Context, tx *sql.Tx, base int, edits []Edit, is map[string]limit.Record) error {
	last, err := s.revision(ctx, tx, newest)
	if err != nil {
		return err
	}
	if base != last {
		return &ConflictError{base, last}
	}
	if len(edits) == 0 {
		return &EditError{Problem: "nothing is to be changed"}
	}
	seen := map[string]bool{}
	for _, e := range edits {
		switch {
		case seen[e.ID]:
			return &EditError{e.ID, "is edited twice"}
		case e.Record == nil && is[e.ID] == nil:
			return &EditError{e.ID, "is not in the table, so it cannot be removed"}
		case e.Record != nil && (len(e.Record) != len(limit.Columns()) || e.Record[0] != e.ID):
			return &EditError{e.ID, "does not have the columns of the table, or another id in them"}
		}
		seen[e.ID] = true
		if e.Record != nil {
			if _, err := e.Record.Row(1); err != nil {
				return &EditError{e.ID, err.Error()}
			}
		}
	}
	return nil
}

func kept(edits []Edit) []limit.Record {
	var out []limit.Record
	for _, e := range edits {
		if e.Record != nil {
			out = append(out, e.Record)
		}
	}
	return out
}

// removed are the last records of the rows that are taken out: the revision
// keeps what they said.
func removed(edits []Edit, is map[string]limit.Record) []limit.Record {
	var out []limit.Record
	for _, e := range edits {
		if e.Record == nil {
			out = append(out, is[e.ID])
		}
	}
	return out
}

// raced tells whether an error is that another transaction wrote first.
func raced(err error) bool {
	const uniqueViolation, serializationFailure = "23505", "40001" // PostgreSQL 15, appendix A
	var pg *pgconn.PgError
	return errors.As(err, &pg) && (pg.Code == uniqueViolation || pg.Code == serializationFailure)
}

func (s *Store) conflict(ctx context.Context, base int, err error) error {
	history, other := s.History(ctx)
	if other != nil || len(history) == 0 {
		return errors.Join(err, other)
	}
	return fmt.Errorf("store %s: change: %w", s.name, &ConflictError{base, history[0].Number})
}

// Restore makes a new revision in which the rows are as they were at an
// earlier one.
func (s *Store) Restore(ctx context.Context, base, earlier int, who, why string) (Revision, error) {
	differences, err := s.Compare(ctx, base, earlier)
	if err != nil {
		return Revision{}, err
	}
	var edits []Edit
	for _, d := range differences {
		edits = append(edits, Edit{d.ID, d.After})
	}
	return s.Change(ctx, base, who, why, edits)
}

// writing is what one revision writes.
type writing struct {
	who, why    string
	records     []limit.Record
	removed     []limit.Record
	authorities []limit.Authority
}

// write stores a change as one new revision, and tells those who watch once it
// is committed.
func (s *Store) write(ctx context.Context, tx *sql.Tx, c writing) (r Revision, err error) {
	last, err := s.revision(ctx, tx, newest)
	if err != nil {
		return r, err
	}
	r = Revision{Number: last + 1, MadeAt: s.clock().UTC().Truncate(time.Second), Who: c.who, Why: c.why}
	if _, err := tx.ExecContext(ctx, `INSERT INTO revision (number, made_at, who, why) VALUES ($1, $2, $3, $4)`,
		r.Number, r.MadeAt.Format(time.RFC3339), r.Who, r.Why); err != nil {
		return r, err
	}
	if err := insertRecords(ctx, tx, r.Number, 0, c.records); err != nil {
		return r, err
	}
	if err := insertRecords(ctx, tx, r.Number, 1, c.removed); err != nil {
		return r, err
	}
	for _, a := range c.authorities {
		if _, err := tx.ExecContext(ctx, `INSERT INTO authority (jurisdiction, name, contact, source, revision) VALUES ($1, $2, $3, $4, $5)`,
			a.Jurisdiction, a.Name, a.Contact, a.Source, r.Number); err != nil {
			return r, fmt.Errorf("authority %s: %w", a.Jurisdiction, err)
		}
	}
	return r, s.tell(ctx, tx, r.Number)
}

func insertRecords(ctx context.Context, tx *sql.Tx, revision, removed int, records []limit.Record) error {
	if len(records) == 0 {
		return nil
	}
	insert, err := tx.PrepareContext(ctx, insertRow())
	if err != nil {
		return err
	}
	defer insert.Close()
	for _, r := range records {
		args := make([]any, 0, len(r)+2)
		for _, cell := range r {
			args = append(args, cell)
		}
		if _, err := insert.ExecContext(ctx, append(args, revision, removed)...); err != nil {
			return fmt.Errorf("row %s: %w", r[0], err)
		}
	}
	return nil
}

func insertRow() string {
	var places []string
	for i := range len(limit.Columns()) + 2 {
		places = append(places, fmt.Sprintf("$%d", i+1))
	}
	return `INSERT INTO limit_row (` + rowColumns() + `, revision, removed) VALUES (` + strings.Join(places, ", ") + `)`
}
