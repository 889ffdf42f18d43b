package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"wayhouse/regs/finding"
	"wayhouse/regs/rows"
	"wayhouse/regs/say"
)

// Edit puts a record in the place of the row of its id, adds it, or with a nil
// Record removes the row.
type Edit struct {
	Table  string
	ID     string
	Record rows.Record
	// Was is the revision that wrote the row for which the edit was made; 0
	// where there was none.
	Was int

	shipped bool
}

// ConflictError says that somebody else changed a row first.
type ConflictError struct {
	Table, ID string
	Was, Is   int // the revisions that wrote the row; 0: there is none
}

func (e *ConflictError) Error() string { return e.Remark().String() }

// Remark says what became of the row.
func (e *ConflictError) Remark() say.Remark {
	return say.That("problem.conflict", "table", e.Table, "row", e.ID, "was", e.Was, "is", e.Is)
}

// EditError says what is wrong with one edit of a change.
type EditError struct {
	Table, ID string
	Problem   say.Remark
}

func (e *EditError) Error() string {
	if e.ID == "" {
		return e.Problem.String()
	}
	return fmt.Sprintf("%s: row %q: %s", e.Table, e.ID, e.Problem)
}

// Change makes edits as one new revision, all or none. Where a row is not as
// it was when its edit was made, the error is a [*ConflictError]; an edit that
// cannot be used is an [*EditError].
func (s *Store) Change(ctx context.Context, who, why string, edits []Edit) (Revision, error) {
	return s.change(ctx, who, why, edits, true)
}

// change is Change, which asks rows that come from outside whether they can be
// taken in.
func (s *Store) change(ctx context.Context, who, why string, edits []Edit, outside bool) (Revision, error) {
	var made Revision
	entries, err := checked(who, why, edits, outside)
	if err != nil {
		return made, fmt.Errorf("store %s: change: %w", s.name, err)
	}
	if len(entries) > changeAtOnce {
		made, err = s.changeInParts(ctx, who, why, edits, entries)
	} else {
		err = s.inTx(ctx, func(ctx context.Context, tx *sql.Tx) error {
			if err := s.lock(ctx, tx); err != nil {
				return err
			}
			if err := settle(ctx, tx, edits, entries); err != nil {
				return err
			}
			made, err = s.write(ctx, tx, who, why, entries)
			return err
		})
	}
	if err != nil {
		return Revision{}, fmt.Errorf("store %s: change: %w", s.name, err)
	}
	return made, nil
}

// checked turns edits into entries, as far as that needs no database.
func checked(who, why string, edits []Edit, outside bool) ([]entry, error) {
	if err := reasoned(who, why); err != nil {
		return nil, err
	}
	if len(edits) == 0 {
		return nil, &EditError{Problem: say.That("error.nothing_is_to_be")}
	}
	seen := map[rowKey]bool{}
	var out []entry
	for _, e := range edits {
		t, err := TableNamed(e.Table)
		if err != nil {
			return nil, err
		}
		switch {
		case seen[rowKey{e.Table, e.ID}]:
			return nil, &EditError{e.Table, e.ID, say.That("error.edited_twice")}
		case e.Record != nil && (len(e.Record) != len(t.ColumnNames()) || e.Record[0] != e.ID):
			return nil, &EditError{e.Table, e.ID, say.That("error.does_not_have_the")}
		}
		seen[rowKey{e.Table, e.ID}] = true
		if e.Record != nil && outside {
			if err := t.Check(e.Record); err != nil {
				return nil, &EditError{e.Table, e.ID, say.Of(err)}
			}
		}
		out = append(out, entry{table: e.Table, id: e.ID, record: e.Record, removed: e.Record == nil, shipped: e.shipped})
	}
	return out, nil
}

// reasoned wants to know who makes a change, and why.
func reasoned(who, why string) error {
	if strings.TrimSpace(who) == "" || strings.TrimSpace(why) == "" {
		return &EditError{Problem: say.That("error.a_change_needs_who")}
	}
	if text := who + why; !utf8.ValidString(text) || strings.ContainsRune(text, 0) {
		return &EditError{Problem: say.That("error.who_makes_the_change")}
	}
	return nil
}

// settle compares edits with the rows that they are made for. Of a row that is
// removed the entry keeps what it said.
func settle(ctx context.Context, tx *sql.Tx, edits []Edit, entries []entry) error {
	var keys []rowKey
	for _, e := range edits {
		keys = append(keys, rowKey{e.Table, e.ID})
	}
	found, err := lastOf(ctx, tx, latest, keys)
	if err != nil {
		return err
	}
	there := byKey(found)
	for i, e := range edits {
		last := there[keys[i]]
		is := last.revision
		if last.removed {
			is = 0
		}
		switch {
		case e.Record == nil && is == 0 && e.Was == 0:
			return &EditError{e.Table, e.ID, say.That("error.not_in_the_table")}
		case is != e.Was:
			return &ConflictError{e.Table, e.ID, e.Was, is}
		case e.Record == nil:
			entries[i].record = last.record
		}
	}
	return nil
}

// lock keeps other writers out until the transaction ends. On SQLite every
// transaction that writes has the database to itself.
func (s *Store) lock(ctx context.Context, tx *sql.Tx) error {
	if s.dialect != postgres {
		return nil
	}
	_, err := tx.ExecContext(ctx, `LOCK TABLE revision IN SHARE ROW EXCLUSIVE MODE`)
	return err
}

// write stores entries as one new revision, and tells those who watch once it
// is committed.
func (s *Store) write(ctx context.Context, tx *sql.Tx, who, why string, entries []entry) (r Revision, err error) {
	last, err := s.revision(ctx, tx, newest)
	if err != nil {
		return r, err
	}
	batch, err := nextBatch(ctx, tx)
	if err != nil {
		return r, err
	}
	r = Revision{Number: last + 1, MadeAt: s.clock().UTC().Truncate(time.Second), Who: who, Why: why}
	if _, err := tx.ExecContext(ctx, `INSERT INTO revision (batch, number, made_at, who, why) VALUES ($1, $2, $3, $4, $5)`,
		batch, r.Number, r.MadeAt.Format(time.RFC3339), r.Who, r.Why); err != nil {
		return r, err
	}
	for part := range slices.Chunk(entries, entriesAtOnce) {
		if err := insertEntries(ctx, tx, batch, part); err != nil {
			return r, err
		}
	}
	return r, s.tell(ctx, tx, r.Number)
}

// entriesAtOnce is how many rows one statement writes.
const entriesAtOnce = 200

func insertEntries(ctx context.Context, tx *sql.Tx, batch int, entries []entry) error {
	var places []string
	var args []any
	columns := columnsByTable()
	for _, e := range entries {
		cells, err := pack(columns[e.table], e.record)
		if err != nil {
			return fmt.Errorf("%s: row %q: %w", e.table, e.id, err)
		}
		n := len(args)
		places = append(places, fmt.Sprintf("($%d, $%d, $%d, $%d, $%d, $%d)", n+1, n+2, n+3, n+4, n+5, n+6))
		args = append(args, e.table, e.id, batch, bit(e.removed), bit(e.shipped), cells)
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO entry (in_table, id, batch, removed, shipped, cells) VALUES `+
		strings.Join(places, ", "), args...)
	if err != nil && len(entries) == 1 {
		return fmt.Errorf("%s: row %q: %w", entries[0].table, entries[0].id, err)
	}
	return err
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Proposal is what a change would make of the tables; nothing is changed yet.
type Proposal struct {
	Revision    int // that it was worked out for
	Differences []Difference
	Edits       []Edit // with which [Store.Change] makes it true
}

// Propose says what would change if records took the place of the rows of
// their ids, and with all also the rows that are not among them were removed.
func (s *Store) Propose(ctx context.Context, table string, records []rows.Record, all bool) (Proposal, error) {
	var p Proposal
	if _, err := TableNamed(table); err != nil {
		return p, err
	}
	var is []entry
	var keys []rowKey
	for _, r := range records {
		keys = append(keys, rowKey{table, r[0]})
		is = append(is, entry{table: table, id: r[0], record: r})
	}
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		var err error
		if p.Revision, err = s.revision(ctx, tx, newest); err != nil {
			return err
		}
		var was []entry
		if all {
			was, err = entriesAt(ctx, tx, table, p.Revision)
		} else {
			was, err = lastOf(ctx, tx, p.Revision, keys)
		}
		if err != nil {
			return err
		}
		p.Differences = differences(was, is)
		p.Edits = editsFor(p.Differences, was)
		return nil
	})
	if err != nil {
		return p, fmt.Errorf("store %s: propose: %w", s.name, err)
	}
	return p, nil
}

// WouldChange says what an edit that puts a row would change; the errors are those of
// [Store.Change].
func (s *Store) WouldChange(ctx context.Context, edit Edit) (Proposal, error) {
	entries, err := checked("nobody", "nothing is changed", []Edit{edit}, true)
	if err == nil {
		err = s.read(ctx, func(ctx context.Context, tx *sql.Tx) error { return settle(ctx, tx, []Edit{edit}, entries) })
	}
	if err != nil {
		return Proposal{}, fmt.Errorf("store %s: would change: %w", s.name, err)
	}
	return s.Propose(ctx, edit.Table, []rows.Record{edit.Record}, false)
}

// editsFor are the edits that make differences true of rows as they were.
func editsFor(differences []Difference, was []entry) []Edit {
	revisions := map[rowKey]int{}
	for _, e := range was {
		if !e.removed {
			revisions[rowKey{e.table, e.id}] = e.revision
		}
	}
	var out []Edit
	for _, d := range differences {
		out = append(out, Edit{Table: d.Table, ID: d.ID, Record: d.After, Was: revisions[rowKey{d.Table, d.ID}]})
	}
	return out
}

// Restore makes a new revision in which every row is as it was at an earlier
// one.
func (s *Store) Restore(ctx context.Context, earlier int, who, why string) (Revision, error) {
	var edits []Edit
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		last, err := s.revision(ctx, tx, newest)
		if err != nil {
			return err
		}
		number, err := s.revision(ctx, tx, earlier)
		if err != nil {
			return err
		}
		was, is, err := between(ctx, tx, number, last)
		edits = editsFor(differences(is, was), is)
		return err
	})
	if err != nil {
		return Revision{}, fmt.Errorf("store %s: restore: %w", s.name, err)
	}
	return s.change(ctx, who, why, edits, false) // they were taken in once
}

// Verification is the edit by which a user says that a row stands in a source:
// it counts as verified, as of read_on or today. set has the columns of the proof,
// and the figure where the source has another; empty values leave a column as it
// is, but for those of the source, which belong together.
func (s *Store) Verification(ctx context.Context, table, id string, set map[string]string) (Edit, error) {
	t, err := TableNamed(table)
	if err != nil {
		return Edit{}, err
	}
	kept, err := s.Row(ctx, table, id)
	if err != nil {
		return Edit{}, err
	}
	columns := t.ColumnNames()
	if !slices.Contains(columns, "status") {
		return Edit{}, &EditError{table, id, say.That("error.no_status_rows_of")}
	}
	out := Edit{Table: table, ID: id, Record: slices.Clone(kept.Record), Was: kept.Revision}
	put := func(column, text string) error {
		i := slices.Index(columns, column)
		if i < 0 && text != "" {
			return &EditError{table, id, say.That("error.has_no_column", "column", column)}
		}
		if i >= 0 {
			out.Record[i] = text
		}
		return nil
	}
	for column, text := range set {
		ofSource := column == "source" || column == "section" || column == "source_year" || column == "source_url"
		if text == "" && !ofSource {
			continue
		}
		if err := put(column, text); err != nil {
			return Edit{}, err
		}
	}
	if set["read_on"] == "" {
		err = put("read_on", s.clock().Format(time.DateOnly))
	}
	if read, parseErr := time.Parse(time.DateOnly, set["read_on"]); parseErr == nil &&
		read.After(s.clock().AddDate(0, 0, 1)) {
		return Edit{}, &EditError{table, id, say.That("error.read_later", "day", say.Day(read))}
	}
	return out, errors.Join(err, put("status", string(finding.Verified)))
}
