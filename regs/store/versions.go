package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"

	"wayhouse/regs/rows"
)

// Version is what one revision made of a row.
type Version struct {
	Revision
	Removed bool        // the record is then the last there was
	Record  rows.Record // all of the row, not only what changed
}

// Versions lists what became of a row, the newest first. The error is a [*NoRowError]
// where there never was one of the id.
func (s *Store) Versions(ctx context.Context, table, id string) (out []Version, err error) {
	if _, err := TableNamed(table); err != nil {
		return nil, err
	}
	err = s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		out, err = versions(ctx, tx, table, id)
		if err == nil && len(out) == 0 {
			return &NoRowError{table, id}
		}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("store %s: versions: %w", s.name, err)
	}
	return out, nil
}

func versions(ctx context.Context, tx *sql.Tx, table, id string) (out []Version, err error) {
	q, err := tx.QueryContext(ctx, `SELECT k.revision, r.made_at, r.who, r.why, k.removed, k.cells
		FROM kept k JOIN revision r ON r.number = k.revision
		WHERE k.in_table = $1 AND k.id = $2 ORDER BY k.revision DESC`, table, id)
	if err != nil {
		return nil, err
	}
	defer q.Close()
	columns := columnsByTable()[table]
	for q.Next() {
		var v Version
		var at string
		var removed int
		var cells []byte
		if err := q.Scan(&v.Number, &at, &v.Who, &v.Why, &removed, &cells); err != nil {
			return nil, err
		}
		v.Removed = removed != 0
		if v.MadeAt, err = time.Parse(time.RFC3339, at); err != nil {
			return nil, fmt.Errorf("revision %d: %w", v.Number, err)
		}
		if v.Record, err = unpack(columns, cells); err != nil {
			return nil, fmt.Errorf("%s: row %q: %w", table, id, err)
		}
		out = append(out, v)
	}
	return out, q.Err()
}
