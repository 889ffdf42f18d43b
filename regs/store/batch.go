package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"slices"
	"time"

	"wayhouse/regs/say"
)

// A large change is a batch. Its recipe: entries are written in short transactions
// under the number of the batch, where nobody reads them; one more short
// transaction looks for rows of it that somebody else changed meanwhile, and
// gives the batch its revision. So other writers wait for a part at the most, and
// the change is made whole or not at all.

// changeAtOnce is up to how many rows a change is one transaction.
const changeAtOnce = 4 * entriesAtOnce

// partTime is for how long one transaction of a batch writes before it makes room
// for others. partPause is then left to other processes that use a SQLite file,
// which ask for it every 100 ms at the most (sqlite3_busy_timeout).
const (
	partTime  = 150 * time.Millisecond
	partPause = 110 * time.Millisecond
)

// abandoned is how long a batch was not written to until the next one takes it away:
// whoever began it was killed.
const abandoned = time.Hour

// batch is a large change under way.
type batch struct {
	s      *Store
	number int
	since  int // the revision up to which its rows are known to be as they were
	made   bool
}

// begin begins a batch of changes to the tables as they were at a revision. The
// caller closes it.
func (s *Store) begin(ctx context.Context, who, why string, since int) (*batch, error) {
	if err := s.sweep(ctx); err != nil {
		return nil, err
	}
	b := &batch{s: s, since: since}
	return b, s.inTx(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if err := s.lock(ctx, tx); err != nil {
			return err
		}
		var err error
		if b.number, err = nextBatch(ctx, tx); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO revision (batch, made_at, who, why) VALUES ($1, $2, $3, $4)`,
			b.number, s.now(), who, why)
		return err
	})
}

func nextBatch(ctx context.Context, tx *sql.Tx) (n int, err error) {
	err = tx.QueryRowContext(ctx, `SELECT coalesce(max(batch), 0) + 1 FROM revision`).Scan(&n)
	return n, err
}

func (s *Store) now() string { return s.clock().UTC().Truncate(time.Second).Format(time.RFC3339) }

// add writes entries, in as many transactions as that takes.
func (b *batch) add(ctx context.Context, entries []entry) error {
	for len(entries) > 0 {
		left := entries
		err := b.s.inTx(ctx, func(ctx context.Context, tx *sql.Tx) error {
			for until := time.Now().Add(partTime); len(left) > 0 && time.Now().Before(until); {
				n := min(len(left), entriesAtOnce)
				if err := insertEntries(ctx, tx, b.number, left[:n]); err != nil {
					return err
				}
				left = left[n:]
			}
			return b.alive(ctx, tx)
		})
		if err != nil {
			return err
		}
		entries = left
		if b.s.shared {
			if err := wait(ctx, partPause); err != nil {
				return err
			}
		}
	}
	return nil
}

// alive says that the batch is being written. The error is that it was taken away.
func (b *batch) alive(ctx context.Context, tx *sql.Tx) error {
	done, err := tx.ExecContext(ctx, `UPDATE revision SET made_at = $1 WHERE batch = $2 AND number IS NULL`,
		b.s.now(), b.number)
	if err != nil {
		return err
	}
	if n, err := done.RowsAffected(); err != nil || n == 1 {
		return err
	}
	return say.Err(say.That("parse_error.batch_late"))
}

// commit makes the batch the newest revision. The error is a [*ConflictError] where
// one of its rows was changed since the batch began.
func (b *batch) commit(ctx context.Context) (r Revision, err error) {
	// the most of it without the lock
	err = b.s.read(ctx, func(ctx context.Context, tx *sql.Tx) error { return b.settled(ctx, tx) })
	if err != nil {
		return r, err
	}
	err = b.s.inTx(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if err := b.s.lock(ctx, tx); err != nil {
			return err
		}
		if err := b.settled(ctx, tx); err != nil {
			return err
		}
		if err := b.alive(ctx, tx); err != nil {
			return err
		}
		r = Revision{Number: b.since + 1, MadeAt: b.s.clock().UTC().Truncate(time.Second)}
		if err := tx.QueryRowContext(ctx, `SELECT who, why FROM revision WHERE batch = $1`, b.number).Scan(
			&r.Who, &r.Why); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE revision SET number = $1 WHERE batch = $2`, r.Number, b.number); err != nil {
			return err
		}
		return b.s.tell(ctx, tx, r.Number)
	})
	b.made = err == nil
	return r, err
}

// settled looks for rows of the batch among those that were changed since it was
// last looked, and brings since up to the newest revision.
func (b *batch) settled(ctx context.Context, tx *sql.Tx) error {
	last, err := b.s.revision(ctx, tx, newest)
	if err != nil || last == b.since {
		return err
	}
	var k rowKey
	var is, removed int
	err = tx.QueryRowContext(ctx, `SELECT in_table, id, revision, removed FROM kept WHERE revision > $1 AND revision <= $2
		AND EXISTS (SELECT 1 FROM entry WHERE entry.in_table = kept.in_table AND entry.id = kept.id AND entry.batch = $3)
		ORDER BY revision DESC LIMIT 1`, b.since, last, b.number).Scan(&k.table, &k.id, &is, &removed)
	if errors.Is(err, sql.ErrNoRows) {
		b.since = last
		return nil
	}
	if err != nil {
		return err
	}
	conflict := &ConflictError{Table: k.table, ID: k.id, Is: is}
	if removed != 0 {
		conflict.Is = 0
	}
	was, err := lastOf(ctx, tx, b.since, []rowKey{k})
	if err == nil && len(was) == 1 && !was[0].removed {
		conflict.Was = was[0].revision
	}
	return errors.Join(err, conflict)
}

// close takes a batch that was not made back, whatever ended it.
func (b *batch) close(ctx context.Context) error {
	if b.made || b.number == 0 {
		return nil
	}
	return b.s.drop(context.WithoutCancel(ctx), b.number)
}

// drop takes the entries of a batch away, in short transactions, unless it was made
// a revision after all.
func (s *Store) drop(ctx context.Context, number int) error {
	for more := true; more; {
		err := s.inTx(ctx, func(ctx context.Context, tx *sql.Tx) error {
			done, err := tx.ExecContext(ctx,
				`DELETE FROM entry WHERE batch = $1 AND id IN (SELECT id FROM entry WHERE batch = $1 LIMIT 5000)
				AND EXISTS (SELECT 1 FROM revision WHERE batch = $1 AND number IS NULL)`, number)
			if err != nil {
				return err
			}
			n, err := done.RowsAffected()
			if more = n > 0; err != nil || more {
				return err
			}
			_, err = tx.ExecContext(ctx, `DELETE FROM revision WHERE batch = $1 AND number IS NULL`, number)
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// sweep takes away what killed processes left.
func (s *Store) sweep(ctx context.Context) error {
	var left []int
	err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		q, err := tx.QueryContext(ctx, `SELECT batch FROM revision WHERE number IS NULL AND made_at < $1`,
			s.clock().UTC().Add(-abandoned).Format(time.RFC3339))
		if err != nil {
			return err
		}
		defer q.Close()
		for q.Next() {
			var n int
			if err := q.Scan(&n); err != nil {
				return err
			}
			left = append(left, n)
		}
		return q.Err()
	})
	for _, n := range left {
		err = errors.Join(err, s.drop(ctx, n))
	}
	return err
}

// changeInParts makes edits as a batch.
func (s *Store) changeInParts(ctx context.Context, who, why string, edits []Edit,
	entries []entry) (made Revision, err error) {
	var since int
	err = s.read(ctx, func(ctx context.Context, tx *sql.Tx) error {
		since, err = s.revision(ctx, tx, newest)
		return err
	})
	if err != nil {
		return made, err
	}
	b, err := s.begin(ctx, who, why, since)
	if err != nil {
		return made, err
	}
	defer func() { err = errors.Join(err, b.close(ctx)) }()
	at := 0
	for part := range slices.Chunk(entries, changeAtOnce) {
		own := edits[at : at+len(part)]
		if err := s.read(ctx, func(ctx context.Context, tx *sql.Tx) error { return settle(ctx, tx, own, part) }); err != nil {
			return made, err
		}
		if err := b.add(ctx, part); err != nil {
			return made, fmt.Errorf("after %d rows: %w", at, err)
		}
		at += len(part)
	}
	return b.commit(ctx)
}
