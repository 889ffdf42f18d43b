package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"wayhouse/regs"
	"wayhouse/regs/limit"
)

// rowColumns are the columns of a record, quoted: some are SQL words.
func rowColumns() string { return `"` + strings.Join(limit.Columns(), `", "`) + `"` }

// Snapshot reads the newest state of the tables.
func (s *Store) Snapshot(ctx context.Context) (*regs.Tables, error) { return s.SnapshotAt(ctx, newest) }

// newest stands for the last revision there is.
const newest = 0

// SnapshotAt reads the state of the tables at a revision. The error is a
// [*NoRevisionError] where there is none of the number.
func (s *Store) SnapshotAt(ctx context.Context, revision int) (*regs.Tables, error) {
	var t *regs.Tables
	err := s.inTx(ctx, func(tx *sql.Tx) error {
		number, err := s.revision(ctx, tx, revision)
		if err != nil {
			return err
		}
		rows, sum, err := readRows(ctx, tx, number)
		if err != nil {
			return err
		}
		authorities, err := readAuthorities(ctx, tx, number)
		if err != nil {
			return err
		}
		// The number says which change, the sum says which content: two stores
		// that hold the same rows answer with the same sum.
		t = regs.NewTables(fmt.Sprintf("%d-%s", number, sum), rows, authorities)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("store %s: read tables: %w", s.name, err)
	}
	return t, nil
}

// readRows returns the rows by id and a sum of what they say. They are sorted
// here, because databases collate differently.
func readRows(ctx context.Context, tx *sql.Tx, number int) ([]limit.Row, string, error) {
	records, err := readRecords(ctx, tx, number)
	if err != nil {
		return nil, "", err
	}
	slices.SortFunc(records, func(a, b limit.Record) int { return strings.Compare(a[0], b[0]) })
	var rows []limit.Row
	sum := sha256.New()
	for i, record := range records {
		row, err := record.Row(i + 1)
		if err != nil {
			return nil, "", fmt.Errorf("row %s: %w", record[0], err)
		}
		rows = append(rows, row)
		fmt.Fprintf(sum, "%q\n", record)
	}
	return rows, hex.EncodeToString(sum.Sum(nil)[:6]), nil
}

func readRecords(ctx context.Context, tx *sql.Tx, number int) ([]limit.Record, error) {
	q, err := tx.QueryContext(ctx, `SELECT `+rowColumns()+` FROM limit_row r
		WHERE removed = 0 AND revision = (SELECT max(x.revision) FROM limit_row x WHERE x."id" = r."id" AND x.revision <= $1)`, number)
	if err != nil {
		return nil, err
	}
	defer q.Close()
	var out []limit.Record
	for q.Next() {
		record := make(limit.Record, len(limit.Columns()))
		cells := make([]any, len(record))
		for i := range record {
			cells[i] = &record[i]
		}
		if err := q.Scan(cells...); err != nil {
			return nil, err
		}
		out = append(out, record)
	}
	return out, q.Err()
}

func readAuthorities(ctx context.Context, tx *sql.Tx, number int) ([]limit.Authority, error) {
	q, err := tx.QueryContext(ctx, `SELECT jurisdiction, name, contact, source FROM authority a
		WHERE removed = 0 AND revision = (SELECT max(x.revision) FROM authority x WHERE x.jurisdiction = a.jurisdiction AND x.revision <= $1)
		ORDER BY jurisdiction`, number)
	if err != nil {
		return nil, err
	}
	defer q.Close()
	var out []limit.Authority
	for q.Next() {
		var a limit.Authority
		if err := q.Scan(&a.Jurisdiction, &a.Name, &a.Contact, &a.Source); err != nil {
			return nil, err
		}
		out = append(out, a)
	}
	return out, q.Err()
}
