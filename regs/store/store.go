// Package store keeps the tables in a database and gives them out as
// snapshots. One SQL text serves SQLite and PostgreSQL; only the migrations
// differ.
package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net/url"
	"slices"
	"strings"
	"time"

	"github.com/pressly/goose/v3"
	_ "modernc.org/sqlite" // the embedded database

	"wayhouse/data"
	"wayhouse/migrations"
	"wayhouse/regs"
	"wayhouse/regs/limit"
)

// Store is an open database of tables.
type Store struct {
	db    *sql.DB
	name  string // for errors
	clock func() time.Time
}

// dialect is what differs between databases.
type dialect struct {
	driver string
	goose  goose.Dialect
	folder string
}

var sqlite = dialect{driver: "sqlite", goose: goose.DialectSQLite3, folder: "sqlite"}

// OpenMemory opens a store that lives in memory only, seeded with the shipped
// rows.
func OpenMemory(ctx context.Context, clock func() time.Time) (*Store, error) {
	return open(ctx, sqlite, "in memory", ":memory:", clock)
}

// OpenFile opens a store in a SQLite file. A new file is made and seeded with
// the shipped rows.
func OpenFile(ctx context.Context, path string, clock func() time.Time) (*Store, error) {
	// Read-then-write transactions take the write lock at once: with SQLite's
	// default most of those that run together fail as busy.
	options := "?_txlock=immediate&_pragma=journal_mode(WAL)&_pragma=foreign_keys(1)&_pragma=busy_timeout(10000)"
	return open(ctx, sqlite, path, "file:"+(&url.URL{Path: path}).EscapedPath()+options, clock)
}

func open(ctx context.Context, d dialect, name, dsn string, clock func() time.Time) (*Store, error) {
	db, err := sql.Open(d.driver, dsn)
	if err != nil {
		return nil, err
	}
	if dsn == ":memory:" {
		db.SetMaxOpenConns(1) // each connection would be a database of its own
	}
	s := &Store{db: db, name: name, clock: clock}
	if err := s.prepare(ctx, d); err != nil {
		db.Close()
		return nil, fmt.Errorf("store %s: %w", name, err)
	}
	return s, nil
}

// Close closes the database.
func (s *Store) Close() error { return s.db.Close() }

// Ping tells whether the database answers.
func (s *Store) Ping(ctx context.Context) error { return s.db.PingContext(ctx) }

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
// a new database run into each other: one wins, the others look again.
func migrate(ctx context.Context, p *goose.Provider) error {
	const tries, pause = 40, 50 * time.Millisecond
	for try := 1; ; try++ {
		_, err := p.Up(ctx)
		if err == nil || try == tries || !ranInto(err) {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(pause):
		}
	}
}

// ranInto tells whether an error is that another copy was migrating.
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
	return s.inTx(ctx, func(tx *sql.Tx) error {
		var n int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM revision`).Scan(&n); err != nil || n > 0 {
			return err
		}
		raw, err := data.Files.ReadFile("limits/limits.csv")
		if err != nil {
			return err
		}
		_, records, err := limit.ReadCSV(raw)
		if err != nil {
			return err
		}
		raw, err = data.Files.ReadFile("limits/authorities.csv")
		if err != nil {
			return err
		}
		authorities, err := limit.ReadAuthorities(raw)
		if err != nil {
			return err
		}
		return s.write(ctx, tx, "wayhouse", "shipped rows", records, authorities)
	})
}

// write stores rows and authorities as one new revision.
func (s *Store) write(ctx context.Context, tx *sql.Tx, who, why string, records []limit.Record, authorities []limit.Authority) error {
	var number int
	if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(number), 0) + 1 FROM revision`).Scan(&number); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, `INSERT INTO revision (number, made_at, who, why) VALUES ($1, $2, $3, $4)`,
		number, s.clock().UTC().Format(time.RFC3339), who, why); err != nil {
		return err
	}
	insert, err := tx.PrepareContext(ctx, insertRow())
	if err != nil {
		return err
	}
	defer insert.Close()
	for _, r := range records {
		args := make([]any, 0, len(r)+1)
		for _, cell := range r {
			args = append(args, cell)
		}
		if _, err := insert.ExecContext(ctx, append(args, number)...); err != nil {
			return fmt.Errorf("row %s: %w", r[0], err)
		}
	}
	for _, a := range authorities {
		if _, err := tx.ExecContext(ctx, `INSERT INTO authority (jurisdiction, name, contact, source, revision) VALUES ($1, $2, $3, $4, $5)`,
			a.Jurisdiction, a.Name, a.Contact, a.Source, number); err != nil {
			return fmt.Errorf("authority %s: %w", a.Jurisdiction, err)
		}
	}
	return nil
}

// rowColumns are the columns of a record, quoted: some are SQL words.
func rowColumns() string { return `"` + strings.Join(limit.Columns(), `", "`) + `"` }

func insertRow() string {
	var places []string
	for i := range len(limit.Columns()) + 1 {
		places = append(places, fmt.Sprintf("$%d", i+1))
	}
	return `INSERT INTO limit_row (` + rowColumns() + `, revision) VALUES (` + strings.Join(places, ", ") + `)`
}

// Snapshot reads the newest state of the tables.
func (s *Store) Snapshot(ctx context.Context) (*regs.Tables, error) {
	var t *regs.Tables
	err := s.inTx(ctx, func(tx *sql.Tx) error {
		var number int
		if err := tx.QueryRowContext(ctx, `SELECT coalesce(max(number), 0) FROM revision`).Scan(&number); err != nil {
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

// inTx runs f in a transaction and commits when it returns nil.
func (s *Store) inTx(ctx context.Context, f func(*sql.Tx) error) error {
	tx, err := s.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := f(tx); err != nil {
		return err
	}
	return tx.Commit()
}
