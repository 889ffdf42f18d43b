package store

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgconn"
)

// A full disk, a lock that somebody keeps, and a server that is gone are no fault of
// a request: they have names of their own. Codes are those of PostgreSQL 17,
// appendix A, and of sqlite.org/rescode.html.
func TestTroublesOfADatabaseAreTold(t *testing.T) {
	for name, tc := range map[string]struct {
		err  error
		want Trouble
	}{
		"disk_full":           {&pgconn.PgError{Code: "53100"}, Full},
		"too_many":            {&pgconn.PgError{Code: "53300"}, Busy},
		"lock_not_available":  {&pgconn.PgError{Code: "55P03"}, Busy},
		"deadlock_detected":   {&pgconn.PgError{Code: "40P01"}, Busy},
		"query_canceled":      {&pgconn.PgError{Code: "57014"}, Slow},
		"admin_shutdown":      {&pgconn.PgError{Code: "57P01"}, Away},
		"cannot_connect_now":  {&pgconn.PgError{Code: "57P03"}, Away},
		"read_only":           {&pgconn.PgError{Code: "25006"}, Away},
		"connection_failure":  {&pgconn.PgError{Code: "08006"}, Away},
		"bad connection":      {driver.ErrBadConn, Away},
		"cut off":             {io.ErrUnexpectedEOF, Away},
		"its limit":           {context.DeadlineExceeded, Slow},
		"a violation":         {&pgconn.PgError{Code: "23505"}, ""},
		"a code of one digit": {&pgconn.PgError{Code: "5"}, ""},
		"a conflict":          {&ConflictError{}, ""},
	} {
		err := troubled(t.Context(), fmt.Errorf("wrapped: %w", tc.err))
		var got *TroubleError
		if errors.As(err, &got); tc.want == "" && got != nil || tc.want != "" && (got == nil || got.Trouble != tc.want || got.Again() <= 0) {
			t.Errorf("%s: %v, want %q", name, err, tc.want)
		}
		if !errors.Is(err, tc.err) {
			t.Errorf("%s: the cause is lost", name)
		}
	}
	gone, cancel := context.WithCancel(t.Context())
	cancel()
	if err := troubled(gone, context.Canceled); !errors.Is(err, context.Canceled) || trouble(err) != "" {
		t.Errorf("who asked is gone: %v", err)
	}
}

func trouble(err error) Trouble {
	var e *TroubleError
	if errors.As(err, &e) {
		return e.Trouble
	}
	return ""
}

// limited is a store in a file whose one connection takes a setting.
func limited(t *testing.T, pragma string) (*Store, string) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tables.db")
	s := inFile(t, path)
	s.db.SetMaxOpenConns(1)
	execute(t, s, "PRAGMA "+pragma)
	return s, path
}

func TestFullFile(t *testing.T) {
	s, _ := limited(t, "max_page_count = 1") // that is: no more than there are
	before := snapshot(t, s).Revision
	_, err := s.Import(t.Context(), clearances(manyClearancesCSV(manyRows, "")), ignore)
	if trouble(err) != Full {
		t.Errorf("an import: %v", err)
	}
	execute(t, s, "PRAGMA max_page_count = 1000000")
	if err := s.sweep(t.Context()); err != nil || snapshot(t, s).Revision != before {
		t.Errorf("afterwards: %v", err)
	}
	made(t, s, edit(t, 1, "ca-on-height-01", map[string]string{"note": "there is room again"}))
}

func TestFileThatAnotherKeeps(t *testing.T) {
	s, path := limited(t, "busy_timeout = 50")
	other := inFile(t, path)
	hold, err := other.db.BeginTx(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	change := []Edit{edit(t, 1, "ca-on-height-01", map[string]string{"note": "later"})}
	if _, err := s.Change(t.Context(), "a user", "a letter came", change); trouble(err) != Busy {
		t.Errorf("%v", err)
	}
	if err := hold.Rollback(); err != nil {
		t.Fatal(err)
	}
	made(t, s, change...)
}

// Requests beyond the connections that there are wait for one; who waits too long
// is told that the tables are busy.
func TestRequestsWaitForAConnection(t *testing.T) {
	s := memory(t)
	s.waits = 100 * time.Millisecond
	s.db.SetMaxOpenConns(1)
	held, err := s.db.Conn(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.History(t.Context()); trouble(err) != Busy {
		t.Errorf("while another has it: %v", err)
	}
	s.waits = time.Minute
	time.AfterFunc(50*time.Millisecond, func() { held.Close() })
	if h, err := s.History(t.Context()); err != nil || len(h) != 1 {
		t.Errorf("who waited: %v, %v", h, err)
	}
}
