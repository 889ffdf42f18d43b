// Package store keeps the tables in a database and gives them out as
// snapshots. One SQL text serves SQLite and PostgreSQL; only the migrations
// differ.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"strings"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
	_ "github.com/jackc/pgx/v5/stdlib" // the shared database
	"github.com/pressly/goose/v3"
	lite "modernc.org/sqlite" // the embedded database

	"wayhouse/migrations"
	"wayhouse/regs"
	"wayhouse/regs/measure"
	"wayhouse/regs/say"
)

// Store is an open database of tables.
type Store struct {
	db      *sql.DB
	name    string // for errors; no password is in it
	dsn     string
	dialect dialect
	clock   func() time.Time
	shared  bool          // a SQLite file, which other processes may write to
	waits   time.Duration // for a connection, and for a turn to write
	writing chan struct{} // holds the one writer of this process on SQLite

	mu   sync.Mutex
	last *state               // the newest state that was read, so that a change is read alone
	past map[int]*regs.Tables // states that were asked for by number
}

// dialect is what differs between databases.
type dialect struct {
	driver string
	goose  goose.Dialect
	folder string
}

var (
	sqlite   = dialect{driver: "sqlite", goose: goose.DialectSQLite3, folder: "sqlite"}
	postgres = dialect{driver: "pgx", goose: goose.DialectPostgres, folder: "postgres"}
)

// Result codes of what is no database of SQLite, or no whole one (sqlite.org/rescode.html).
const sqliteCorrupt, sqliteNoDatabase = 11, 26

// inMemory is the name of a SQLite database without a file.
const inMemory = ":memory:"

// OpenMemory opens a store that lives in memory only, seeded with the shipped
// rows.
func OpenMemory(ctx context.Context, clock func() time.Time) (*Store, error) {
	return open(ctx, sqlite, "in memory", inMemory, clock)
}

// OpenFile opens a store in a SQLite file. A new file is made and seeded with
// the shipped rows.
// An empty one was cut off, or made by a slip, and is no new one.
func OpenFile(ctx context.Context, path string, clock func() time.Time) (*Store, error) {
	if err := whole(ctx, path); err != nil {
		return nil, err
	}
	// Read-then-write transactions take the write lock at once: with SQLite's
	// default most of those that run together fail as busy.
	options := "?_txlock=immediate&_pragma=journal_mode(WAL)&_pragma=foreign_keys(1)&_pragma=busy_timeout(10000)"
	return open(ctx, sqlite, path, "file:"+(&url.URL{Path: path}).EscapedPath()+options, clock)
}

// whole refuses a file without a byte. Another process may be making it: its first
// byte is waited for.
func whole(ctx context.Context, path string) error {
	const tries, pause = 20, 50 * time.Millisecond
	for range tries {
		if info, err := os.Stat(path); err != nil || info.Size() > 0 {
			return nil // not there, or to be opened: the database says what is wrong
		}
		if err := wait(ctx, pause); err != nil {
			return err
		}
	}
	return &measure.FieldError{
		Field: "--store", Value: path, Problem: say.That("error.empty_it_was_cut"),
		Fix: say.That("fix.put_the_file_back"),
	}
}

// OpenDatabase opens a store on PostgreSQL, where many copies of the service
// share it. An empty database is seeded with the shipped rows. The error names
// the database without its password.
func OpenDatabase(ctx context.Context, address string, clock func() time.Time) (*Store, error) {
	config, err := pgx.ParseConfig(address)
	if err != nil || !strings.HasPrefix(address, "postgres://") && !strings.HasPrefix(address, "postgresql://") {
		return nil, &measure.FieldError{
			Field: "--database", Problem: say.That("error.no_address_of_a"),
			Fix: say.That("fix.give_one_like_postgres"),
		}
	}
	return open(ctx, postgres, fmt.Sprintf("%s on %s", config.Database, config.Host), address, clock)
}

func open(ctx context.Context, d dialect, name, dsn string, clock func() time.Time) (*Store, error) {
	db, err := pool(d, dsn)
	if err != nil {
		return nil, err
	}
	s := &Store{
		db: db, name: name, dsn: dsn, dialect: d, clock: clock, shared: d == sqlite && dsn != inMemory,
		waits: waitLimit, writing: make(chan struct{}, 1),
	}
	if err := s.prepare(ctx, d); err != nil {
		db.Close()
		var file *lite.Error
		if errors.As(err, &file) && (file.Code()&0xff == sqliteCorrupt || file.Code()&0xff == sqliteNoDatabase) {
			return nil, &measure.FieldError{
				Field: "--store", Value: name, Problem: say.That("error.no_store"),
				Fix: say.That("fix.name_another_file_or"),
			}
		}
		return nil, fmt.Errorf("store %s: %w", name, troubled(ctx, err))
	}
	return s, nil
}

// Close closes the database.
func (s *Store) Close() error { return s.db.Close() }

// prepare brings the schema up to date and seeds an empty store.
func (s *Store) prepare(ctx context.Context, d dialect) error {
	files, err := fs.Sub(migrations.Files, d.folder)
	if err != nil {
		return err
	}
	p, err := goose.NewProvider(d.goose, s.db, files, goose.WithVerbose(false))
	if err != nil {
		return err
	}
	if err := migrate(ctx, p); err != nil {
		return fmt.Errorf("migrate: %w", err)
	}
	return s.seed(ctx)
}

// migrate applies what is missing. Copies of the service that start at once on
// a new database run into each other: one wins, the others look again. That another
// went on shows in the version, however the database words it.
func migrate(ctx context.Context, p *goose.Provider) error {
	const tries, pause = 40, 50 * time.Millisecond
	for try := 1; ; try++ {
		before, _ := p.GetDBVersion(ctx) // 0 where there is none yet
		_, err := p.Up(ctx)
		if err == nil || try == tries {
			return err
		}
		if after, unread := p.GetDBVersion(ctx); !ranInto(err) && (unread != nil || after <= before) {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(pause):
		}
	}
}

// ranInto reports whether an error is that another copy was migrating.
func ranInto(err error) bool {
	for _, word := range []string{"already exists", "locked", "busy", "UNIQUE", "duplicate key"} {
		if strings.Contains(err.Error(), word) {
			return true
		}
	}
	return false
}

// seed writes the shipped rows as revision 1 unless there is a revision.
func (s *Store) seed(ctx context.Context) error {
	return s.inTx(ctx, func(ctx context.Context, tx *sql.Tx) error {
		if err := s.lock(ctx, tx); err != nil {
			return err
		}
		var n int
		if err := tx.QueryRowContext(ctx, `SELECT count(number) FROM revision`).Scan(&n); err != nil || n > 0 {
			return err
		}
		shipped, err := shippedRows()
		if err != nil {
			return err
		}
		_, err = s.write(ctx, tx, "wayhouse", "shipped rows", shipped)
		return err
	})
}
