package store

import (
	"context"
	"database/sql"
	"errors"
	"strconv"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/stdlib"
)

// Limits of time. Each is far above what the step takes, so that it is met only
// where the database does not answer.
const (
	waitLimit  = 10 * time.Second // for a connection, and for a lock
	writeLimit = 30 * time.Second // one writing transaction
	readLimit  = 10 * time.Minute // one reading transaction: a first snapshot of millions of rows takes minutes
	pingLimit  = 2 * time.Second
)

// connections is how many a copy of the service opens to PostgreSQL, whose own
// default is 100 for everybody; requests beyond wait for one. One more listens for
// changes.
const connections = 10

// pool opens the connections to a database.
func pool(d dialect, dsn string) (*sql.DB, error) {
	if d != postgres {
		db, err := sql.Open(d.driver, dsn)
		if err == nil && dsn == inMemory {
			db.SetMaxOpenConns(1) // each connection would be a database of its own
		}
		return db, err
	}
	config, err := withLimits(dsn)
	if err != nil {
		return nil, err
	}
	db := stdlib.OpenDB(*config)
	db.SetMaxOpenConns(connections)
	db.SetMaxIdleConns(connections)
	db.SetConnMaxIdleTime(5 * time.Minute)
	return db, nil
}

// withLimits is how to connect to PostgreSQL with limits on the server too, where a
// client that is gone cannot end what it began. What the address sets stays.
func withLimits(dsn string) (*pgx.ConnConfig, error) {
	config, err := pgx.ParseConfig(dsn)
	if err != nil {
		return nil, err
	}
	for name, limit := range map[string]time.Duration{
		"statement_timeout": readLimit, "lock_timeout": waitLimit, "idle_in_transaction_session_timeout": 2 * writeLimit,
	} {
		if _, set := config.RuntimeParams[name]; !set {
			config.RuntimeParams[name] = strconv.FormatInt(limit.Milliseconds(), 10)
		}
	}
	if config.ConnectTimeout == 0 {
		config.ConnectTimeout = waitLimit
	}
	return config, nil
}

// Ping reports whether the database answers, soon.
func (s *Store) Ping(ctx context.Context) error {
	soon, cancel := context.WithTimeout(ctx, pingLimit)
	defer cancel()
	return troubled(ctx, s.db.PingContext(soon))
}

// inTx runs f in a transaction that may write, and commits when it returns nil.
// Writers of one process queue, first come first served: SQLite itself lets them
// try again and again, and a large change would keep the others out.
func (s *Store) inTx(ctx context.Context, f func(context.Context, *sql.Tx) error) error {
	if s.dialect == sqlite {
		soon, cancel := context.WithTimeout(ctx, s.waits)
		defer cancel()
		select {
		case s.writing <- struct{}{}:
			defer func() { <-s.writing }()
		case <-soon.Done():
			if ctx.Err() != nil {
				return ctx.Err()
			}
			return &TroubleError{Busy, errors.New("other writers of this process")}
		}
	}
	return s.transact(ctx, nil, writeLimit, f)
}

// read runs f in a transaction that only reads: it waits for no writer.
func (s *Store) read(ctx context.Context, f func(context.Context, *sql.Tx) error) error {
	return s.transact(ctx, &sql.TxOptions{ReadOnly: true}, readLimit, f)
}

// transact waits for a connection and runs f on it. Its error is a [*TroubleError]
// where it is the database's own.
func (s *Store) transact(asked context.Context, options *sql.TxOptions, limit time.Duration,
	f func(context.Context, *sql.Tx) error) error {
	conn, err := s.connection(asked)
	if err != nil {
		return err
	}
	defer conn.Close()
	ctx, cancel := context.WithTimeout(asked, limit)
	defer cancel()
	tx, err := conn.BeginTx(ctx, options)
	if err != nil {
		return troubled(asked, err)
	}
	defer tx.Rollback()
	if err := f(ctx, tx); err != nil {
		if errors.Is(err, sql.ErrTxDone) && ctx.Err() != nil {
			err = ctx.Err()
		}
		return troubled(asked, err)
	}
	return troubled(asked, tx.Commit())
}

// connection waits for a connection, for so long as a request waits.
func (s *Store) connection(asked context.Context) (*sql.Conn, error) {
	soon, cancel := context.WithTimeout(asked, s.waits)
	defer cancel()
	conn, err := s.db.Conn(soon)
	if all := s.db.Stats(); err != nil && asked.Err() == nil && all.MaxOpenConnections > 0 &&
		all.InUse >= all.MaxOpenConnections && errors.Is(err, context.DeadlineExceeded) {
		return nil, &TroubleError{Busy, err}
	}
	return conn, troubled(asked, err)
}
