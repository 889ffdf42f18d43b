package store

import (
	"context"
	"database/sql"
	"errors"
	"strconv"
	"time"

	"github.com/jackc/pgx/v5"
)

// channel is where copies of the service hear of changes on PostgreSQL.
const channel = "wayhouse_tables"

// Pauses of those who watch: how often SQLite is asked, how long a silent
// connection to PostgreSQL is trusted before the revision is read again, and
// how long one waits before connecting anew.
const (
	pollPause    = 300 * time.Millisecond
	listenLimit  = 30 * time.Second
	connectPause = 500 * time.Millisecond
)

// tell sends the number of a revision to those who listen; it arrives when the
// transaction is committed, and not at all where it is not.
func (s *Store) tell(ctx context.Context, tx *sql.Tx, number int) error {
	if s.dialect != postgres {
		return nil
	}
	_, err := tx.ExecContext(ctx, `SELECT pg_notify($1, $2)`, channel, strconv.Itoa(number))
	return err
}

// Watch calls changed with the number of the newest revision whenever it is
// another than before, from the one given on, until the context ends; it
// returns the context's error. changed is not called by two at once. A
// database that does not answer is asked again.
func (s *Store) Watch(ctx context.Context, from int, changed func(number int)) error {
	look := func() {
		soon, cancel := context.WithTimeout(ctx, pingLimit)
		defer cancel()
		var number int
		err := s.db.QueryRowContext(soon, `SELECT coalesce(max(number), 0) FROM revision`).Scan(&number)
		if err == nil && number != from {
			from = number
			changed(number)
		}
	}
	if s.dialect != postgres {
		return poll(ctx, look)
	}
	for ctx.Err() == nil {
		_ = s.listen(ctx, look) // whatever ended it, connect anew
		if wait(ctx, connectPause) != nil {
			break
		}
	}
	return ctx.Err()
}

func poll(ctx context.Context, look func()) error {
	for wait(ctx, pollPause) == nil {
		look()
	}
	return ctx.Err()
}

func wait(ctx context.Context, pause time.Duration) error {
	select {
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(pause):
		return nil
	}
}

// listen waits for word on one connection of its own, and looks after each,
// and after each silence. It looks first, for what happened while nobody
// listened.
func (s *Store) listen(ctx context.Context, look func()) error {
	config, err := withLimits(s.dsn)
	if err != nil {
		return err
	}
	conn, err := pgx.ConnectConfig(ctx, config)
	if err != nil {
		return err
	}
	defer conn.Close(context.WithoutCancel(ctx))
	if _, err := conn.Exec(ctx, "LISTEN "+channel); err != nil {
		return err
	}
	for {
		look()
		silence, cancel := context.WithTimeout(ctx, listenLimit)
		_, err := conn.WaitForNotification(silence)
		cancel()
		if err != nil && !errors.Is(err, context.DeadlineExceeded) {
			return err
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil { // silent: is the connection still there?
			if err := ping(ctx, conn); err != nil {
				return err
			}
		}
	}
}

func ping(ctx context.Context, conn *pgx.Conn) error {
	soon, cancel := context.WithTimeout(ctx, connectPause)
	defer cancel()
	return conn.Ping(soon)
}
