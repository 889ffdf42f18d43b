package store

import (
	"cmp"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/rows"
)

// entry is what one revision says of one row.
type entry struct {
	table, id string
	revision  int
	removed   bool // the record is then the last there was
	shipped   bool // it came with the program
	record    rows.Record
}

// rowKey names a row.
type rowKey struct{ table, id string }

// sum is a short sum of what the entry says of its row.
func (e entry) sum() uint64 {
	h := sha256.New()
	fmt.Fprintf(h, "%q", e.table)
	for _, cell := range e.record {
		fmt.Fprintf(h, " %q", cell)
	}
	return binary.BigEndian.Uint64(h.Sum(nil))
}

// pack writes the cells of a record as JSON, without those that are empty.
func pack(columns []string, r rows.Record) (string, error) {
	cells := map[string]string{}
	for i, name := range columns {
		if r[i] != "" {
			cells[name] = r[i]
		}
	}
	out, err := json.Marshal(cells)
	return string(out), err
}

// unpack reads what pack wrote. Cells of columns that are no longer there are
// left out; those of new columns are empty.
func unpack(columns []string, text []byte) (rows.Record, error) {
	cells := map[string]string{}
	if err := json.Unmarshal(text, &cells); err != nil {
		return nil, err
	}
	r := make(rows.Record, len(columns))
	for i, name := range columns {
		r[i] = cells[name]
	}
	return r, nil
}

// newest stands for the last revision there is.
const newest = 0

// state is the content of every table at one revision.
type state struct {
	number int
	all    []holder
	tables *regs.Tables
}

// Snapshot reads the newest state of the tables. What has not changed since it
// was last called is not read again.
func (s *Store) Snapshot(ctx context.Context) (*regs.Tables, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	st, err := s.stateAt(ctx, newest, s.last)
	if err != nil {
		return nil, fmt.Errorf("store %s: read tables: %w", s.name, err)
	}
	s.last = st
	return st.tables, nil
}

// SnapshotAt reads the state of the tables at a revision. The error is a
// [*NoRevisionError] where there is none of the number.
func (s *Store) SnapshotAt(ctx context.Context, revision int) (*regs.Tables, error) {
	if revision == newest {
		return s.Snapshot(ctx)
	}
	s.mu.Lock()
	kept := s.past[revision]
	if s.last != nil && s.last.number == revision {
		kept = s.last.tables
	}
	s.mu.Unlock()
	if kept != nil {
		return kept, nil
	}
	st, err := s.stateAt(ctx, revision, nil)
	if err != nil {
		return nil, fmt.Errorf("store %s: read tables: %w", s.name, err)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.past) >= pastKept {
		s.past = nil
	}
	if s.past == nil {
		s.past = map[int]*regs.Tables{}
	}
	s.past[revision] = st.tables
	return st.tables, nil
}

// pastKept is how many past states are kept for whoever asks again; they never
// change.
const pastKept = 4

// stateAt reads a state, from an earlier one where there is one.
func (s *Store) stateAt(ctx context.Context, revision int, from *state) (*state, error) {
	if from == nil {
		from = &state{all: contents()}
	}
	var st *state
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		number, err := s.revision(ctx, tx, revision)
		if err != nil {
			return err
		}
		if number == from.number && from.tables != nil {
			st = from
			return nil
		}
		where, args := `revision > $1 AND revision <= $2`, []any{from.number, number}
		if from.number == 0 {
			where, args = upTo+`$1`, []any{number}
		}
		st, err = from.with(number, func(visit func(entry) bool) error { return eachEntry(ctx, tx, where, args, visit) })
		return err
	})
	return st, err
}

// with returns the state after changes, which come by table and id. Each is read as
// it comes: a first state holds no more than its rows.
func (st *state) with(number int, changes func(visit func(entry) bool) error) (*state, error) {
	mergers := map[string]merger{}
	for _, h := range st.all {
		mergers[h.name()] = h.merger()
	}
	var failed error
	err := changes(func(e entry) bool {
		failed = mergers[e.table].add(e)
		return failed == nil
	})
	if err = cmp.Or(failed, err); err != nil {
		return nil, err
	}
	out := &state{number: number}
	var sum uint64
	for _, h := range st.all {
		h = mergers[h.name()].done()
		sum += h.sum()
		out.all = append(out.all, h)
	}
	// The number says which change, the sum says which content: two stores that
	// hold the same rows answer with the same sum.
	out.tables = regs.NewTables(fmt.Sprintf("%d-%012x", number, sum>>16), typed(out.all), st.tables)
	out.tables.Number = number
	return out, nil
}

// readEntries reads the last entry of each row among those that a condition
// takes, removed ones too, by table and id.
func readEntries(ctx context.Context, tx *sql.Tx, where string, args ...any) ([]entry, error) {
	var out []entry
	err := eachEntry(ctx, tx, where, args, func(e entry) bool {
		out = append(out, e)
		return true
	})
	return out, err
}

// upTo is the condition of entries up to a revision. The sign keeps the database
// from going by revision: nearly all are wanted, and by table and id.
const upTo = `+revision <= `

// eachEntry visits what readEntries reads, one at a time, until visit returns
// false.
func eachEntry(ctx context.Context, tx *sql.Tx, where string, args []any, visit func(entry) bool) error {
	q, err := tx.QueryContext(ctx, `SELECT in_table, id, revision, removed, shipped, cells FROM kept WHERE `+
		where+` ORDER BY in_table, id, revision`, args...)
	if err != nil {
		return err
	}
	defer q.Close()
	columns := columnsByTable()
	var waiting entry // for a later one of its row
	var cells sql.RawBytes
	var kept []byte
	flush := func() (bool, error) {
		if waiting.id == "" || columns[waiting.table] == nil { // a table of a later version of the program
			return true, nil
		}
		record, err := unpack(columns[waiting.table], kept)
		if err != nil {
			return false, fmt.Errorf("%s: row %q: %w", waiting.table, waiting.id, err)
		}
		waiting.record = record
		return visit(waiting), nil
	}
	for q.Next() {
		var e entry
		var removed, shipped int
		if err := q.Scan(&e.table, &e.id, &e.revision, &removed, &shipped, &cells); err != nil {
			return err
		}
		e.removed, e.shipped = removed != 0, shipped != 0
		if e.table != waiting.table || e.id != waiting.id {
			if more, err := flush(); err != nil || !more {
				return err
			}
		}
		waiting, kept = e, append(kept[:0], cells...)
	}
	if err := q.Err(); err != nil {
		return err
	}
	_, err = flush()
	return err
}

// latest is a number beyond every revision.
const latest = math.MaxInt32

// lastOf reads the newest entries of rows up to a revision, in no order; of a row that never was
// there is none.
func lastOf(ctx context.Context, tx *sql.Tx, upToRevision int, keys []rowKey) ([]entry, error) {
	ids := map[string][]string{} // by table: SQLite searches by one table and many ids, and would scan for many pairs
	for _, k := range keys {
		ids[k.table] = append(ids[k.table], k.id)
	}
	var out []entry
	for table, all := range ids {
		for part := range slices.Chunk(all, entriesAtOnce) {
			args := []any{upToRevision, table}
			var places []string
			for _, id := range part {
				args = append(args, id)
				places = append(places, fmt.Sprintf("$%d", len(args)))
			}
			found, err := readEntries(ctx, tx, upTo+`$1 AND in_table = $2 AND id IN (`+strings.Join(places, ", ")+`)`, args...)
			if err != nil {
				return nil, err
			}
			out = append(out, found...)
		}
	}
	return out, nil
}

// entriesAt reads the rows of one table, or of all for "", at a revision, by
// table and id.
func entriesAt(ctx context.Context, tx *sql.Tx, table string, number int) ([]entry, error) {
	where, args := upTo+`$1`, []any{number}
	if table != "" {
		where, args = where+` AND in_table = $2`, append(args, table)
	}
	all, err := readEntries(ctx, tx, where, args...)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(all, func(e entry) bool { return e.removed }), nil
}
